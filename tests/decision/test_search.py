"""Weitzman's boxes: worked by hand, and against every way to search."""

from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.decision.search import reservation_value, search
from scoring.errors import ScoringError


def test_two_boxes_by_hand():
    """The two boxes of Weitzman (1979), undiscounted: 70 and 140.

    The safe one: 15 = ½·(100 − z) gives z = 70, above 55 as it must be. The other one:
    20 = 0.2·(240 − z) gives 140. So the one that mostly holds nothing is opened first:
    with 240 one stops; with 0 the safe one follows (mean 77.5, cost 15).
    Search: −20 + 0.2·240 + 0.8·(−15 + 77.5) = 78. The safe one first: with 55 or 100
    the other's 140 still bids more: −15 − 20 + 0.2·240 + 0.8·77.5 = 75.
    """
    assert reservation_value(15, [100, 55], [0.5, 0.5]) == pytest.approx(70)
    assert reservation_value(20, [240, 0], [0.2, 0.8]) == pytest.approx(140)
    both = list(product([100, 55], [240, 0, 0, 0, 0]))
    found = search([15, 20], both)
    assert found.order == (1, 0)
    assert found.values == pytest.approx([70, 140])
    assert found.worth == pytest.approx(78)
    assert found.chance_opened == pytest.approx([0.8, 1.0])


def test_what_solves_the_equation():
    """The value is where cost = E[max(prize − value, 0)], by the definition itself."""
    rng = np.random.default_rng(3)
    prizes = rng.normal(0, 10, 501)
    for cost in (0.0, 0.1, 3.0, 40.0):
        value = reservation_value(cost, prizes)
        assert np.maximum(prizes - value, 0).mean() == pytest.approx(cost, abs=1e-9)


def test_a_box_that_costs_too_much_is_left():
    """Where opening costs more than it can bring, the search is empty."""
    found = search([30.0], [[10.0], [40.0]], at_hand=5.0)
    assert found.order == () and found.worth == 0
    assert found.values == pytest.approx([-5.0])  # mean 25, cost 30


def best_by_trying(costs, boxes):
    """Return the worth of the best search of all: every next box, stop or go on."""

    @cache
    def worth(best, closed):
        ways = [best]
        for box in closed:
            rest = tuple(other for other in closed if other != box)
            then = [worth(max(best, prize), rest) for prize in boxes[box]]
            ways.append(sum(then) / len(then) - costs[box])
        return max(ways)

    return worth(0, tuple(range(len(boxes))))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(0, 40), min_size=3, max_size=3),
    st.lists(
        st.lists(st.integers(-50, 100), min_size=3, max_size=3), min_size=3, max_size=3
    ),
)
def test_no_other_way_to_search_is_better(costs, boxes):
    """Three boxes of three prizes: as good as the best of every way to search."""
    found = search(costs, list(product(*boxes)))
    assert found.worth == pytest.approx(best_by_trying(costs, boxes), abs=1e-9)


@pytest.mark.parametrize(
    ("cost", "prizes", "chances"),
    ((-1, [1.0], None), (1, [], None), (1, [np.nan], None), (1, [1, 2], [0.5, 0.6])),
)
def test_nonsense_is_refused(cost, prizes, chances):
    """What is no box is told in a sentence."""
    with pytest.raises(ScoringError):
        reservation_value(cost, prizes, chances)
    with pytest.raises(ScoringError, match="costs of shape"):
        search([1.0, 2.0], [[1.0]])
