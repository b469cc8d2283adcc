"""How often each alternative takes each rank, and who comes before whom.

Axes are (draw, alternative). What is summed over draws comes in two steps, counts that
can be added chunk by chunk and the shares that follow from them.
"""

import numpy as np

from scoring.decision.ordering import CHUNK, INFINITE, in_order, runs, spread, tiled
from scoring.decision.weights import check_finite, checked_weights, normalise
from scoring.errors import ScoringError

HUGE = 1e300  # weights above this might sum to infinity


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
    scores = _shaped(scores)
    n = scores.shape[1]
    cells = np.zeros(2 * n**3, int)
    for start in range(0, len(scores), CHUNK):
        _count(cells, scores[start : start + CHUNK])
    return _counts_of_cells(cells, n)


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
        If a score or a weight is not finite, a weight is negative, the weights of a
        draw sum to 0, or the shapes do not fit.

    Examples
    --------
    >>> counts = counts_of_weights([[1.0, 0.0], [0.0, 1.0]], [[0.6, 0.4], [0.2, 0.8]])
    >>> acceptability_of(counts, 2).tolist()
    [[0.5, 0.5], [0.5, 0.5]]
    """
    scores, weights = _checked_table(scores, weights)
    if weights.max(initial=0.0) > HUGE:
        weights = normalise(weights)
    totals = weights @ np.ones(weights.shape[1])
    n = len(scores)
    cells = np.zeros(2 * n**3, int)
    for start in range(0, len(weights), CHUNK):
        some = slice(start, start + CHUNK)
        _count(cells, (weights[some] / totals[some, None]) @ scores.T)
    return _counts_of_cells(cells, n)


def _checked_table(scores, weights):
    scores, weights = np.asarray(scores, float), np.asarray(weights, float)
    if not scores.ndim == weights.ndim == 2 or scores.shape[1] != weights.shape[1]:
        raise ScoringError(
            f"scores of shape {scores.shape} for weights of shape {weights.shape}; "
            "(alternatives, criteria) and (draws, criteria) are needed"
        )
    check_finite(scores, "scores")
    return scores, checked_weights(weights)


def _counts_of_cells(cells, n):
    """Return the counts from cells [k - 1, r, i], as `rank_counts` has them.

    Ties are of few as a rule, so that the cells in use lie close together; i ends at
    2n, for who is ruled out in a draw is n further.
    """
    return cells.reshape(n, n, 2 * n)[:, :, :n].transpose(2, 1, 0).copy()


def _count(cells, scores):
    """Add the draws of a chunk to the cells."""
    n = scores.shape[1]
    who, starts = in_order(scores)
    n_tied = 0 if starts is None else starts.size - np.count_nonzero(starts)
    if n_tied > who.size // 8:
        ties = spread(_ties(starts, n), starts)
    else:
        ties = tiled(n, 2 * n)[: who.size]  # each alone
    times = np.bincount(who + ties)
    cells[: times.size] += times
    if 0 < n_tied <= who.size // 8:
        _move_tied(cells, who, np.flatnonzero(~starts), n)


def _ties(starts, n):
    """Return the cell of i = 0 for each tie; one alone is a tie of 1.

    Cells of one size lie 2n² apart, those of one place 2n.
    """
    first, sizes = runs(starts)
    ties = tiled(n, 2 * n)[first]
    ties += 2 * n * n * (sizes - 1)
    return ties


def _move_tied(cells, who, tied, n):
    """Move those in ties from where they were counted alone; tied: who follows one.

    Where ties are few this spares a look at everybody else.
    """
    begins, more = runs(np.diff(tied, prepend=-1) != 1)
    first = tied[begins] - 1
    flat = np.concatenate([first, tied])
    ties = first % n * (2 * n) + more * (2 * n * n)
    ties = np.concatenate([ties, np.repeat(ties, more)])
    np.subtract.at(cells, who[flat] + flat % n * (2 * n), 1)
    np.add.at(cells, who[flat] + ties, 1)


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
    scores = _shaped(scores)
    n = scores.shape[1]
    counts = np.zeros((n, n), int)
    for start in range(0, len(scores), CHUNK):
        place = _first_places(scores[start : start + CHUNK])
        for i in range(n):
            is_before = np.packbits(place[i] < place, axis=1)
            counts[i] += np.bitwise_count(is_before).sum(axis=1, dtype=int)
    return counts


def _first_places(scores):
    """Return the first place of each one's tie, (alternative, draw); n: ruled out."""
    n, n_draws = scores.shape[1], len(scores)
    order = in_order(scores)
    first = tiled(n, 1)[: order.who.size]
    if order.starts is not None:
        first = spread(first[order.starts], order.starts)
    place = np.full((2 * n, n_draws), n, np.int16)
    place[order.who, np.repeat(np.arange(n_draws), n)] = first
    return place[:n]


def order_of(counts, n_draws):
    """Return the shares of `pairwise_order` from order_counts."""
    check_draws(n_draws)
    return (counts + (n_draws - counts.T)) / (2 * n_draws)


def checked_scores(scores):
    scores = _shaped(scores)
    if np.isinf(scores).any():
        raise ScoringError(INFINITE)
    return scores


def _shaped(scores):
    scores = np.asarray(scores, float)
    if scores.ndim != 2 or scores.shape[1] == 0:
        raise ScoringError(
            f"scores of shape {scores.shape}; (draws, alternatives) is needed"
        )
    return scores


def check_draws(n_draws):
    if n_draws < 1:
        raise ScoringError(f"{n_draws} draws; at least 1 is needed")
