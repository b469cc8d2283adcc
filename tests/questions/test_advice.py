"""Buy, close or not yet: each by a small case whose figures are worked by hand."""

import pytest

from scoring import evaluate
from scoring.questions.advice import advice
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN

SOLD = "    basis: sold\n"
SPREAD = "[-0.3, 0, 0.3]"


def told(*machines, work=None, **more):
    """Return the Advice of a small brief of sold work."""
    asked = brief(work or job(more=SOLD), more=PLAIN + NOW, **more)
    return advice(evaluate(asked, machines or [machine()]))


def test_what_pays_and_holds_is_bought():
    """24 000 a year for 10 000 to pay, 20 000 in cash: nothing speaks against it."""
    found = told(cash=20_000)
    assert (found.kind, found.k, found.rivals) == ("buy", 0, ())


def test_cash_that_fails_in_many_draws_is_not_yet():
    """10 000 ± 30 % with 10 500 in cash: dearer than that in some four of ten draws."""
    found = told(cash=10_500, closed=SPREAD)
    assert (found.kind, found.why) == ("not_yet", "cash")
    # Beta-PERT over 7 000..13 000, even: above its middle in half, above 10 500 in less
    assert 0.2 < found.share < 0.5


def test_a_leader_that_loses_money_is_not_yet():
    """Half a job a month at 500 leaves 3 000 a year: 15 000 in five, for 20 000."""
    work = job(per_month=0.5, more=SOLD)
    found = told(machine(price=20_000), work=work, cash=40_000)
    assert (found.kind, found.why) == ("not_yet", "loses")
    # 20 000 in 5 years at 500 a job are 40 jobs, 8 a year, 0.67 a month
    assert found.jobs_needed == pytest.approx(2 / 3, rel=0.03)


def test_work_that_is_only_guessed_is_not_yet():
    """The same figures, and nobody has asked for the work."""
    found = told(work=job(more="    basis: guess\n"), cash=20_000)
    assert (found.kind, found.why, found.share) == ("not_yet", "guessed", 1.0)


def test_two_alike_are_close():
    """Two machines with the same sheet: either is fine."""
    found = told(machine(name="Alder"), machine(name="Birch"), cash=20_000)
    assert (found.kind, len(found.rivals)) == ("close", 1)


def test_nothing_left_is_not_yet():
    """Too heavy for one person: there is nobody to lead."""
    found = told(machine(lift=60), cash=20_000)
    assert (found.kind, found.k, found.why) == ("not_yet", None, "nothing_left")
