"""How often each alternative takes each rank, and who comes before whom.

Axes are (draw, alternative). What is summed over draws comes in two steps, counts that
can be added chunk by chunk and the shares that follow from them.
"""

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
    n = scores.shape[1]
    alternative, nearest = _in_order(scores)
    n_among = n - np.isnan(scores).sum(axis=1, keepdims=True)
    has_tie = nearest <= 2 * TIE
    if has_tie.any():
        tied = np.flatnonzero(has_tie)
        counts += _tied_counts(scores[tied], alternative[tied], n_among[tied])
        alternative, n_among = alternative[~has_tie], n_among[~has_tie]
    place = np.arange(n)
    cells = alternative * n + place
    if (n_among < n).any():
        cells = cells[place < n_among]
    counts[:, :, 0] += np.bincount(cells.ravel(), minlength=n * n).reshape(n, n)


def _in_order(scores):
    """Return who stands at each place, and how near the nearest neighbours are.

    The bits of a float, read as a whole number, rise with it where it is above 0 and
    fall below; with those below turned over they always rise. The lowest bits give way
    to the alternative's index, so that one sort in place moves both. Scores that differ
    by less than those bits may stand the wrong way round: they are told as tied, and
    their places are found by their true values. NaN stands last, as infinity.
    """
    n_bits = max(scores.shape[1] - 1, 1).bit_length()
    low_bits = np.int64((1 << n_bits) - 1)
    rising = 0.0 - scores  # no zero is below zero
    rising[np.isnan(rising)] = np.inf
    keys = _turned(rising.view(np.int64))
    keys &= ~low_bits
    keys |= np.arange(scores.shape[1])
    keys.sort(axis=1)
    values = _turned(keys & ~low_bits).view(float)
    with np.errstate(invalid="ignore"):  # between two that are ruled out
        gaps = values[:, 1:] - values[:, :-1]
    nearest = np.fmin.reduce(gaps, axis=1, initial=np.inf)
    # What the bits left out may amount to, of the largest score; it adds to a gap.
    last = values[:, [0, -1]]
    if np.isinf(last).any():
        last = np.where(np.isinf(values), 0.0, values)
    return keys & low_bits, nearest - abs(last).max(axis=1) * 2.0 ** (n_bits - 51)


def _turned(bits):
    """Return bits of floats as whole numbers in their order, and back again."""
    turn = bits >> 63
    turn &= np.int64(0x7FFF_FFFF_FFFF_FFFF)
    turn ^= bits
    return turn


def _tied_counts(scores, alternative, n_among):
    """Return rank_counts of draws in which some stand near to one another.

    Who is in a tie does not hang on the order within it: so the places come from the
    true values, sorted, and who stands there from `alternative` – unless scores are so
    large that its bits hide more than a tie.
    """
    n = scores.shape[1]
    is_large = np.abs(scores).max(axis=1, initial=0.0, where=~np.isnan(scores)) > 1e3
    if is_large.any():
        alternative = alternative.copy()
        alternative[is_large] = np.argsort(-scores[is_large], axis=1)
    falling = -np.sort(-scores, axis=1)
    place = np.arange(n)
    starts = np.ones(scores.shape, bool)
    starts[:, 1:] = falling[:, :-1] > falling[:, 1:] + TIE
    first = np.maximum.accumulate(np.where(starts, place, 0), axis=1)
    is_among = place < n_among
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
