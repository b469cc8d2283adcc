"""The answer in a few words, from small machines whose figures a hand can follow."""

import pytest

from scoring import evaluate
from scoring.questions.years import gone_wrong, years
from scoring.words.can_do import CANNOT, DOES, DOUBTFUL, NOT_TAKEN, can_do
from scoring.words.short_answer import short_answer
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN

SOLD = "    basis: sold\n"
BY_LIFT = "weights: {heaviest_lift: 1}\n"


def asked(*machines, more="", jobs=(), **figures):
    case = brief(*(jobs or [job(more=SOLD)]), more=PLAIN + NOW + more, **figures)
    return evaluate(case, machines)


def test_the_month_at_half_the_work_stands_behind_the_month():
    """10 000 to pay, 4 jobs of 500 a month: month 5; with half of them month 10."""
    evaluation = asked(machine())
    half = gone_wrong(years(evaluation), "half_work")
    said = short_answer(evaluation, half, 1.5)
    assert said.back == "back in month 5 (in month 10 at half the work)"
    assert said.needs == "takes 1.5 jobs a month; you have 4"
    assert said.put_in == "put in up to 10\u202f000 EUR"


def test_how_often_first_is_the_leaders_own_share():
    """10 kg against 20, each up to 30 % more or less: no draw turns that."""
    light, heavy = machine(lift=10), machine(name="Birch", lift=20)
    evaluation = asked(light, heavy, more=BY_LIFT, closed="[-0.3, 0, 0.3]", cash=30_000)
    # 10 kg reach 13 at most, 20 kg fall to 14 at least: Alder is first in every draw
    assert short_answer(evaluation).often == "first in 100 of 100 draws"


def test_each_kind_of_job_is_told_as_it_is():
    """Done in a day; done unless the print height is lower; too high; too dear.

    A print height of 2..3..3.4 m: a wall of 1.8 is done, one of 2.7 in doubt, one of 4
    cannot be. 30 km of a trip at 20 EUR leave nothing of a job of 10.
    """
    height = ("max_print_height: 100 m", "max_print_height: 2..3..3.4 m")
    far = SOLD + "    distance: 30 km\n"
    jobs = [
        job(name="hall", height=1.8, more=SOLD),
        job(name="stairs", height=2.7, more=SOLD),
        job(name="tower", height=4, more=SOLD),
        job(name="shed", height=1.8, price=10, more=far),
    ]
    dear = [("cost_per_km: 0 EUR/km", "cost_per_km: 20 EUR/km")]
    evaluation = asked(machine(height), jobs=jobs, edits=dear, cash=30_000)
    cells = can_do(evaluation, 0)
    assert [cell.kind for cell in cells] == [DOES, DOUBTFUL, CANNOT, NOT_TAKEN]
    assert cells[0].said == "1 day" and cells[0].why == ""
    assert cells[1].said == "1 day?" and "reach high enough" in cells[1].why
    assert cells[3].said == "not taken" and cells[3].why


@pytest.mark.parametrize(("lift", "often"), [(10, True), (None, False)])
def test_a_machine_alone_is_first_of_nothing(lift, often):
    """How often it is first is said of two machines or more."""
    more = [] if lift is None else [machine(name="Birch", lift=lift)]
    evaluation = asked(machine(lift=9), *more, more=BY_LIFT, cash=30_000)
    assert bool(short_answer(evaluation).often) is often
