"""The map: buyers in cells of two things in which they differ."""

from dataclasses import dataclass

import numpy as np

from scoring.population.buyers import NONE, best, lost, mean_lost

MOST_BANDS = 5  # of a figure: each holds as many buyers
FEWEST = 5  # buyers of a cell that is told of


@dataclass(frozen=True)
class Stretch:
    """A stretch of a figure, or one choice."""

    low: float
    high: float
    choice: str = ""


@dataclass(frozen=True)
class Cell:
    """The buyers in one place of the map."""

    across: int
    up: int
    n_buyers: int
    machine: int | None  # best for most of them; NONE where none is within limits
    share: float  # of them for whom it is
    lost: float  # mean, money a year, if all of them took it; NaN at another price


@dataclass(frozen=True)
class CrowdMap:
    """Who is best where."""

    across: str
    up: str
    columns: tuple[Stretch, ...]
    rows: tuple[Stretch, ...]
    cells: tuple[Cell, ...]


def crowd_map(population, across, up, machine=None, times=1.0):
    """Return the CrowdMap over two differences, with one machine at another price."""
    found = best(population, machine, times)
    sides = population.difference(across), population.difference(up)
    bands, places = zip(*(_banded(side) for side in sides), strict=True)
    cells = []
    for row in range(len(bands[1])):
        for column in range(len(bands[0])):
            here = np.flatnonzero((places[0] == column) & (places[1] == row))
            cells.append(_cell(population, found, here, column, row, machine))
    return CrowdMap(across, up, *bands, tuple(cells))


def _cell(population, found, here, column, row, machine):
    if len(here) < FEWEST:
        return Cell(column, row, len(here), None, float("nan"), float("nan"))
    values, counts = np.unique(found[here], return_counts=True)
    leader = int(values[counts.argmax()])
    costs = float("nan")
    if machine is None and leader != NONE:
        picked = np.full(len(population), leader)
        costs = mean_lost(lost(population, picked, found)[here])
    share = float(counts.max() / len(here))
    return Cell(column, row, len(here), leader, share, costs)


def _banded(differs):
    """Return (the Stretches of a difference, the band of each buyer)."""
    if differs.choices:
        bands = tuple(Stretch(k, k, said) for k, said in enumerate(differs.choices))
        return bands, differs.values.astype(int)
    inner = _inner_ends(differs.values)
    ends = [float(differs.values.min()), *inner.tolist(), float(differs.values.max())]
    bands = tuple(Stretch(*pair) for pair in zip(ends[:-1], ends[1:], strict=True))
    return bands, np.searchsorted(inner, differs.values, side="right")


def _inner_ends(values):
    """Return where stretches meet, with as few digits as keep them apart."""
    shares = np.arange(1, MOST_BANDS) / MOST_BANDS
    best = np.empty(0)
    for digits in (2, 3, 4, 5, 6, 15):
        found = np.unique([rounded(x, digits) for x in np.quantile(values, shares)])
        found = found[(found > values.min()) & (found < values.max())]
        best = found if len(found) > len(best) else best
    return best


def rounded(figure, digits=2):
    """Return a figure with so many digits that count, as people say it.

    Examples
    --------
    >>> rounded(28_412.3), rounded(0.2849)
    (28000.0, 0.28)
    """
    return float(f"{figure:.{digits}g}")
