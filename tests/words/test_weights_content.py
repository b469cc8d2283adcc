"""What weights say in money: worked by hand on scales that are written out."""

import numpy as np
import pytest

from scoring.answer.ranking import reweigh
from scoring.decision.weights import exchange_rates
from scoring.model.money.finance import annuity_payment
from scoring.questions.weights_in_money import price_of_price, weights_in_money
from scoring.words.weights import NO_MONEY, weight_warnings, weights_explained
from tests import cases


def by_id(evaluation):
    return {
        evaluation.criteria[one.criterion].id: one
        for one in weights_in_money(evaluation)
    }


def test_a_unit_of_each_in_units_of_another():
    """Half the weight on 0–10 000, a quarter on 30–5 kg: a kg is worth 200 of it."""
    rates = exchange_rates([0.5, 0.25, 0.25], [[0, 10_000], [30, 5], [3, 3]], of=0)
    assert rates[:2].tolist() == [1.0, 200.0]
    assert np.isnan(rates[2])  # a scale without any span tells nothing
    assert np.isnan(exchange_rates([0.0, 1.0], [[0, 1], [0, 1]], of=0)).all()


def test_swapping_a_step_for_its_money_leaves_the_score():
    """A kg less and so much less money a year: the weighted sum stays as it was."""
    demo = cases.demo("workshop")
    one = by_id(demo)["heaviest_lift"]
    ids = [criterion.id for criterion in demo.criteria]
    money = ids.index("year_result")
    span = demo.scale[:, 1] - demo.scale[:, 0]
    of_lift = demo.weights[one.criterion] * -one.step / span[one.criterion]
    of_money = demo.weights[money] * -one.worth / span[money]
    assert of_lift + of_money == pytest.approx(0.0, abs=1e-12)
    assert f"1 kg less of heaviest lift is worth {round(one.worth)}" in " ".join(
        weights_explained(demo)
    )


def test_a_price_of_price_in_line_with_finance_is_not_spoken_of():
    """With the weight at which 1 of price is worth its own annuity, no warning."""
    demo = cases.demo("workshop")
    ids = [criterion.id for criterion in demo.criteria]
    price, money = ids.index("upfront"), ids.index("year_result")
    span = abs(demo.scale[:, 1] - demo.scale[:, 0])
    rate = demo.figures.buyer.discount_rate.item()
    annuity = annuity_payment(1.0, rate, demo.brief.money.horizon)
    fair = demo.weights[money] / span[money] * annuity * span[price]
    for times, is_said in ((1.0, False), (1.9, False), (2.1, True), (0.4, True)):
        weighed = reweigh(demo, {"upfront": times * fair})
        found = price_of_price(weighed)
        assert found.weighed / found.by_finance == pytest.approx(times)
        said = [text for text in weight_warnings(weighed) if "pay it back" in text]
        assert bool(said) == is_said
        if said:
            assert ("more than" if times > 1 else "less than") in said[0]


def test_one_step_that_outweighs_the_best_year_is_said():
    """Nearly all weight on smell: a step of it is worth more than the best year."""
    demo = cases.demo("new-entrant")
    best = demo.raw[demo.is_ranked, [c.id for c in demo.criteria].index("year_result")]
    for weight in (0.001, 5.0):
        weighed = reweigh(demo, {"odour": weight})
        one = by_id(weighed)["odour"]
        assert one.is_too_much == (one.worth > best.max())
        said = " ".join(weight_warnings(weighed))
        assert ("Check the weight of smell" in said) == one.is_too_much
    assert one.is_too_much


def test_without_money_among_the_weights_nothing_can_be_said():
    """Where money a year weighs nothing there is one sentence and no warning."""
    weighed = reweigh(cases.demo("workshop"), {"year_result": 0})
    assert weights_explained(weighed) == [NO_MONEY]
    assert weight_warnings(weighed) == []
