"""How often each alternative takes each rank, and who comes before whom.

Axes are (draw, alternative). What is summed over draws comes in two steps, counts that
can be added chunk by chunk and the shares that follow from them.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.ranking import TIE, ranks
from scoring.decision.weights import check_finite
from scoring.errors import ScoringError

CHUNK = 1024  # draws sorted at a time: 40 alternatives then stay in the cache


def rank_acceptability(scores):
    """Return the share of draws in which each alternative takes each rank.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw, so without a rank.

    Returns
    -------
    shape (n_alternatives, n_alternatives)
        Row i, column r: the share of draws, 0–1, in which i has rank r + 1. Ties, as in
        `ranks`, split their share evenly over the ranks that they cover. A row sums to
        1 less the share of draws in which i is ruled out.

    Raises
    ------
    ScoringError
        If a score is infinite or there is no draw.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, Operations Research 49(3),
    doi:10.1287/opre.49.3.444.11220. There tied alternatives all have the better rank;
    here they split the ranks, so that each rank's shares sum to 1.

    Examples
    --------
    >>> rank_acceptability([[3.0, 2.0], [1.0, 2.0], [4.0, 4.0], [5.0, 1.0]]).tolist()
    [[0.625, 0.375], [0.375, 0.625]]
    """
    return acceptability_of(rank_counts(scores), len(scores))


def rank_counts(scores):
    """Return in how many draws each alternative stands where, in a tie of how many.

    Counts of two chunks of draws may be added: they are whole, so the result is the
    same on any number of chunks.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw.

    Returns
    -------
    int, shape (n_alternatives, n_alternatives, n_alternatives)
        [i, r, k - 1]: draws in which i and k - 1 others share the ranks from r + 1 on.

    Raises
    ------
    ScoringError
        If a score is infinite.
    """
    scores = checked_scores(scores)
    n = scores.shape[1]
    counts = np.zeros((n, n, n), int)
    for start in range(0, len(scores), CHUNK):
        _count(counts, scores[start : start + CHUNK])
    return counts


def counts_of_weights(scores, weights):
    """Return rank_counts of one decision matrix under many weights.

    Product and counting go chunk by chunk, so that sums are counted while they are in
    the cache.

    Parameters
    ----------
    scores : shape (n_alternatives, n_criteria), finite
    weights : shape (n_draws, n_criteria), 0 or more, each row summing to more than 0

    Raises
    ------
    ScoringError
        If a score or a weight is not finite, or a weight is negative.

    Examples
    --------
    >>> counts = counts_of_weights([[1.0, 0.0], [0.0, 1.0]], [[0.6, 0.4], [0.2, 0.8]])
    >>> acceptability_of(counts, 2).tolist()
    [[0.5, 0.5], [0.5, 0.5]]
    """
    scores, weights = np.asarray(scores, float), np.asarray(weights, float)
    check_finite(scores, "scores")
    check_finite(weights, "weights")
    if weights.min(initial=0.0) < 0:
        raise ScoringError(f"a weight is {weights.min():g}; each must be 0 or more")
    n = len(scores)
    counts = np.zeros((n, n, n), int)
    for start in range(0, len(weights), CHUNK):
        some = weights[start : start + CHUNK]
        _count(counts, (some @ scores.T) / some.sum(axis=1, keepdims=True))
    return counts


def _count(counts, scores):
    """Add the draws of a chunk to counts."""
    n, n_draws = scores.shape[1], len(scores)
    order = _in_order(scores)
    is_out = np.isnan(scores) if order.has_out else None
    n_among = n - (is_out.sum(axis=1) if order.has_out else np.zeros(n_draws, int))
    alternative = order.alternative
    if order.has_tie.any():
        tied = np.flatnonzero(order.has_tie)
        who = alternative[tied] if order.is_fine else np.argsort(-scores[tied], axis=1)
        counts += _tied_counts(scores[tied], who, n_among[tied])
        alternative, n_among = alternative[~order.has_tie], n_among[~order.has_tie]
    place = np.arange(n)
    cells = alternative * n
    cells += place
    if order.has_out:
        cells = cells[place < n_among[:, None]]
    counts[:, :, 0] += np.bincount(cells.ravel(), minlength=n * n).reshape(n, n)


class _Order(NamedTuple):
    """Draws in order; what is near a tie is told, and not settled here."""

    alternative: np.ndarray  # (draw, place): who stands there, ruled out last
    has_tie: np.ndarray  # bool (draw,): neighbours nearer than twice a tie
    is_fine: bool  # False: scores so large that near ones may stand the wrong way
    has_out: bool  # whether somebody is ruled out in some draw


def _in_order(scores):
    """Return the _Order of a chunk of draws.

    Scores become whole numbers of so many digits that they and the alternative's index
    below them fill 62 bits: one sort in place moves both. What the digits leave out is
    far below a tie, but for scores above some thousands: then all draws are told as
    near a tie. Who is ruled out gets a place of their own far behind.
    """
    n = scores.shape[1]
    n_bits = max(n - 1, 1).bit_length()
    bound = max(np.fmax.reduce(scores, axis=None, initial=1.0), 1.0)
    bound = max(bound, -np.fmin.reduce(scores, axis=None, initial=-1.0))
    digits = 60 - n_bits - int(np.frexp(bound)[1])
    whole = scores * -(2.0**digits)
    has_out = bool(np.isnan(whole.sum()))
    if has_out:
        behind = (2 + np.arange(n) / n) * bound * 2.0**digits
        whole = np.where(np.isnan(whole), behind, whole)
    keys = whole.astype(np.int64)
    keys <<= n_bits
    keys |= np.arange(n)
    keys.sort(axis=1)
    near = 2 * TIE * 2.0**digits
    gaps = keys[:, 1:] - keys[:, :-1]
    has_tie = (gaps <= (int(near) + 2 << n_bits)).any(axis=1)
    keys &= (1 << n_bits) - 1
    is_fine = near > 16
    return _Order(keys, has_tie | (not is_fine), is_fine, has_out)


def _tied_counts(scores, alternative, n_among):
    """Return rank_counts of draws in which some stand near to one another.

    Who is in a tie does not hang on the order within it: so the places come from the
    true values, sorted, and who stands there from `alternative`.
    """
    n = scores.shape[1]
    falling = -np.sort(-scores, axis=1)
    place = np.arange(n)
    starts = np.ones(scores.shape, bool)
    starts[:, 1:] = falling[:, :-1] > falling[:, 1:] + TIE
    first = np.maximum.accumulate(np.where(starts, place, 0), axis=1)
    is_among = place < n_among[:, None]
    draw = np.arange(len(scores))[:, None]
    group = (draw * n + first)[is_among]
    size = np.bincount(group, minlength=len(scores) * n)[group]
    cells = (alternative[is_among] * n + first[is_among]) * n + size - 1
    return np.bincount(cells, minlength=n**3).reshape(n, n, n)


def acceptability_of(counts, n_draws):
    """Return the rank acceptability, as `rank_acceptability`, from rank_counts."""
    check_draws(n_draws)
    n = counts.shape[0]
    each = counts / np.arange(1, n + 1)
    shares = np.zeros((n, n))
    for step in range(n):  # the rank `step` after the first, in a tie of more than that
        shares[:, step:] += each[:, : n - step, step:].sum(axis=-1)
    return shares / n_draws


def pairwise_order(scores):
    """Return the share of draws in which one alternative comes before another.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw, which is behind all that are not.

    Returns
    -------
    shape (n_alternatives, n_alternatives)
        Row i, column j: the share, 0–1, in which i comes before j; a tie, or both ruled
        out, counts half. So [i, j] + [j, i] = 1, and 1/2 on the diagonal.

    Raises
    ------
    ScoringError
        If a score is infinite or there is no draw.

    Examples
    --------
    >>> pairwise_order([[3.0, 2.0], [1.0, 1.0], [2.0, 1.0], [2.0, 1.0]])[0].tolist()
    [0.5, 0.875]
    """
    return order_of(order_counts(scores), len(scores))


def order_counts(scores):
    """Return in how many draws i comes before j, ties left out: int, shape (n, n).

    Counts of two chunks of draws may be added. Scores as in `pairwise_order`.
    """
    scores = checked_scores(scores)
    n = scores.shape[1]
    counts = np.zeros((n, n), int)
    for start in range(0, len(scores), CHUNK):
        chunk = scores[start : start + CHUNK]
        among = ~np.isnan(chunk)
        places = np.where(among, ranks(chunk, among=among), n + 1).astype(np.int32)
        for i in range(n):
            counts[i] += (places[:, i, None] < places).sum(axis=0)
    return counts


def order_of(counts, n_draws):
    """Return the shares of `pairwise_order` from order_counts."""
    check_draws(n_draws)
    return (counts + (n_draws - counts.T)) / (2 * n_draws)


def checked_scores(scores):
    scores = np.asarray(scores, float)
    if scores.ndim != 2 or scores.shape[1] == 0:
        raise ScoringError(
            f"scores of shape {scores.shape}; (draws, alternatives) is needed"
        )
    if np.isinf(scores).any():
        raise ScoringError(
            "a score is infinite; each must be finite, or NaN where ruled out"
        )
    return scores


def check_draws(n_draws):
    if n_draws < 1:
        raise ScoringError(f"{n_draws} draws; at least 1 is needed")
