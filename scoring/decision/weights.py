"""How much each criterion counts: shares that sum to 1 on the last axis."""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

# Mean consistency index of 500 000 random judgement matrices, by number of criteria:
# ahpsurvey 0.4.1 (R package), read in its documentation. Saaty's own table of 1980
# (0.58, 0.90, 1.12, … for 3, 4, 5) rests on fewer matrices and stops at 10 criteria.
RANDOM_INDEX = dict(enumerate((
    0.0, 0.0, 0.5251686, 0.8836651, 1.1081014, 1.2492774, 1.3415514, 1.4048466,
    1.4507197, 1.4857266, 1.5141022, 1.5356638, 1.5545925, 1.5703498, 1.5839958,
), start=1))  # fmt: skip
# 1/7 may be written as 0.14: a judgement and its mirror need not multiply to exactly 1.
RECIPROCAL_SLACK = 0.05


class Pairwise(NamedTuple):
    """Weights from pairwise judgements, and how far the judgements contradict."""

    weights: np.ndarray
    consistency_ratio: np.ndarray


def check_finite(figures, what):
    """Raise ScoringError if a figure is NaN or infinite."""
    is_finite = np.isfinite(figures)
    if not is_finite.all():
        bad = float(figures[~is_finite][0])
        raise ScoringError(f"the {what} hold {bad!r}; each must be a finite number")


def checked_weights(w, what="weights"):
    """Return w as floats; ScoringError unless finite, 0 or more, not all 0."""
    w = np.asarray(w, float)
    check_finite(w, what)
    if (w < 0).any():
        bad = float(w[w < 0][0])
        raise ScoringError(f"the {what} hold {bad!r}; each must be 0 or more")
    if not (w > 0).any(axis=-1).all():
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


def pairwise(judgements):
    """Return weights from pairwise judgements, and their consistency ratio.

    Parameters
    ----------
    judgements : shape (..., n_criteria, n_criteria)
        Row i, column j: how many times criterion i matters as much as j. Above 0, ones
        on the diagonal; the mirrored judgement is the reciprocal (within 5 %, so that
        1/7 may be written 0.14). At most 15 criteria.

    Returns
    -------
    Pairwise(weights, consistency_ratio), shapes (..., n_criteria) and (...)
        The principal eigenvector, summing to 1. A ratio of 0 is free of contradiction,
        1 is as contradictory as random judgements; by custom above 0.1 is too much.

    Raises
    ------
    ScoringError
        If the judgements are not such a table.

    Source
    ------
    Saaty (1980), The Analytic Hierarchy Process, McGraw-Hill. The random index is the
    simulated one of RANDOM_INDEX, not Saaty's.

    Examples
    --------
    >>> weights, consistency_ratio = pairwise([[1, 3], [1 / 3, 1]])
    >>> weights.round(9).tolist(), float(consistency_ratio)
    ([0.75, 0.25], 0.0)
    """
    judgements = _checked_judgements(judgements)
    n = judgements.shape[-1]
    values, vectors = np.linalg.eig(judgements)
    principal = values.real.argmax(axis=-1)[..., None]
    largest = np.take_along_axis(values.real, principal, axis=-1)[..., 0]
    vector = np.take_along_axis(vectors, principal[..., None, :], axis=-1)[..., 0]
    if n <= 2:  # nothing that could contradict
        return Pairwise(normalise(abs(vector)), np.zeros_like(largest))
    consistency_index = np.maximum(largest - n, 0.0) / (n - 1)
    return Pairwise(normalise(abs(vector)), consistency_index / RANDOM_INDEX[n])


def _checked_judgements(judgements):
    judgements = np.asarray(judgements, float)
    shape = judgements.shape
    if len(shape) < 2 or shape[-1] != shape[-2]:
        raise ScoringError(
            f"the judgements have shape {shape}; as many rows as columns are needed"
        )
    if shape[-1] not in RANDOM_INDEX:
        raise ScoringError(
            f"judgements of {shape[-1]} criteria; 1 to {max(RANDOM_INDEX)} are allowed"
        )
    is_bad = ~(np.isfinite(judgements) & (judgements > 0))
    if is_bad.any():
        bad = float(judgements[is_bad][0])
        raise ScoringError(
            f"the judgements hold {bad!r}; each must be a finite number above 0"
        )
    _check_mirrored(judgements)
    return judgements


def _check_mirrored(judgements):
    mirrored = np.swapaxes(judgements, -1, -2)
    is_off = abs(judgements * mirrored - 1) > RECIPROCAL_SLACK
    if is_off.any():
        place = tuple(np.argwhere(is_off)[0])
        i, j = place[-2] + 1, place[-1] + 1
        if i == j:
            raise ScoringError(
                f"the judgement of criterion {i} over itself is "
                f"{float(judgements[place])!r}; it must be 1"
            )
        raise ScoringError(
            f"the judgement of criterion {i} over {j} is {float(judgements[place])!r} "
            f"and of {j} over {i} is {float(mirrored[place])!r}; "
            "one must be 1 divided by the other"
        )


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
