"""From figures and weights to an order: the methods of the multi-criteria literature.

Axes are (draw, alternative, criterion); leading axes broadcast. `among`, where a method
takes it, is bool (..., n_alternatives): the others are left out of the comparison, and
what they hold does not matter.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite, checked_weights
from scoring.errors import ScoringError

TIE = 1e-9  # scores this near to one another share a rank
# Distances up to this share of the largest weight are rounding, not a difference.
ROUNDING = 1e-13


class Topsis(NamedTuple):
    """Closeness to the ideal, 0–1, and the two distances that it is made of."""

    closeness: np.ndarray
    to_ideal: np.ndarray
    to_anti_ideal: np.ndarray


def weighted_sum(scores, weights):
    """Return the sum of each alternative's scores times their weights.

    Parameters
    ----------
    scores : shape (..., n_alternatives, n_criteria)
        Finite, more is better, on one common scale.
    weights : shape (..., n_criteria)
        Non-negative, summing to 1 on the last axis; used as they are.

    Returns
    -------
    shape (..., n_alternatives)
        On the scale of the scores.

    Raises
    ------
    ScoringError
        If a score is not finite, a weight is negative, the weights sum to 0 or the
        shapes do not fit.

    Source
    ------
    Fishburn (1967), Additive utilities with incomplete product sets, Operations
    Research 15(3); from memory.

    Examples
    --------
    >>> weighted_sum([[1.0, 0.0], [0.5, 1.0]], [0.75, 0.25]).tolist()
    [0.75, 0.625]
    """
    scores, weights = np.asarray(scores, float), checked_weights(weights)
    _check_fit(scores, weights, "scores")
    check_finite(scores, "scores")
    if scores.ndim == 2 and weights.ndim > 1:
        return weights @ scores.T  # many weights, one table: a matrix product
    return (scores * weights[..., None, :]).sum(axis=-1)


def _check_fit(table, weights, what):
    """Raise ScoringError unless there is a weight for each column of each table."""
    is_table = table.ndim >= 2 and table.shape[-1] == weights.shape[-1]
    if not (is_table and _go_together(table.shape[:-2], weights.shape[:-1])):
        raise ScoringError(
            f"weights of shape {weights.shape} for {what} of shape {table.shape}; "
            "one weight for each column is needed"
        )


def _go_together(*shapes):
    try:
        np.broadcast_shapes(*shapes)
    except ValueError:
        return False
    return True


def topsis(matrix, weights, is_benefit, *, among=None):
    """Return how close each alternative comes to the ideal one.

    Parameters
    ----------
    matrix : shape (..., n_alternatives, n_criteria)
        Finite figures, each column in its own unit. A column of zeros counts nothing.
    weights : shape (..., n_criteria)
        Non-negative, summing to 1 on the last axis. Leading axes are draws.
    is_benefit : bool, shape (n_criteria,)
        True where more is better.
    among : bool, shape (..., n_alternatives), optional
        The alternatives compared; left out, all of them. The others get NaN.

    Returns
    -------
    Topsis(closeness, to_ideal, to_anti_ideal), each of shape (..., n_alternatives)
        Closeness has no unit: 1 is ideal on every criterion, 0 is anti-ideal; a draw in
        which all alternatives are equal (but for rounding) gives 1 to all.

    Raises
    ------
    ScoringError
        If a figure is not finite, a weight is negative, the weights sum to 0 or the
        shapes do not fit.

    Source
    ------
    Hwang & Yoon (1981), Multiple Attribute Decision Making, Springer,
    doi:10.1007/978-3-642-48318-9. Vector normalisation, Euclidean distance.

    Examples
    --------
    >>> topsis([[3.0, 4.0], [4.0, 3.0]], [1.0, 0.0], [True, True]).closeness.tolist()
    [0.0, 1.0]
    """
    matrix, among = _compared(matrix, among)
    weights = checked_weights(weights)
    _check_fit(matrix, weights, "figures")
    _check_senses(matrix, is_benefit)
    signed = np.where(is_benefit, 1.0, -1.0) * weights[..., None, :]
    values = _vector_normalised(matrix) * signed
    inside = np.broadcast_to(among[..., None], values.shape)
    ideal = values.max(axis=-2, keepdims=True, where=inside, initial=-np.inf)
    anti_ideal = values.min(axis=-2, keepdims=True, where=inside, initial=np.inf)
    to_ideal = _distance(ideal - values, inside)
    to_anti_ideal = _distance(values - anti_ideal, inside)
    closeness = _closeness(to_ideal, to_anti_ideal, weights)
    return Topsis(
        *(np.where(among, x, np.nan) for x in (closeness, to_ideal, to_anti_ideal))
    )


def topsis_fixed(scores, weights):
    """Return how close each alternative comes to ideals that no alternative moves.

    The ideal scores 1 on every criterion and the anti-ideal 0, whoever is compared; so
    leaving one out or adding one reverses no two others. Without vector normalisation,
    which would give each criterion another weight than it was told.

    Parameters
    ----------
    scores : shape (..., n_alternatives, n_criteria)
        0–1, more is better, on a fixed scale.
    weights : shape (..., n_criteria)
        Non-negative, summing to 1 on the last axis.

    Returns
    -------
    Topsis(closeness, to_ideal, to_anti_ideal), each of shape (..., n_alternatives)

    Raises
    ------
    ScoringError
        If a score is outside 0–1, a weight is negative, the weights sum to 0 or the
        shapes do not fit.

    Source
    ------
    García-Cascales & Lamata (2012), On rank reversal and TOPSIS method, Mathematical
    and Computer Modelling 56(5–6), doi:10.1016/j.mcm.2011.12.022; from memory.

    Examples
    --------
    >>> topsis_fixed([[1.0, 0.0], [0.5, 0.5]], [0.5, 0.5]).closeness.tolist()
    [0.5, 0.5]
    """
    scores, weights = np.asarray(scores, float), checked_weights(weights)
    _check_fit(scores, weights, "scores")
    check_finite(scores, "scores")
    if ((scores < 0) | (scores > 1)).any():
        raise ScoringError("a score is not between 0 and 1")
    each = weights[..., None, :]
    to_ideal = np.hypot.reduce(each * (1 - scores), axis=-1)
    to_anti_ideal = np.hypot.reduce(each * scores, axis=-1)
    return Topsis(to_anti_ideal / (to_ideal + to_anti_ideal), to_ideal, to_anti_ideal)


def _compared(matrix, among, what="figures"):
    """Return the matrix, 0 in the rows left out, and the mask; figures are finite."""
    matrix = np.asarray(matrix, float)
    if matrix.ndim < 2:
        raise ScoringError(f"{what} of shape {matrix.shape}; a table is needed")
    among = np.ones(matrix.shape[-2], bool) if among is None else among
    among = np.asarray(among, bool)
    _check_among(matrix, among, what)
    matrix = np.where(among[..., None], matrix, 0.0)
    check_finite(matrix, what)
    return matrix, among


def _check_among(matrix, among, what):
    is_row = among.ndim >= 1 and among.shape[-1] == matrix.shape[-2]
    if not (is_row and _go_together(matrix.shape[:-1], among.shape)):
        raise ScoringError(
            f"{matrix.shape[-2]} alternatives have {what}, and a choice of shape "
            f"{among.shape} says who is among them; one for each is needed"
        )


def _check_senses(matrix, is_benefit):
    """Raise ScoringError unless each column is said to be better high or low."""
    if np.shape(is_benefit) != matrix.shape[-1:]:
        raise ScoringError(
            f"{matrix.shape[-1]} criteria, but whether more is better has shape "
            f"{np.shape(is_benefit)}; one for each is needed"
        )


def _vector_normalised(matrix):
    """Return each column divided by its length, scaled first so as not to overflow."""
    largest = abs(matrix).max(axis=-2, keepdims=True, initial=0.0)
    scaled = matrix / np.where(largest > 0, largest, 1.0)
    length = np.sqrt((scaled**2).sum(axis=-2, keepdims=True))
    return scaled / np.where(length > 0, length, 1.0)


def _distance(gaps, inside):
    return np.hypot.reduce(np.where(inside, gaps, 0.0), axis=-1)


def _closeness(to_ideal, to_anti_ideal, weights):
    span = to_ideal + to_anti_ideal
    widest = span.max(axis=-1, keepdims=True, initial=0.0)
    is_tie = widest <= ROUNDING * weights.max(axis=-1, keepdims=True)
    share = to_anti_ideal / np.where(span > 0, span, 1.0)
    return np.where(is_tie, 1.0, share)


def pareto_front(matrix, is_benefit, *, among=None):
    """Return which alternatives no other one dominates.

    One dominates another if it is nowhere worse and somewhere better; equal ones do not
    dominate each other.

    Parameters
    ----------
    matrix : shape (..., n_alternatives, n_criteria)
        Finite figures, each column in its own unit.
    is_benefit : bool, shape (n_criteria,)
        True where more is better.
    among : bool, shape (..., n_alternatives), optional
        The alternatives compared; left out, all of them. The others get False.

    Returns
    -------
    bool, shape (..., n_alternatives)

    Raises
    ------
    ScoringError
        If a figure is not finite.

    Examples
    --------
    >>> pareto_front([[1, 5], [2, 6], [2, 4]], [False, True]).tolist()
    [True, True, False]
    """
    matrix, among = _compared(matrix, among)
    _check_senses(matrix, is_benefit)
    values = np.where(is_benefit, matrix, -matrix)
    mine, theirs = values[..., :, None, :], values[..., None, :, :]
    dominates = (mine >= theirs).all(axis=-1) & (mine > theirs).any(axis=-1)
    is_dominated = (dominates & among[..., :, None]).any(axis=-2)
    return among & ~is_dominated


def ranks(scores, *, among=None):
    """Return each alternative's rank: 1 is best, and ties share the lowest number.

    Neighbours in the order that are within 1e-9 of each other tie, and so does a chain
    of them: a tie with a tie is a tie. The rank after k tied ones is k higher.

    Parameters
    ----------
    scores : shape (..., n_alternatives)
        Finite, more is better.
    among : bool, shape (..., n_alternatives), optional
        The alternatives compared; left out, all of them. The others get 0.

    Returns
    -------
    int, shape (..., n_alternatives)

    Raises
    ------
    ScoringError
        If a score is not finite.

    Examples
    --------
    >>> ranks([0.2, 0.7, 0.7, 0.1]).tolist()
    [3, 1, 1, 4]
    """
    matrix, among = _compared(np.asarray(scores, float)[..., None], among, "scores")
    scores, among = np.broadcast_arrays(matrix[..., 0], among)
    # Those left out stand with the last: that moves nobody's place from the front.
    last = scores.min(axis=-1, keepdims=True, initial=0.0)
    scores = np.where(among, scores, last)
    order = np.argsort(-scores, axis=-1, kind="stable")
    falling = np.take_along_axis(scores, order, axis=-1)
    is_lower = falling[..., :-1] > falling[..., 1:] + TIE
    places = np.zeros(scores.shape, int)
    places[..., 1:] = np.where(is_lower, np.arange(1, scores.shape[-1]), 0)
    first = np.maximum.accumulate(places, axis=-1) + 1
    return np.where(among, np.take_along_axis(first, np.argsort(order, -1), -1), 0)


def kendall_tau(ranks_a, ranks_b):
    """Return how far two rankings agree: 1 in everything, −1 reversed.

    None with fewer than two alternatives, or where one ranking ties all of them.

    Parameters
    ----------
    ranks_a, ranks_b : shape (n_alternatives,)

    Returns
    -------
    float or None
        τ-b, which corrects for ties.

    Raises
    ------
    ScoringError
        If a rank is not finite, or the rankings are not of the same alternatives.

    Source
    ------
    Kendall (1945), The treatment of ties in ranking problems, Biometrika 33(3); from
    memory. By the definition, over all pairs: a library for it takes half a second to
    import, and every ranking shows this figure. Tests compare with scipy's.

    Examples
    --------
    >>> kendall_tau([1, 2, 3], [3, 2, 1])
    -1.0
    >>> kendall_tau([1, 1, 1], [1, 2, 3]) is None
    True
    """
    ranks_a, ranks_b = np.asarray(ranks_a, float), np.asarray(ranks_b, float)
    if ranks_a.ndim != 1 or ranks_a.shape != ranks_b.shape:
        raise ScoringError(
            f"rankings of shape {ranks_a.shape} and {ranks_b.shape}; one rank in each "
            "for every alternative is needed"
        )
    for each in (ranks_a, ranks_b):
        check_finite(each, "ranks")
    if np.unique(ranks_a).size < 2 or np.unique(ranks_b).size < 2:
        return None
    before_a, before_b = (
        np.sign(np.subtract.outer(ranks, ranks)) for ranks in (ranks_a, ranks_b)
    )
    untied = (before_a**2).sum() * (before_b**2).sum()
    return float((before_a * before_b).sum() / np.sqrt(untied))
