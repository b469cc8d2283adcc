"""Stoppages, ink and wear in the other ways: by hand."""

import pytest

from scoring import evaluate
from scoring.questions.other_ways import other_ways
from tests.cases import brief, job, machine

STOPS = (
    "reliability: {jobs_between_stoppages: 100, days_down: 0 day}",
    "reliability: {jobs_between_stoppages: 10, days_down: 3 day}",
)
INK = ("colour: 0 ml/m², price: 0 EUR/l", "colour: 10 ml/m², price: 100 EUR/l")


def rented(*edits, includes="[]"):
    also = f"also: {{rent: {{per_day: 150 EUR, includes: {includes}}}}}\n"
    found = evaluate(brief(job(per_month=3), more=also), [machine(*edits)])
    (way,) = other_ways(found)
    return way


def test_days_that_a_stoppage_takes_are_not_rented():
    """A job of 500 in a day at 150: 350, though 0.3 days a job stand still."""
    assert rented(STOPS).left_per_job == pytest.approx(350)


@pytest.mark.parametrize(("includes", "left"), [("[]", 342), ("[ink]", 350)])
def test_what_rent_includes_is_not_paid_again(includes, left):
    """8 m² use 80 ml at 100 EUR/l: 8 EUR a job, paid by whoever lets the machine."""
    assert rented(INK, includes=includes).left_per_job == pytest.approx(left)


def test_a_used_machine_stops_as_often_as_is_told():
    """Twice the stoppages cost twice the time, where days run short.

    240 days a year, half of them bookable, are 10 a month; a job takes one and what
    stoppages take of it, x: 10/(1 + x) jobs, and 10/(1 + 2 x) with the used one.
    """
    used = "{machine: Alder, price: 4000 EUR, age: 2, stoppages: 2}"
    case = brief(job(per_month=20), more=f"also: {{used: [{used}]}}\n")
    found = evaluate(case, [machine(STOPS)])
    (way,) = other_ways(found)
    new = 10 / float(found.outcome.year.served_per_month[0, 0].sum()) - 1
    assert new > 0.02
    assert 10 / way.jobs - 1 == pytest.approx(2 * new, rel=1e-6)
