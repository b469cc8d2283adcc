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


def brute_force(worth, minutes, costs, available, most=5):
    """Return what the best bundle leaves of all, up to `most` tests, that fit."""
    n = len(minutes)
    bundles = chain.from_iterable(combinations(range(n), k) for k in range(most + 1))
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


def step_by_step(*of_visit):
    """Return the plan that is grown, as where tests are many."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(plans, "MOST_TRIED", 4)
        return visit_plan(*of_visit)


@settings(max_examples=200, deadline=None)
@given(*FIVE[:2], FIVE[3])
def test_half_of_the_best_where_tests_are_many(variances, minutes, available):
    """Step by step, as with many tests that cost nothing, half of the best is kept.

    Yaroslavtsev, Zhou & Avdiukhin (2020), “Bring your own greedy”+max, Theorem 1: at
    least 1/2 of the best for a worth that grows less and less, under a budget. From
    memory.
    """
    worth = joint(variances)
    plan = step_by_step(worth, minutes, [0.0] * 5, available)
    best = brute_force(worth, minutes, [0.0] * 5, available)
    assert 0.5 * best - 1e-9 <= plan.worth <= best + 1e-9


@settings(max_examples=200, deadline=None)
@given(*FIVE)
def test_no_two_tests_leave_more_than_many(variances, minutes, costs, available):
    """Step by step the plan leaves no less than the best one or two, and fits."""
    worth = joint(variances)
    plan = step_by_step(worth, minutes, costs, available)
    best = brute_force(worth, minutes, costs, available)
    of_two = brute_force(worth, minutes, costs, available, most=2)
    assert of_two - 1e-6 <= plan.worth - plan.cost <= best + 1e-6
    assert sum(minutes[n] for n in plan.tests) <= available


def test_a_long_test_worth_most_is_not_crowded_out():
    """Short tests tell more a minute; the long one that no longer fits tells more.

    Worth by hand: 1,000 · √variance · φ(0); short ones √0.406 = 0.637, the long 1.
    """
    variances, costs = [0.25, 1.0, 0.09375, 0.25, 0.0625], [35.0, 0, 0, 0, 20.0]
    plan = step_by_step(joint(variances), [5, 16, 5, 12, 5], costs, 20)
    assert plan.tests == (1,)
    assert plan.worth - plan.cost == pytest.approx(398.94, abs=0.005)


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


@pytest.mark.parametrize("n", [3, 12])
def test_what_tells_most_a_minute_comes_first(n):
    """60 min for 100 or for 90, 10 min for 80: 1.7, 1.5 and 8 a minute; all fit.

    Of twelve the order is found without trying every bundle: the same.
    """
    worths, minutes = [100.0, 90.0, 80.0, *[1.0] * 9], [60, 60, 10, *[30] * 9]

    def worth(tests):
        return sum(worths[k] for k in tests)

    steps = visit_plan(worth, minutes[:n], [0.0] * n, 600).steps
    assert [step.test for step in steps[:3]] == [2, 0, 1]
    assert [step.minutes for step in steps[:3]] == [10, 70, 130]
