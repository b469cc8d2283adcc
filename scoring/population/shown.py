"""What is shown of many buyers: one record for the command line and the screen."""

from dataclasses import dataclass

import numpy as np

from scoring.errors import ScoringError
from scoring.population.buyers import (
    NONE,
    Population,
    best,
    lost,
    mean_lost,
    share_by_price,
)
from scoring.population.cells import CrowdMap, crowd_map
from scoring.population.tree import TreeAdvice, advice

TIMES = (0.8, 0.9, 1.0, 1.1, 1.2)  # the present price
FEW = 0.005  # of the buyers: a machine that is best for fewer is told of in a line


@dataclass(frozen=True)
class ForWhom:
    """One machine among the buyers."""

    machine: int
    share: float  # for whom it is best
    middles: tuple[float, ...]  # of each difference: the median of these buyers, or
    # of choices the share of the first; NaN without such buyers
    lost: float  # mean, money a year, if all bought it
    out: float  # share of buyers whose limits rule it out
    by_price: tuple[float, ...]  # share for whom it is best at `TIMES` its price


@dataclass(frozen=True)
class Shown:
    """Everything that is shown."""

    population: Population
    machine: int | None  # whose price is another
    times: float
    for_whom: tuple[ForWhom, ...]  # the most often best first
    none: float  # share for whom no machine is within limits
    middles: tuple[float, ...]  # of all buyers
    crowd_map: CrowdMap
    advice: TreeAdvice


def shown(population, machine=None, times=1.0, across=None, up=None):
    """Return what is Shown, with one machine at another price where one is named.

    Parameters
    ----------
    machine : int, optional
    across, up : names of the differences of the map; else the two that tell most
    """
    told = advice(population)
    sides = _sides(population, told, across, up)
    now, found = best(population), best(population, machine, times)
    everybody = np.ones(len(population), bool)
    rows = [_for_whom(population, k, found, now) for k in range(len(population.names))]
    return Shown(
        population,
        machine,
        times,
        tuple(sorted(rows, key=lambda row: (-row.share, row.machine))),
        float((found == NONE).mean()),
        _middles(population, everybody),
        crowd_map(population, *sides, machine, times),
        told,
    )


def _sides(population, told, across, up):
    """Return the names of the map's sides."""
    order = np.argsort(-np.array(told.importance), kind="stable")
    names = [population.differs[k].name for k in order]
    across = across or next(name for name in names if name != up)
    up = up or next((name for name in names if name != across), across)
    if across == up:
        raise ScoringError("a map needs two things in which buyers differ")
    return across, up


def _for_whom(population, k, found, now):
    picked = np.full(len(population), k)
    return ForWhom(
        k,
        float((found == k).mean()),
        _middles(population, found == k),
        mean_lost(lost(population, picked, now)),
        float(population.is_out[:, k].mean()),
        tuple(share_by_price(population, k, TIMES).tolist()),
    )


def _middles(population, of):
    if not of.any():
        return (float("nan"),) * len(population.differs)
    return tuple(
        float((d.values[of] == 0).mean() if d.choices else np.median(d.values[of]))
        for d in population.differs
    )
