"""How much each criterion counts: shares that sum to 1 on the last axis."""

import numpy as np

from scoring.decision.pairwise import Pairwise, pairwise
from scoring.errors import ScoringError

__all__ = [
    "Pairwise",
    "check_finite",
    "checked_weights",
    "exchange_rates",
    "from_exchange_rates",
    "normalise",
    "pairwise",
    "priced",
    "rank_order_centroid",
    "rebalance",
    "swing",
]


def check_finite(figures, what):
    """Raise ScoringError if a figure is NaN or infinite."""
    is_finite = np.isfinite(figures)
    if not is_finite.all():
        bad = float(figures[~is_finite][0])
        raise ScoringError(f"the {what} hold {bad!r}; each must be a finite number")


def checked_weights(w, what="weights"):
    """Return w as floats; ScoringError unless finite, 0 or more, not all 0."""
    w = np.asarray(w, float)
    if w.ndim == 0:
        raise ScoringError(f"the {what} are one number; one for each is needed")
    check_finite(w, what)
    if w.min(initial=0.0) < 0:
        bad = float(w[w < 0][0])
        raise ScoringError(f"the {what} hold {bad!r}; each must be 0 or more")
    with np.errstate(over="ignore"):  # one product: sums row by row take far longer
        sums = w @ np.ones(w.shape[-1])
    if not (sums > 0).all():
        raise ScoringError(f"the {what} sum to 0; at least one must be above 0")
    return w


def normalise(w):
    """Return the weights brought to sum 1.

    Parameters
    ----------
    w : shape (..., n_criteria)
        Finite, 0 or more, in any unit.

    Raises
    ------
    ScoringError
        If a weight is not finite or negative, or all are 0.

    Examples
    --------
    >>> normalise([30, 10, 0]).tolist()
    [0.75, 0.25, 0.0]
    """
    return _shares(w, "weights")


def _shares(w, what):
    w = checked_weights(w, what)
    w = w / w.max(axis=-1, keepdims=True)  # first, so that no sum overflows
    return w / w.sum(axis=-1, keepdims=True)


def rank_order_centroid(ranks):
    """Return the mean of all weights that respect this order of importance.

    Parameters
    ----------
    ranks : shape (..., n_criteria)
        1 = most important, one per criterion; only their order counts. Criteria with
        one rank share the mean weight of the places that they cover.

    Source
    ------
    Barron & Barrett (1996), Decision quality using ranked attribute weights, Management
    Science 42(11), doi:10.1287/mnsc.42.11.1515: place k of n weighs
    (1/k + … + 1/n) / n.

    Examples
    --------
    >>> rank_order_centroid([2, 1]).tolist()
    [0.25, 0.75]
    >>> rank_order_centroid([1, 1]).tolist()
    [0.5, 0.5]
    """
    ranks = np.asarray(ranks, float)
    check_finite(ranks, "ranks")
    n = ranks.shape[-1]
    place_weights = np.cumsum(1 / np.arange(n, 0, -1.0))[::-1] / n
    total_to = np.concatenate([[0.0], np.cumsum(place_weights)])
    before = (ranks[..., None] > ranks[..., None, :]).sum(axis=-1)
    through = (ranks[..., None] >= ranks[..., None, :]).sum(axis=-1)
    return (total_to[through] - total_to[before]) / (through - before)


def swing(points):
    """Return weights in proportion to swing points.

    Parameters
    ----------
    points : shape (..., n_criteria)
        What each criterion's swing from worst to best is worth to the buyer, 0 or more;
        by custom the largest swing gets 100.

    Source
    ------
    von Winterfeldt & Edwards (1986), Decision Analysis and Behavioral Research; from
    memory.

    Examples
    --------
    >>> swing([100, 60, 40]).tolist()
    [0.5, 0.3, 0.2]
    """
    return _shares(points, "swing points")


def priced(money_per_swing):
    """Return weights in proportion to what each swing is worth in money a year.

    Parameters
    ----------
    money_per_swing : shape (..., n_criteria)
        What the buyer would pay a year to go from worst to best, 0 or more, in one
        currency.

    Examples
    --------
    >>> priced([6000, 2000]).tolist()
    [0.75, 0.25]
    """
    return _shares(money_per_swing, "prices of the swings")


def rebalance(weights, index, value, locked):
    """Return the weights after one is set and the unlocked others give way.

    Parameters
    ----------
    weights : shape (n_criteria,)
        0 or more, summing to 1.
    index : int
        The criterion that is set.
    value : float or shape (...)
        Its wanted weight, kept between 0 and what the locked ones leave.
    locked : bool, shape (n_criteria,)
        True where a weight must stay; if that of `index` is locked, nothing moves.

    Returns
    -------
    shape (..., n_criteria)
        Summing to 1. The unlocked others keep their proportions, or share equally if
        all of them are 0; where none is left to give way, the weights stay.

    Raises
    ------
    ScoringError
        If a weight or the value is not finite, or a weight is negative, or all are 0.

    Examples
    --------
    >>> rebalance([0.5, 0.25, 0.25], 0, 0.7, [False, False, True]).round(9).tolist()
    [0.7, 0.05, 0.25]
    """
    weights, value = checked_weights(weights), np.asarray(value, float)
    check_finite(value, "values")
    locked = np.asarray(locked, bool)
    gives = ~locked & (np.arange(weights.size) != index)
    moved = np.tile(weights, value.shape + (1,))
    if locked[index] or not gives.any():
        return moved
    left = max(0.0, 1 - weights.sum(where=locked))
    value = np.clip(value, 0, left)
    givers = weights[gives] if weights[gives].any() else np.ones(gives.sum())
    moved[..., gives] = (left - value)[..., None] * normalise(givers)
    moved[..., index] = value
    return moved


def exchange_rates(weights, scale, of):
    """Return how much of one criterion one unit of each criterion is worth.

    On an additive value a unit of criterion c weighs w_c / |best_c − worst_c|; the
    rate is that of c over that of the criterion `of`.

    Parameters
    ----------
    weights : shape (n_criteria,)
        0 or more.
    scale : shape (n_criteria, 2)
        [worst, best] in each criterion's unit.
    of : int
        The criterion in whose units the others are told, such as money a year.

    Returns
    -------
    shape (n_criteria,), units of `of` for one unit of c
        0 or more; NaN where a scale has no span, and all NaN where `of` weighs nothing.

    Source
    ------
    Keeney & Raiffa (1976), Decisions with Multiple Objectives, on trade-offs of an
    additive value; from memory.

    Examples
    --------
    >>> exchange_rates([0.5, 0.25], [[0, 10_000], [30, 5]], of=0).tolist()
    [1.0, 200.0]
    """
    weights = checked_weights(weights)
    worst, best = np.moveaxis(np.asarray(scale, float), -1, 0)
    span = abs(best - worst)
    each = np.divide(weights, span, out=np.full(span.shape, np.nan), where=span > 0)
    if not each[of] > 0:
        return np.full(span.shape, np.nan)
    return each / each[of]


def from_exchange_rates(rates, scale):
    """Return the weights under which one unit of each criterion is worth so much.

    The inverse of `exchange_rates`: a unit of criterion c weighs w_c / |best_c −
    worst_c|, so that w_c is in proportion to its rate times its span.

    Parameters
    ----------
    rates : shape (n_criteria,)
        What one unit of each is worth in units of one of them, 0 or more; its own
        rate is 1.
    scale : shape (n_criteria, 2)
        [worst, best] in each criterion's unit.

    Raises
    ------
    ScoringError
        If a rate is not finite or negative, or all are 0.

    Source
    ------
    Keeney & Raiffa (1976), as for `exchange_rates`; from memory.

    Examples
    --------
    >>> from_exchange_rates([1, 200], [[0, 10_000], [30, 5]]).round(9).tolist()
    [0.666666667, 0.333333333]
    """
    worst, best = np.moveaxis(np.asarray(scale, float), -1, 0)
    return priced(np.asarray(rates, float) * abs(best - worst))


def worth_of_point(weights, scale, of):
    """Return what one whole point of the weighted sum is worth in another's unit.

    On an additive value that is the span of the criterion `of` over its weight.

    Parameters
    ----------
    weights : shape (n_criteria,)
        0 or more, summing to 1.
    scale : shape (..., n_criteria, 2)
        [worst, best] in each criterion's unit.
    of : int
        The criterion in whose units it is told, such as money a year.

    Returns
    -------
    shape (...), units of `of`; NaN where it weighs nothing

    Source
    ------
    Keeney & Raiffa (1976), as for `exchange_rates`; from memory.

    Examples
    --------
    >>> worth_of_point([0.5, 0.5], [[0, 10_000], [30, 5]], of=0).item()
    20000.0
    """
    weight = checked_weights(weights)[of]
    scale = np.asarray(scale, float)[..., of, :]
    span = np.abs(scale[..., 1] - scale[..., 0])
    return span / weight if weight > 0 else np.full(span.shape, np.nan)
