"""Which seller to visit first, and when to stop: boxes that cost something to open.

Each box holds a prize that nobody knows before it is opened. One opens box after box
and takes the best prize seen, or what there is anyway. No box tells of another.

Source: Weitzman (1979), Optimal search for the best alternative, Econometrica 47(3),
641–654, doi:10.2307/1910412; from memory. Undiscounted.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError


class Search(NamedTuple):
    """The order of boxes and where to stop; money."""

    order: tuple[int, ...]  # boxes worth opening, the first to be opened first
    values: np.ndarray  # (box,) reservation values
    worth: float  # of the search above what there is anyway, less what opening costs
    chance_opened: np.ndarray  # (box,) that it is opened at all


def reservation_value(cost, prizes, chances=None):
    """Return the prize in hand at which opening a box is just no longer worth it.

    It solves cost = E[max(prize − value, 0)].

    Parameters
    ----------
    cost : 0 or more; of opening the box
    prizes : shape (n,), finite
    chances : shape (n,), summing to 1; all alike when left out

    Returns
    -------
    float
        At most the highest prize; where the cost is above all that the prizes differ,
        the mean prize less the cost.

    Raises
    ------
    ScoringError
        If a figure is out of its range.

    Examples
    --------
    >>> reservation_value(15, [100, 55], [0.5, 0.5])
    70.0
    >>> reservation_value(20, [240, 0], [0.2, 0.8])
    140.0
    """
    prizes, chances = _checked(cost, prizes, chances)
    order = np.argsort(-prizes, kind="stable")
    above, chances = prizes[order], chances[order]
    # With the best n prizes above the value: cost = Σ p·prize − value·Σ p.
    mass = chances.cumsum()
    known = mass > 0
    values = ((chances * above).cumsum() - cost)[known] / mass[known]
    return float(values.max())


def search(costs, prizes, at_hand=0.0):
    """Return the Search by reservation values: the highest first.

    One stops where the best prize seen is at least the next box's value.

    Parameters
    ----------
    costs : shape (n_boxes,); 0 or more
    prizes : shape (n_draws, n_boxes); finite, each draw alike. What the values rest on,
        and what the search is tried on: draws may move together, then the order is no
        longer known to be the best, and the worth is still what it brings.
    at_hand : what there is without opening any

    Raises
    ------
    ScoringError
        If a figure is out of its range.
    """
    costs, prizes = np.asarray(costs, float), np.asarray(prizes, float)
    if prizes.ndim != 2 or costs.shape != prizes.shape[1:]:
        raise ScoringError(
            f"costs of shape {costs.shape}, prizes of {prizes.shape}; (boxes,) and "
            "(draws, boxes)"
        )
    values = np.array(
        [reservation_value(c, x) for c, x in zip(costs, prizes.T, strict=True)]
    )
    order = [box for box in np.argsort(-values, kind="stable") if values[box] > at_hand]
    best = np.full(len(prizes), float(at_hand))
    paid, opened = np.zeros(len(prizes)), np.zeros(len(costs))
    for box in order:
        goes_on = best < values[box]
        opened[box] = goes_on.mean()
        paid += costs[box] * goes_on
        best = np.where(goes_on, np.maximum(best, prizes[:, box]), best)
    worth = float((best - paid).mean() - at_hand)
    return Search(tuple(int(box) for box in order), values, worth, opened)


def _checked(cost, prizes, chances):
    prizes = np.asarray(prizes, float)
    if prizes.ndim != 1 or not len(prizes):
        raise ScoringError(f"prizes of shape {prizes.shape}; one or more in a row")
    check_finite(prizes, "prizes")
    if not (np.isfinite(cost) and cost >= 0):
        raise ScoringError(f"cost: {cost!r}; 0 or more")
    if chances is None:
        return prizes, np.full(len(prizes), 1 / len(prizes))
    chances = np.asarray(chances, float)
    if chances.shape != prizes.shape or not (
        (chances >= 0).all() and np.isclose(chances.sum(), 1, rtol=0, atol=1e-9)
    ):
        raise ScoringError("chances: one a prize, 0 or more, summing to 1")
    return prizes, chances
