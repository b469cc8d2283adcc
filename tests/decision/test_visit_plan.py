"""The plan for a visit: against every bundle of five tests, and by hand."""

from itertools import chain, combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.decision import visit_plan as plans
from scoring.decision.visit_plan import visit_plan
from scoring.errors import ScoringError


def joint(variances, scale=1_000.0):
    """Return the worth of learning a sum of independent parts before a yes or a no.

    Two actions, a tie before: worth of knowing is s·φ(0), s² what the tests explain
    (Raiffa & Schlaifer 1961, unit normal loss integral at 0 = 0.3989).
    """

    def worth(tests):
        explained = sum(variances[n] for n in tests)
        return scale * np.sqrt(explained) / np.sqrt(2 * np.pi)

    return worth


def brute_force(worth, minutes, costs, available):
    """Return what the best bundle of all that fit leaves."""
    n = len(minutes)
    bundles = chain.from_iterable(combinations(range(n), k) for k in range(n + 1))
    return max(
        (worth(frozenset(tests)) if tests else 0.0) - sum(costs[t] for t in tests)
        for tests in bundles
        if sum(minutes[t] for t in tests) <= available
    )


FIVE = (
    st.lists(st.floats(0.01, 1), min_size=5, max_size=5),
    st.lists(st.integers(5, 40), min_size=5, max_size=5),
    st.lists(st.floats(0, 150), min_size=5, max_size=5),
    st.integers(20, 120),
)


@settings(max_examples=60, deadline=None)
@given(*FIVE)
def test_the_best_of_every_bundle(variances, minutes, costs, available):
    """Of five tests the plan is as good as the best bundle of all."""
    worth = joint(variances)
    plan = visit_plan(worth, minutes, costs, available)
    best = brute_force(worth, minutes, costs, available)
    assert plan.worth - plan.cost == pytest.approx(best, abs=1e-6)
    assert sum(minutes[n] for n in plan.tests) <= available


@settings(max_examples=60, deadline=None)
@given(*FIVE)
def test_near_the_best_where_tests_are_many(variances, minutes, costs, available):
    """Step by step, as with many tests, half of the best is kept at least.

    Greedy alone promises 1 − 1/e of the best where costs are none and all are as long;
    what does not fit any more, and costs, take the rest.
    """
    worth = joint(variances)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(plans, "MOST_TRIED", 4)
        plan = visit_plan(worth, minutes, costs, available)
    best = brute_force(worth, minutes, costs, available)
    assert 0.5 * best - 1e-9 <= plan.worth - plan.cost <= best + 1e-9


def test_with_time_enough_the_plan_is_the_best():
    """Where all fits and worths add up, each test that pays is run, the best first."""
    own = np.array([300.0, 40.0, 120.0, 90.0, 10.0])
    minutes, costs = [10, 10, 8, 3, 1], [0.0, 50.0, 20.0, 0.0, 0.0]
    plan = visit_plan(lambda tests: own[list(tests)].sum(), minutes, costs, 60)
    # worth a minute: 30, −1, 12.5, 30, 10; the first and the fourth tie, pairs as well
    assert set(plan.tests) == {0, 2, 3, 4}
    assert set(plan.tests[:2]) == {0, 3} and plan.tests[2:] == (2, 4)
    assert plan.steps[-1].minutes == 22 and plan.left == 0


def test_two_that_only_tell_together_are_found():
    """Neither test is worth anything alone, both are: a look ahead of one sees it."""
    plan = visit_plan(lambda t: 500.0 * (len(t) == 2), [10, 20], [5.0, 5.0], 40)
    assert set(plan.tests) == {0, 1}
    assert (plan.worth, plan.cost) == (500, 10)


def test_nothing_that_costs_more_than_it_tells():
    """Tests worth less than they cost are left, and so is a visit without time."""
    assert visit_plan(lambda t: 3.0 * len(t), [5, 5], [4.0, 4.0], 60).steps == ()
    assert visit_plan(lambda t: 900.0, [5, 5], [0.0, 0.0], 4).steps == ()


def test_what_is_done_is_not_done_again():
    """A test whose result is known is not in the plan."""
    plan = visit_plan(lambda t: 10.0 * len(t), [5, 5], [0.0, 0.0], 60, done=[0])
    assert plan.tests == (1,)


@pytest.mark.parametrize("minutes", ([0, 1], [np.nan, 1], [1]))
def test_minutes_that_are_none_are_said(minutes):
    """A test without minutes is refused."""
    with pytest.raises(ScoringError):
        visit_plan(lambda t: 1.0, minutes, [0.0, 0.0], 10)
