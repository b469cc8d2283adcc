"""How often each alternative takes each rank, and who comes before whom.

Axes are (draw, alternative). What is summed over draws comes in two steps, counts that
can be added chunk by chunk and the shares that follow from them.
"""

import numpy as np

from scoring.decision.ranking import TIE, ranks
from scoring.errors import ScoringError

CHUNK = 2048  # draws sorted at a time: 40 alternatives then stay in the cache


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
        rising = -scores[start : start + CHUNK]
        order = np.argsort(rising, axis=1)  # NaN goes last
        ordered = np.take_along_axis(rising, order, axis=1)
        has_tie = (ordered[:, 1:] <= ordered[:, :-1] + TIE).any(axis=1)
        if has_tie.any():
            counts += _tied_counts(-rising[has_tie])
            order, ordered = order[~has_tie], ordered[~has_tie]
        cells = order * n + np.arange(n)
        if np.isnan(ordered[:, -1:]).any():
            cells = cells[~np.isnan(ordered)]
        counts[:, :, 0] += np.bincount(cells.ravel(), minlength=n * n).reshape(n, n)
    return counts


def _tied_counts(scores):
    """Return rank_counts by the ranks themselves: slower, but ties are seen."""
    n = scores.shape[1]
    among = ~np.isnan(scores)
    first = ranks(scores, among=among)
    draw, alternative = np.nonzero(among)
    first = first[among] - 1
    place = draw * n + first
    size = np.bincount(place)[place]
    cells = (alternative * n + first) * n + size - 1
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
