"""The buyers of a folder: who is best served by what, at which price, what else costs.

A machine out of a buyer's limits counts as no points at all: that is the careful side.
"""

from dataclasses import dataclass

import numpy as np

from scoring.errors import ScoringError
from scoring.inputs.quantity import nearest
from scoring.population.folder import columns_in

NONE = -1  # no machine is within the buyer's limits


@dataclass(frozen=True)
class Differs:
    """In what the buyers differ: a figure with its unit, or choices in words."""

    name: str
    unit: str  # "times" for so many times the template's figure
    choices: tuple[str, ...]  # () for a figure
    values: np.ndarray  # (buyer,)


@dataclass(frozen=True)
class Population:
    """Buyers that were worked out; arrays (buyer, machine) unless stated."""

    title: str
    currency: str
    n_asked: int  # buyers, of whom those here are done
    n_draws: int
    seed: int
    names: tuple[str, ...]  # of the machines
    prices: tuple  # (price, currency) of each as told, None where it is not
    differs: tuple[Differs, ...]
    points: np.ndarray
    is_out: np.ndarray
    benefit: np.ndarray  # net, money a year
    best_up_to: np.ndarray  # times its price
    money_a_point: np.ndarray  # (buyer,)

    def __len__(self):
        return len(self.points)

    def index(self, name):
        """Return a machine's place; ScoringError if there is none of that name."""
        if name not in self.names:
            near = nearest(name, self.names)
            raise ScoringError(
                f"no machine is called {name!r}{near}; one of {', '.join(self.names)}"
            )
        return self.names.index(name)

    def difference(self, name):
        """Return the Differs of a name; ScoringError if there is none."""
        for each in self.differs:
            if each.name == name:
                return each
        names = [each.name for each in self.differs]
        near = nearest(name, names)
        raise ScoringError(
            f"buyers differ in no {name!r}{near}; one of {', '.join(names)}"
        )


def population_in(folder):
    """Return the Population of a folder; ScoringError if it holds none."""
    return population_of(*columns_in(folder))


def population_of(asked, columns):
    """Return the Population of what was asked and its columns."""
    names = tuple(machine["name"] for machine in asked["machines"])

    def of_machines(field):
        return np.stack([columns[f"{field}: {name}"] for name in names], axis=1)

    return Population(
        asked["title"],
        asked["currency"],
        asked["buyers"],
        asked["draws"],
        asked["seed"],
        names,
        tuple((m["price"], m["currency"]) for m in asked["machines"]),
        tuple(
            Differs(
                each["name"],
                each.get("unit", ""),
                tuple(each.get("choices", ())),
                columns[f"differs: {each['name']}"],
            )
            for each in asked["differ"]
        ),
        of_machines("points"),
        of_machines("is_out"),
        of_machines("benefit"),
        of_machines("best_up_to"),
        columns["money_a_point"],
    )


def best(population, machine=None, times=1.0):
    """Return the place of each buyer's best machine, NONE where all are ruled out.

    Parameters
    ----------
    machine : int, optional
        The one whose price is so many `times` what it is; nothing is run again.
    """
    points = np.where(population.is_out, -np.inf, population.points)
    if machine is None:
        return np.where(np.isinf(points).all(axis=1), NONE, points.argmax(axis=1))
    points[:, machine] = -np.inf
    others = np.where(np.isinf(points).all(axis=1), NONE, points.argmax(axis=1))
    return np.where(population.best_up_to[:, machine] >= times, machine, others)


def share_by_price(population, machine, times):
    """Return the share of buyers for whom a machine is best at each price: (price,).

    S(p) = the share whose own price p* up to which it is best is p or more.
    """
    up_to = np.sort(population.best_up_to[:, machine])
    return 1 - np.searchsorted(up_to, np.asarray(times), side="left") / len(population)


def lost(population, picked, found):
    """Return what a machine picked costs each buyer who has a better one, a year.

    Points less than the best machine's, at what a point is worth to the buyer: the
    regret of the choice. NaN where no machine is within the limits, or where money
    has no weight.

    Parameters
    ----------
    picked : int, shape (buyer,), NONE for buying nothing, which has no points
    found : int, shape (buyer,), of `best`
    """
    points = np.where(population.is_out, 0.0, population.points)
    rows = np.arange(len(population))
    have = np.where(picked == NONE, 0.0, points[rows, picked])
    lacking = np.maximum(points[rows, found] - have, 0.0)
    return np.where(found == NONE, np.nan, lacking * population.money_a_point)


def mean_lost(figures):
    """Return the mean of what there is, NaN without any."""
    known = figures[np.isfinite(figures)]
    return float(known.mean()) if known.size else float("nan")
