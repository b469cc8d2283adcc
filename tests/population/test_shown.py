"""What is shown of many buyers, on made-up ones whose answer is known."""

import json
from dataclasses import replace

import numpy as np
import pytest

from scoring.errors import ScoringError
from scoring.population.buyers import (
    NONE,
    best,
    lost,
    population_of,
    share_by_price,
)
from scoring.population.cells import crowd_map
from scoring.population.prices import times_of
from scoring.population.shown import shown
from scoring.population.tree import Leaf, advice
from scoring.records.population import population_record
from scoring.text.population import population_rows, population_text

NAMES = ["Alder", "Birch", "Cedar"]
ASKED = {
    "title": "Made-up buyers",
    "currency": "EUR",
    "buyers": 2_000,
    "draws": 40,
    "seed": 1,
    "machines": [{"name": n, "price": 10_000.0, "currency": "EUR"} for n in NAMES],
    "differ": [
        {"name": "cash", "unit": "EUR"},
        {"name": "work", "unit": "times"},
        {"name": "crew", "choices": ["alone", "two"]},
    ],
}


def planted(n_buyers=2_000, noise=0.0):
    """Return a Population in which a rule decides.

    Below 20,000 of cash Alder; else Cedar with less than 1.5 times the work; else
    Birch, but for those alone Alder.
    """
    rng = np.random.default_rng(5)
    cash, work = rng.uniform(5e3, 6e4, n_buyers), rng.uniform(0.5, 2.5, n_buyers)
    crew = rng.integers(0, 2, n_buyers).astype(float)
    rich = np.where(work < 1.5, 2, np.where(crew == 0, 0, 1))
    rule = np.where(cash < 20_000, 0, rich)
    swapped = rng.random(n_buyers) < noise
    rule = np.where(swapped, rng.integers(0, 3, n_buyers), rule)
    points = np.full((n_buyers, 3), 0.4)
    points[np.arange(n_buyers), rule] = 0.6
    columns = {"differs: cash": cash, "differs: work": work, "differs: crew": crew}
    columns["money_a_point"] = np.full(n_buyers, 10_000.0)
    for k, name in enumerate(NAMES):
        columns[f"points: {name}"] = points[:, k]
        columns[f"is_out: {name}"] = np.zeros(n_buyers, bool)
        columns[f"benefit: {name}"] = 1_000.0 * points[:, k]
        columns[f"best_up_to: {name}"] = np.where(rule == k, 1.2, 0.9)
    return population_of({**ASKED, "buyers": n_buyers}, columns), rule


def test_a_planted_rule_is_found():
    """The tree asks what the rule asks, near where it does, and hits unseen buyers."""
    population, _ = planted()
    told = advice(population)
    assert told.hit > 0.99
    assert told.lost < 20  # 0.2 points at 10,000 a point for 1 % at most
    asked = {}

    def walk(node):
        if not isinstance(node, Leaf):
            name = population.differs[node.differs].name
            asked.setdefault(name, []).append(node.threshold)
            walk(node.yes)
            walk(node.no)

    walk(told.root)
    assert set(asked) == {"cash", "work", "crew"}
    assert asked["cash"] == pytest.approx([20_000] * len(asked["cash"]), rel=0.02)
    assert asked["work"] == pytest.approx([1.5] * len(asked["work"]), rel=0.02)


def test_a_hit_rate_is_of_buyers_not_seen():
    """Where three in ten buyers are swapped by chance, two of these in three miss."""
    population, _ = planted(6_000, noise=0.3)
    assert advice(population).hit == pytest.approx(0.8, abs=0.03)


def test_what_a_choice_costs_is_points_at_their_worth():
    """0.2 points less at 10,000 a point are 2,000 a year; what is out has none."""
    population, rule = planted(100)
    found = best(population)
    assert np.array_equal(found, rule)
    costs = lost(population, np.zeros(100, int), found)
    assert costs == pytest.approx(np.where(rule == 0, 0.0, 2_000.0))
    out = population.is_out.copy()
    out[:, 0] = True
    costs = lost(replace(population, is_out=out), np.zeros(100, int), found)
    assert costs[rule == 1] == pytest.approx(6_000.0)


def test_another_price_moves_the_map_without_a_run():
    """S(p) counts the buyers whose own price is p or more, and the map follows it."""
    population, rule = planted(200)
    share = np.mean(rule == 0)
    found = share_by_price(population, 0, [0.9, 1.0, 1.2, 1.3])
    assert found == pytest.approx([1.0, share, share, 0.0])
    assert (best(population, 0, 0.9) == 0).all()
    assert not (best(population, 0, 1.3) == 0).any()


def test_nobody_within_limits_is_told():
    """Buyers whose limits rule all out have no best machine."""
    population, _ = planted(100)
    out = population.is_out.copy()
    out[:10] = True
    population = replace(population, is_out=out)
    assert (best(population)[:10] == NONE).all()
    text = population_text(shown(population))
    assert "for 10 % no machine is within their limits" in text.replace("\n", " ")


def test_cells_hold_all_buyers():
    """Each buyer is in one cell; a cell tells its own share."""
    population, rule = planted()
    drawn = crowd_map(population, "cash", "crew")
    assert sum(cell.n_buyers for cell in drawn.cells) == len(population)
    cash, crew = (population.difference(name).values for name in ("cash", "crew"))
    here = (cash < drawn.columns[0].high) & (crew == 1)
    (cell,) = (c for c in drawn.cells if (c.across, c.up) == (0, 1))
    assert (cell.n_buyers, cell.machine) == (here.sum(), 0)
    assert cell.share == np.mean(rule[here] == 0)


def test_surfaces_tell_the_same():
    """Text, JSON and rows are made of one record; JSON holds no NaN."""
    population, rule = planted(400)
    found = shown(population, across="cash", up="work")
    record = population_record(found)
    json.dumps(record, allow_nan=False)
    shares = {each["name"]: each["share"] for each in record["machines"]}
    assert shares == {n: np.mean(rule == k) for k, n in enumerate(NAMES)}
    assert population_text(found).startswith("Made-up buyers\n")
    assert len(population_rows(found)) == 1 + len(found.crowd_map.cells)


FAULTS = [
    (("Alder", None), "one without the other"),
    (("Alder", "900 USD"), "is not in EUR"),
    (("Alder", "1 EUR"), "out of range; 3000 EUR to 25000 EUR"),
    (("Aldr", "9000 EUR"), "did you mean 'Alder'"),
    (("Alder", "much"), "is not a figure"),
]


@pytest.mark.parametrize(("asked", "said"), FAULTS)
def test_a_price_that_cannot_be_is_said(asked, said):
    """A sentence for each way to ask wrongly."""
    with pytest.raises(ScoringError, match=said):
        times_of(planted(100)[0], *asked)
