"""Records of money hold what a hand works out, each figure under its own name."""

import pytest

from scoring import evaluate
from scoring.questions.from_jobs import jobs_needed
from scoring.questions.years import chances, years
from scoring.records.money import years_records
from scoring.records.ranking import ranking_record
from tests.cases import brief, machine
from tests.questions.test_years import asked


def test_the_low_point_is_not_what_cash_lacks():
    """10 000 to pay with 6 000 in cash: 10 000 below at signing, 4 000 lacking."""
    evaluation = evaluate(asked(cash=6000), [machine()])
    simulated = chances(evaluation, 100)
    found = years_records(years(evaluation), simulated, jobs_needed(evaluation))[
        "Alder"
    ]
    assert (found.low_point, found.low_month) == (pytest.approx(-10000), 0)
    assert found.funds_gap == pytest.approx(4000)


def test_a_contribution_is_weight_times_score():
    """Two things weigh 3 and 1: of a lift score of 0.5, 0.375 is added."""
    weighed = (
        "weights: {heaviest_lift: 3, upfront: 1}\nscale: {heaviest_lift: [40, 0]}\n"
    )
    both = [machine(name="Alder", lift=20), machine(name="Birch", lift=26)]
    first, second = ranking_record(evaluate(brief(more=weighed), both)).machines
    assert (first.name, first.status) == ("Alder", "ranked")
    lift = first.criteria["heaviest_lift"]
    assert (lift.value, lift.unit) == (pytest.approx(20), "kg")
    assert (lift.score, lift.weight) == pytest.approx((0.5, 0.75))
    assert lift.contribution == pytest.approx(0.375)
    # One person lifts 25 kg in this brief: 26 kg are out, and have no score.
    assert (second.name, second.status) == ("Birch", "ruled_out")
    assert second.criteria["heaviest_lift"].score is None
