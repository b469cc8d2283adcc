"""Buy now or learn first: by hand, by enumeration, and what must never happen."""

import itertools
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import gamma, poisson

from scoring.decision.waiting import (
    BUY,
    STOP,
    Owning,
    Without,
    best_plan,
    jobs_chances,
    updated,
)
from scoring.errors import ScoringError


def test_learning_by_hand():
    """Gamma(2, 1), then nine jobs in three months: Gamma(11, 4), mean 2.75."""
    a, b = updated(2.0, 1.0, 9, 3)
    assert a / b == 2.75


@pytest.mark.parametrize("n", range(5))
def test_chances_are_poisson_mixed_by_gamma(n):
    """The chance of n jobs is the integral of Poisson over the Gamma of the rate."""
    a, b = 3.2, 1.7
    mixed, _ = quad(lambda x: poisson.pmf(n, x) * gamma.pdf(x, a, scale=1 / b), 0, 60)
    assert jobs_chances(a, b, 40)[n] == pytest.approx(mixed, rel=1e-6)


def enumerated(a, b, own, way, horizon, to_decide, rate, most):
    """Return the worth by plain recursion over every course of months."""
    discount = 1 / (1 + rate)

    @cache  # the same courses of jobs are met many thousand times
    def chances(a, b):
        return jobs_chances(a, b, most).tolist()

    @cache
    def jobs(a, b, most_served):
        return sum(c * min(n, most_served) for n, c in enumerate(chances(a, b)))

    def buy(month, a, b):
        left = horizon - month
        resale = own.cost + (own.resale - own.cost) * left / horizon
        cost = own.cost * (1 + own.trend) ** (month / 12)
        worth = min(resale, cost) * discount**left - cost
        for k in range(1, left + 1):
            worth += (jobs(a, b, own.capacity) * own.left - own.fixed) * discount**k
        return worth

    def best(month, a, b):
        ways = [0.0, buy(month, a, b)]
        if month == to_decide:
            each = jobs(a, b, way.capacity) * way.left - way.fixed
            ways.append(sum(each * discount**k for k in range(1, horizon - month + 1)))
            return max(ways)
        ways.append(discount * best(month + 1, a, b))
        worth = -way.fixed
        for n, chance in enumerate(chances(a, b)):
            got = min(n, way.capacity) * way.left
            worth += chance * (got + best(month + 1, *updated(a, b, n, 1)))
        return max([*ways, discount * worth])

    return best(0, a, b)


@pytest.mark.parametrize(
    ("cost", "left", "trend"),
    list(itertools.product((600, 1_500), (60, 120), (0.0, -0.3))),
)
def test_as_enumeration_of_three_months(cost, left, trend):
    """The table worked back gives what every course of three months gives."""
    own = Owning(cost, left, 10.0, resale=200.0, capacity=4, trend=trend)
    way = Without("rent", 15.0, 5.0)
    found = best_plan(1.0, 1.0, own, [way], 12, 3, 0.01)
    # most jobs in a month at Gamma(1, 1): chance above n is 2^−(n+1) ≤ 1e-6, n = 19
    expected = enumerated(1.0, 1.0, own, way, 12, 3, 0.01, 19)
    assert found.worth == pytest.approx(expected, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("cost", (3_000.0, 5_000.0))
def test_certain_demand_gives_the_plain_rule(cost):
    """Where demand is known, buy where the present value is above 0, else stop."""
    # two jobs a month that leave 100 over 20 months at 0 %: 4,000
    sure = 2e7, 1e7
    found = best_plan(*sure, Owning(cost, 100.0, 0.0), [], 20, 6)
    assert found.buy_now == pytest.approx(4_000 - cost, abs=0.1)
    assert found.worth == pytest.approx(max(4_000 - cost, 0), abs=0.1)
    assert found.first == (BUY if cost < 4_000 else STOP)
    assert found.worth_of_waiting == pytest.approx(0, abs=0.1)


@settings(max_examples=8, deadline=None)
@given(
    st.floats(0.5, 4),
    st.floats(0.5, 2),
    st.floats(500, 6_000),
    st.floats(-50, 80),
    st.integers(0, 2),
)
def test_more_room_never_lowers_the_worth_of_waiting(a, b, cost, left, months):
    """More months to decide, or a cheaper rent, never lower the worth of waiting."""
    own = Owning(cost, 100.0, 20.0, resale=cost / 5)

    def waiting(to_decide, rent_left):
        ways = [Without("rent", rent_left, 10.0)]
        return best_plan(a, b, own, ways, 24, to_decide, 0.01).worth_of_waiting

    one = waiting(months, left)
    assert one >= -1e-9
    # What is not looked at, more jobs than happen once in a million months, may differ
    # between the two: 1e-6 · 24 months · 100 · a few jobs, below 0.01.
    assert waiting(months + 1, left) >= one - 0.01
    assert waiting(months, left + 20) >= one - 1e-9


def test_a_rule_rises_with_the_months():
    """Rent until enough jobs have come: the longer it took, the more are needed."""
    own = Owning(5_000.0, 100.0, 0.0)
    found = best_plan(1.0, 0.5, own, [Without("rent", -5.0)], 36, 5, 0.005)
    assert found.first == "rent"
    needed = found.buy_from[found.buy_from >= 0]
    assert (np.diff(needed) >= 0).all() and needed.size
    assert 0 < found.chance_bought < 1
    assert found.worth_of_waiting > 0 and found.learning_cost > 0


@pytest.mark.parametrize(
    "wrong", ({"a": 0.0}, {"horizon": 0}, {"to_decide": 30}, {"rate": 1.0})
)
def test_figures_out_of_range_are_said(wrong):
    """A figure that means nothing is refused in a sentence."""
    told = {"a": 1.0, "b": 1.0, "horizon": 24, "to_decide": 3, "rate": 0.0} | wrong
    with pytest.raises(ScoringError, match=";"):
        best_plan(owning=Owning(1.0, 1.0, 0.0), others=[], **told)
