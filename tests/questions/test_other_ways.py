"""Hire, rent, wait and steps: by hand, and one value on every screen."""

import pytest

from scoring import evaluate
from scoring.decision.waiting import BUY
from scoring.questions.other_ways import gamma_of, other_ways, steps
from scoring.text.other_ways import steps_text
from scoring.text.ranking import ranking_text
from tests import cases
from tests.cases import brief, job, machine

ALSO = (
    "also: {{hire: {{per_job: {hire} EUR}}, rent: {{per_day: {rent} EUR}}, "
    "wait: {{months: {months}, cheaper: 0 %}}}}\n"
)


def answered(hire=300, rent=150, months=3, per_month="3..3", more="", **figures):
    also = ALSO.format(hire=hire, rent=rent, months=months)
    work = job(per_month=per_month)
    return evaluate(brief(work, more=also + more), [machine(**figures)])


def test_ways_by_hand():
    """A job of 500 in a day: hired for 300 it leaves 200, rented at 150 350."""
    hire, rent = other_ways(answered())
    assert (hire.left_per_job, hire.jobs) == pytest.approx((200, 3))
    assert hire.year_result == pytest.approx(12 * 3 * 200)
    assert rent.left_per_job == pytest.approx(350)
    assert rent.npv == pytest.approx(60 * 3 * 350)  # 0 % over five years


def test_a_way_that_loses_is_said():
    """A day's rent above what a job leaves is told as a loss, and does no jobs."""
    found = answered(rent=900)
    _, rent = other_ways(found)
    assert (rent.jobs, rent.year_result) == (0, 0)
    assert "a job loses 400 EUR; no" in " ".join(ranking_text(found).split())


def test_no_ways_are_made_up():
    """A brief that tells no other way gets none, and no line of them."""
    found = evaluate(brief(), [machine()])
    assert other_ways(found) == ()
    assert "Besides buying" not in ranking_text(found)


def test_moments_by_hand():
    """Draws 1 and 3: mean 2, variance 1, so Gamma(4, 2)."""
    assert gamma_of([1, 3]) == (4, 2)


def test_buying_now_is_worth_what_every_screen_says():
    """The steps' worth of buying now is the present value of the months."""
    for evaluation in (answered(), cases.demo("new-entrant")):
        found = steps(evaluation)
        npv = evaluation.expected.npv[0, found.k]
        assert found.plan.buy_now == pytest.approx(npv, rel=1e-9)


def test_sure_demand_buys_at_once():
    """Work that is known and pays, beside a rent that loses: buy, do not wait."""
    found = steps(answered(hire=600, rent=900))
    assert found.plan.first == BUY
    assert found.plan.worth_of_waiting == pytest.approx(0, abs=1)


def test_unsure_demand_learns_first():
    """A dear machine and doubtful work: rent first, then by the jobs that came."""
    found = steps(
        answered(hire=600, rent=460, per_month="0..2..14", price=90_000, months=4)
    )
    assert found.plan.first == "rent by the day"
    assert found.plan.worth_of_waiting > 0
    text = " ".join(steps_text(found).split())
    assert "Rent by the day first, then see about Alder." in text
    assert "or more came." in text
