"""What counts in the advice is money: of rivals, and of work that nobody asked for."""

import pytest

from scoring import evaluate
from scoring.questions.advice import advice
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN

BY_LIFT = "weights: {heaviest_lift: 1}\n"


def told(*machines, jobs=(), more="", **figures):
    """Return the Advice of a small brief."""
    asked = brief(*jobs, more=PLAIN + NOW + more, **figures)
    return advice(evaluate(asked, machines or [machine()]))


@pytest.mark.parametrize(("price", "rivals"), [(10_000, 1), (190_000, 0)])
def test_a_rival_that_loses_money_does_not_make_it_close(price, rivals):
    """0.1 kg apart, lift alone weighs; 24 000 a year earn 10 000 back, not 190 000."""
    sold = job(more="    basis: sold\n")
    both = machine(lift=10), machine(name="Birch", lift=10.1, price=price)
    found = told(*both, jobs=[sold], more=BY_LIFT, cash=400_000)
    assert (found.k, len(found.rivals)) == (0, rivals)
    assert found.kind == ("close" if rivals else "buy")


def test_guessed_work_counts_by_what_it_pays():
    """Two kinds of three are guessed, a fifth of the money: 1 of 5 jobs at 500."""
    sold = job(name="hall", per_month=4, more="    basis: sold\n")
    few = [job(name=name, per_month=0.5) for name in ("attic", "porch")]
    found = told(jobs=[sold, *few], cash=20_000)
    assert (found.kind, found.why) == ("buy", "")
    many = [job(name=name, per_month=0.5, price=9_000) for name in ("attic", "porch")]
    found = told(jobs=[sold, *many], cash=20_000)
    # 2 · 0.5 · 9 000 of 2 000 + 9 000
    assert (found.why, found.share) == ("guessed", pytest.approx(9 / 11, rel=1e-3))
