"""Which tests to run on a visit, in which order, and when to stop.

What a bundle of tests is worth comes from outside, as tests tell partly the same and
partly only together: a worth of each alone does not add up.
"""

from itertools import combinations
from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

MOST_TESTS = 60
MOST_TRIED = 16  # tests of which every bundle is tried


class VisitStep(NamedTuple):
    """One test of a plan, in its place."""

    test: int
    minutes: float  # of the visit when it ends
    adds: float  # net worth that it and the step it prepares add, by the plan so far


class VisitPlan(NamedTuple):
    """The tests to run, in order; worth and cost in currency, of one visit."""

    steps: tuple[VisitStep, ...]
    worth: float  # of all steps together
    cost: float  # of all steps, the visit's own cost not in it
    left: float  # most that one or two more that fit would add, net; 0 where none pays

    @property
    def tests(self):
        return tuple(step.test for step in self.steps)


def visit_plan(worth, minutes, costs, available, done=()):
    """Return the VisitPlan: worth per minute first, with a look ahead of one.

    Each step takes the test, or the first of the pair of tests, that adds most per
    minute to what is done already; a pair counts where its tests are worth something
    together alone. It stops where nothing that fits adds more than it costs.

    Parameters
    ----------
    worth : function of a frozenset of tests → currency; of none of them 0
        Present worth of knowing their results together.
    minutes : shape (test,); above 0
    costs : shape (test,); currency, 0 or more
    available : minutes of the visit, 0 or more
    done : tests whose results are known already; `worth` is reckoned beyond them

    Raises
    ------
    ScoringError
        If a figure is out of its range.

    Source
    ------
    Greedy choice by worth per unit of a budget: Sviridenko (2004), Operations Research
    Letters 32, 41–43, who also looks ahead. From memory.
    """
    minutes, costs = _checked(minutes, costs, available)
    left_over = [n for n in range(len(minutes)) if n not in set(done)]
    known = _Remembered(worth)
    chosen, steps, spent = frozenset(), [], 0.0
    while True:
        best, adds = _best(known, chosen, left_over, minutes, costs, available - spent)
        if best is None:
            break
        first = best[0]
        spent += float(minutes[first])
        chosen |= {first}
        left_over.remove(first)
        steps.append(VisitStep(first, spent, adds))
    steps = _without_tail(known, steps, costs)
    chosen = frozenset(step.test for step in steps)
    cost = float(costs[list(chosen)].sum())
    return VisitPlan(tuple(steps), known(chosen), cost, max(adds, 0.0))


def _best(known, chosen, left_over, minutes, costs, room):
    """Return (tests, net worth added) of the one or two that add most a minute."""
    now = known(chosen)
    best, best_rate, best_adds = None, 0.0, 0.0
    for test in left_over:
        for more in (None, *(n for n in left_over if n != test)):
            tests = (test,) if more is None else (test, more)
            took = float(minutes[list(tests)].sum())
            if took > room + 1e-9:
                continue
            adds = known(chosen | set(tests)) - now - float(costs[list(tests)].sum())
            if adds / took > best_rate + 1e-12:
                best, best_rate, best_adds = tests, adds / took, adds
    return _first_first(known, chosen, best, minutes, costs), best_adds


def _first_first(known, chosen, tests, minutes, costs):
    """Return the pair with the test first that adds more per minute alone."""
    if tests is None or len(tests) == 1:
        return tests
    now = known(chosen)
    rates = [(known(chosen | {n}) - now - costs[n]) / minutes[n] for n in tests]
    return tests if rates[0] >= rates[1] else tests[::-1]


def _without_tail(known, steps, costs):
    """Return the steps without last ones that cost more than they add in the end."""
    while steps:
        before = frozenset(step.test for step in steps[:-1])
        last = steps[-1].test
        if known(before | {last}) - known(before) > costs[last]:
            break
        steps = steps[:-1]
    return steps


def best_of_all(worth, minutes, costs, available):
    """Return (tests, net worth) of the best bundle that fits, by trying every one.

    For a few tests: what `visit_plan` is measured by.
    """
    minutes, costs = _checked(minutes, costs, available)
    if len(minutes) > MOST_TRIED:
        raise ScoringError(f"{len(minutes)} tests; {MOST_TRIED} or fewer are tried")
    best = ((), 0.0)
    for n in range(1, len(minutes) + 1):
        for tests in combinations(range(len(minutes)), n):
            if minutes[list(tests)].sum() <= available + 1e-9:
                net = worth(frozenset(tests)) - float(costs[list(tests)].sum())
                best = max(best, (tests, net), key=lambda found: found[1])
    return best


class _Remembered:
    """A worth that is asked for once a bundle."""

    def __init__(self, worth):
        self.worth, self.known = worth, {frozenset(): 0.0}

    def __call__(self, tests):
        tests = frozenset(tests)
        if tests not in self.known:
            self.known[tests] = float(self.worth(tests))
        return self.known[tests]


def _checked(minutes, costs, available):
    minutes, costs = np.asarray(minutes, float), np.asarray(costs, float)
    if not len(minutes) == len(costs) <= MOST_TESTS:
        raise ScoringError(f"{len(minutes)} tests, {len(costs)} costs; as many, few")
    if not ((minutes > 0) & np.isfinite(minutes)).all():
        raise ScoringError(f"minutes: {minutes.min():g}; more than 0")
    if not ((costs >= 0) & np.isfinite(costs)).all() or not available >= 0:
        raise ScoringError("costs and minutes at hand: 0 or more")
    return minutes, costs
