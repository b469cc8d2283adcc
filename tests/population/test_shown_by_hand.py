"""Sixty made-up buyers of two sorts: what is shown of them, worked by hand."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from scoring.population.buyers import population_of
from scoring.population.cells import crowd_map
from scoring.population.shown import shown
from scoring.population.tree import Leaf, advice
from tests.population.test_shown import planted

FEW, MANY = np.arange(20), np.arange(20, 60)
ASKED = {
    "title": "Made-up buyers",
    "currency": "EUR",
    "buyers": 60,
    "draws": 40,
    "seed": 1,
    "machines": [{"name": n, "price": 9_000.0, "currency": "EUR"} for n in ("A", "B")],
    "differ": [
        {"name": "cash", "unit": "EUR"},
        {"name": "crew", "choices": ["alone", "two"]},
    ],
}


def of(few, many):
    """Return a column: one figure for the few, another for the many."""
    column = np.empty(60)
    column[FEW], column[MANY] = few, many
    return column


def sixty():
    """Return a Population: A is best for forty, up to a tenth more than its price.

    B is best for twenty, at any price of A. The few have 1 000 to 1 019 in cash and
    four in five of them work alone, the many 2 000 to 2 039, one in four alone.
    """
    alone = np.where(np.arange(60) % 5 > 0, 0.0, 1.0)
    alone[MANY] = np.where(np.arange(40) % 4 > 0, 1.0, 0.0)
    columns = {
        "differs: cash": np.concatenate([1_000 + FEW, 2_000 + MANY - 20]).astype(float),
        "differs: crew": alone,
        "money_a_point": of(300.0, 100.0),
        "points: A": of(0.4, 0.7),
        "points: B": of(0.9, 0.5),
        "is_out: A": np.zeros(60, bool),
        "is_out: B": np.arange(60) % 6 == 5,
        "benefit: A": np.ones(60),
        "benefit: B": np.ones(60),
        "best_up_to: A": of(0.0, 1.1),
        "best_up_to: B": of(1.6, 0.0),
    }
    columns["is_out: B"][FEW] = False
    return population_of(ASKED, columns)


@pytest.mark.parametrize(("machine", "times"), [(None, 1.0), (0, 1.2)])
def test_what_it_costs_if_all_take_one_is_told_at_the_present_price(machine, times):
    """B to all: 0.2 · 100 for most of the forty, 0.7 · 100 where it is out of limits.

    A to all: 0.5 · 300 for twenty of sixty. The same where A is a fifth dearer: points
    at other prices are not known.
    """
    rows = {row.machine: row for row in shown(sixty(), machine, times).for_whom}
    out = sum(k % 6 == 5 for k in MANY)
    assert rows[0].lost == pytest.approx(20 * 150 / 60)
    assert rows[1].lost == pytest.approx(((40 - out) * 20 + out * 70) / 60)
    assert rows[1].out == pytest.approx(out / 60)


def test_the_shares_follow_the_price():
    """A for two thirds up to a tenth more, for none beyond; then B, where it may be.

    Where B is out of limits too, no machine is left: seven of sixty.
    """
    by_price = {row.machine: row.by_price for row in shown(sixty()).for_whom}
    assert by_price[0] == pytest.approx((2 / 3, 2 / 3, 2 / 3, 2 / 3, 0))
    found = shown(sixty(), 0, 1.2)
    dearer = {row.machine: row.share for row in found.for_whom}
    out = sum(k % 6 == 5 for k in MANY)
    assert dearer[0] == 0 and dearer[1] == pytest.approx((60 - out) / 60)
    assert found.none == pytest.approx(out / 60)


def test_the_middle_buyer_is_that_of_those_for_whom_it_is_best():
    """Of cash the median, of choices the share of the first: few, many and all."""
    found = shown(sixty())
    middles = {row.machine: row.middles for row in found.for_whom}
    assert middles[1] == pytest.approx((1_009.5, 16 / 20))
    assert middles[0] == pytest.approx((2_019.5, 10 / 40))
    assert found.middles == pytest.approx((2_009.5, 26 / 60))


def test_cells_hold_their_own_buyers():
    """Across the crew, up the cash: those alone with least cash are few, B is best."""
    cells = crowd_map(sixty(), "crew", "cash").cells
    lowest = {cell.across: cell for cell in cells if cell.up == 0}
    # about a fifth of sixty: cash of 1 000 to 1 009, of whom 0 and 5 are two people
    assert (lowest[0].n_buyers, lowest[0].machine, lowest[0].share) == (8, 1, 1.0)
    assert lowest[1].n_buyers == 2 and lowest[1].machine is None  # too few to tell
    assert sum(cell.n_buyers for cell in cells) == 60


@pytest.mark.parametrize("low", [22.1, 1_000.0, 0.99])
def test_stretches_rise_however_near_figures_lie(low):
    """Of figures within a thousandth each stretch has a width, and buyers in it."""
    population = sixty()
    cash = replace(population.differs[0], values=low * (1 + np.arange(60) / 1e5))
    narrow = replace(population, differs=(cash, population.differs[1]))
    found = crowd_map(narrow, "cash", "crew")
    assert len(found.columns) == 5
    for left, right in pairwise(found.columns):
        assert left.low < left.high == right.low < right.high
    across = [0] * 5
    for cell in found.cells:
        across[cell.across] += cell.n_buyers
    assert sum(across) == 60 and min(across) > 5


def test_a_map_has_what_is_across_in_columns():
    """Three stretches or more of cash across, the two choices of crew up."""
    found = crowd_map(sixty(), "cash", "crew")
    assert [band.choice for band in found.rows] == ["alone", "two"]
    assert {cell.up for cell in found.cells} == {0, 1}
    assert max(cell.across for cell in found.cells) == len(found.columns) - 1 > 1


def walked(node, population, n):
    """Return the machine that a tree names to one buyer, followed by hand."""
    while not isinstance(node, Leaf):
        value = population.differs[node.differs].values[n]
        is_yes = value < node.threshold if node.choice is None else value == node.choice
        node = node.yes if is_yes else node.no
    return node.machine


def test_following_the_questions_leads_to_the_planted_rule():
    """Below 20 000 of cash the first; else by work, then by crew."""
    population, rule = planted()
    root = advice(population).root
    named = [walked(root, population, n) for n in range(len(population))]
    assert np.mean(np.array(named) == rule) > 0.95


def test_what_the_questions_hit_is_counted_on_buyers_they_have_not_seen():
    """Each leaf counts the unseen that come there: their hits are those of the tree.

    Three in ten are drawn at random, so that no tree does as well with them as with
    those it was grown on.
    """
    population, _ = planted(400, noise=0.3)
    told = advice(population)
    ends = leaves(told.root)
    assert sum(leaf.n_buyers for leaf in ends) == told.n_unseen == 120
    hits = sum(leaf.n_buyers * leaf.share for leaf in ends if leaf.n_buyers)
    assert told.hit == pytest.approx(hits / told.n_unseen)


def leaves(node):
    """Return the Leaves of a tree."""
    return [node] if isinstance(node, Leaf) else [*leaves(node.yes), *leaves(node.no)]


def test_a_cells_regret_is_that_of_its_own_buyers():
    """Each buyer's points short of the best within limits, at what a point costs."""
    population = sixty()
    mixed = replace(population.differs[0], values=np.arange(60) % 3 * 100.0 + 100)
    found = crowd_map(
        replace(population, differs=(mixed, population.differs[1])), "cash", "crew"
    )
    told = [cell for cell in found.cells if cell.machine is not None]
    regrets = {round(cell.lost, 6) for cell in told}
    assert len(regrets) > 1  # unlike cells, unlike regrets
    for cell in told:
        band, crew = found.columns[cell.across], found.rows[cell.up].low
        here = [
            n
            for n in range(60)
            if band.low <= mixed.values[n] < band.high
            or (band.high == 300 == mixed.values[n])
            if population.differs[1].values[n] == crew
        ]
        assert len(here) == cell.n_buyers
        costs = [regret(population, n, cell.machine) for n in here]
        assert cell.lost == pytest.approx(np.mean(costs))


def regret(population, n, picked):
    """Return what a machine picked costs one buyer, in plain steps."""
    within = [
        0.0 if out else p
        for p, out in zip(population.points[n], population.is_out[n], strict=True)
    ]
    return (max(within) - within[picked]) * population.money_a_point[n]
