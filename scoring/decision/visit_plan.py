"""Which tests to run on a visit, in which order, and when to stop.

What a bundle of tests is worth comes from outside, as tests tell partly the same and
partly only together: a worth of each alone does not add up.
"""

from itertools import combinations
from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

MOST_TESTS = 60
MOST_TRIED = 10  # tests of which every bundle is tried


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
    """Return the VisitPlan: the bundle that leaves most, worth per minute first.

    Of up to ten tests every bundle that fits is tried, so that none leaves more. Of
    more, the bundle grows by worth per minute: each step takes the test, or the first
    of the pair of tests, that adds most per minute to what is done already; a pair
    counts where its tests are worth something together alone. It stops where nothing
    that fits adds more than it costs. A long test that is worth more may no longer fit
    beside short ones taken first: so each stage of the bundle is also tried with the
    one or two that add most to it, however long they take, and the best of all is kept.
    Where tests cost nothing, and the more is known the less one more adds, that is at
    least half of the best.

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
    Growth by worth per unit of a budget and the best one more at each stage, with the
    half: Yaroslavtsev, Zhou & Avdiukhin (2020), “Bring your own greedy”+max, AISTATS,
    PMLR 108. From memory. Pairs are ours.
    """
    minutes, costs = _checked(minutes, costs, available)
    left_over = [n for n in range(len(minutes)) if n not in set(done)]
    known = _Remembered(worth)
    find = _best_bundle if len(left_over) <= MOST_TRIED else _grown
    of_best = find(known, left_over, minutes, costs, available)
    steps, spent = _in_order(known, of_best, minutes, costs)
    chosen = frozenset(of_best)
    rest = [n for n in left_over if n not in chosen]
    room = available - spent
    adds = _best(known, chosen, rest, minutes, costs, room).adds
    cost = float(costs[list(chosen)].sum())
    return VisitPlan(tuple(steps), known(chosen), cost, max(adds, 0.0))


def _in_order(known, tests, minutes, costs):
    """Return (steps, minutes) of a bundle: what adds most per minute comes first."""
    left, chosen, steps, spent = list(tests), frozenset(), [], 0.0
    while left:
        best = _best(known, chosen, left, minutes, costs, np.inf)
        first = best.tests[0] if best.tests else left[0]
        spent += float(minutes[first])
        chosen |= {first}
        left.remove(first)
        steps.append(VisitStep(first, spent, best.adds))
    return steps, spent


def _grown(known, left_over, minutes, costs, available):
    """Return the best bundle on the way of growing by worth per minute."""

    def net(tests):
        return known(tests) - float(costs[list(tests)].sum())

    chosen, spent, left_over, tried = frozenset(), 0.0, list(left_over), [frozenset()]
    while True:
        best = _best(known, chosen, left_over, minutes, costs, available - spent)
        if best.tests is None:
            return max(tried, key=lambda tests: (round(net(tests), 9), -len(tests)))
        first = best.tests[0]
        spent += float(minutes[first])
        tried += [chosen | {first}, chosen | set(best.most)]
        chosen |= {first}
        left_over.remove(first)


class _Best(NamedTuple):
    tests: tuple[int, ...] | None  # the one or two that add most a minute
    adds: float  # net worth that they add
    most: tuple[int, ...]  # the one or two that add most, however long they take


def _best(known, chosen, left_over, minutes, costs, room):
    """Return the _Best of one or two more that fit and add more than they cost."""
    now = known(chosen)
    by_rate, by_worth = (0.0, 0.0, None), (0.0, ())
    for test in left_over:
        for more in (None, *(n for n in left_over if n != test)):
            tests = (test,) if more is None else (test, more)
            took = float(minutes[list(tests)].sum())
            if took > room + 1e-9:
                continue
            adds = known(chosen | set(tests)) - now - float(costs[list(tests)].sum())
            if adds / took > by_rate[0] + 1e-12:
                by_rate = (adds / took, adds, tests)
            if adds > by_worth[0] + 1e-12:
                by_worth = (adds, tests)
    _, adds, tests = by_rate
    tests = _first_first(known, chosen, tests, minutes, costs)
    return _Best(tests, adds, by_worth[1])


def _first_first(known, chosen, tests, minutes, costs):
    """Return the pair with the test first that adds more per minute alone."""
    if tests is None or len(tests) == 1:
        return tests
    now = known(chosen)
    rates = [(known(chosen | {n}) - now - costs[n]) / minutes[n] for n in tests]
    return tests if rates[0] >= rates[1] else tests[::-1]


def _best_bundle(known, tests, minutes, costs, available):
    """Return the bundle that leaves most of all that fit; of equals the smallest."""
    best = ((), 0.0)
    for n in range(1, len(tests) + 1):
        for bundle in combinations(tests, n):
            if minutes[list(bundle)].sum() <= available + 1e-9:
                net = known(frozenset(bundle)) - float(costs[list(bundle)].sum())
                if net > best[1] + 1e-9:
                    best = (bundle, net)
    return best[0]


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
