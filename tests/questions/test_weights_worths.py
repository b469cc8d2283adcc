"""Weights from what a step is worth in money, by hand."""

import pytest

from scoring.answer.ranking import reweigh
from scoring.errors import ScoringError
from scoring.questions.weights_in_money import (
    weights_in_money,
    weights_of_order,
    weights_of_worths,
)
from tests.page.pages import half_of


def test_a_worth_times_its_span_is_its_swing():
    """Weights stand as the swings' worths: 40 a year × 25 kg, 1 × the year's span."""
    model = half_of()
    ids = [criterion.id for criterion in model.criteria]
    spans = dict(zip(ids, abs(model.scale[:, 1] - model.scale[:, 0]), strict=True))
    found = weights_of_worths(model, {"heaviest_lift": 40.0, "upfront": 300.0})
    assert sum(found.values()) == pytest.approx(1)
    year, lift = found["year_result"], found["heaviest_lift"]
    assert lift / year == pytest.approx(
        40 * spans["heaviest_lift"] / spans["year_result"]
    )
    # a step of the price is 1 000, so that one of currency is worth 0.3 a year
    assert found["upfront"] / year == pytest.approx(
        0.3 * spans["upfront"] / spans["year_result"]
    )
    assert found["odour"] == 0


def test_told_back_they_are_what_was_told():
    """What the weights then say of a step is what was typed."""
    model = half_of()
    told = {"heaviest_lift": 40.0, "odour": 700.0, "ready_time": 55.0}
    again = reweigh(model, weights_of_worths(model, told))
    said = {again.criteria[w.criterion].id: w.worth for w in weights_in_money(again)}
    assert said == pytest.approx(told)


def test_an_order_is_the_rank_order_centroid():
    """Four in order weigh as Barron & Barrett (1996) print: 52, 27, 15 and 6 %."""
    picked = ["odour", "upfront", "support", "year_result"]
    found = weights_of_order(half_of(), picked)
    printed = [0.5208, 0.2708, 0.1458, 0.0625]
    assert [found[name] for name in picked] == pytest.approx(printed, abs=5e-5)
    assert sum(found.values()) == pytest.approx(1)


def test_a_worth_below_0_is_refused():
    """Nobody pays for less of what is good: a sentence, no weights."""
    with pytest.raises(ScoringError, match="0 or more"):
        weights_of_worths(half_of(), {"odour": -1.0})
