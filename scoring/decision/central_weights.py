"""What a buyer cares for whom each alternative serves best, and how surely."""

from typing import NamedTuple

import numpy as np

from scoring.decision.acceptability import check_draws, checked_scores
from scoring.decision.ranking import TIE
from scoring.decision.weights import check_finite
from scoring.errors import ScoringError


class CentralSums(NamedTuple):
    """First places won, shape (n,), and the weights they were won with, (n, m)."""

    firsts: np.ndarray
    weights: np.ndarray


def central_weights(weights, scores):
    """Return the mean of the weights with which each alternative is first.

    Parameters
    ----------
    weights : shape (n_draws, n_criteria)
        The weights of each draw.
    scores : shape (n_draws, n_alternatives)
        What came of them; more is better. NaN: ruled out in that draw.

    Returns
    -------
    shape (n_alternatives, n_criteria)
        What a buyer cares for who is best served by i. A draw in which k tie for first
        counts 1/k for each, so that the rows, weighed by the first-rank acceptability,
        sum to the mean of all weights. NaN in the row of one that is never first.

    Raises
    ------
    ScoringError
        If a score is infinite, a weight is not finite, or the draws differ in number.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, doi:10.1287/opre.49.3.444.11220; ties split.

    Examples
    --------
    >>> central_weights([[0.9, 0.1], [0.7, 0.3]], [[2.0, 1.0], [5.0, 3.0]]).round(9)
    array([[0.8, 0.2],
           [nan, nan]])
    """
    return central_of(central_sums(weights, scores))


def central_sums(weights, scores):
    """Return what `central_weights` sums over draws; chunks by `added`."""
    weights, scores = np.asarray(weights, float), checked_scores(scores)
    check_finite(weights, "weights")
    if weights.ndim != 2 or len(weights) != len(scores):
        raise ScoringError(
            f"weights of shape {weights.shape} for scores of shape {scores.shape}; "
            "one row of weights a draw is needed"
        )
    is_first = _is_first(scores)
    tied = is_first.sum(axis=1, keepdims=True)
    share = is_first / np.maximum(tied, 1)
    return CentralSums(share.sum(axis=0), share.T @ weights)


def central_of(sums):
    """Return the central weights from central_sums."""
    firsts = np.where(sums.firsts > 0, sums.firsts, np.nan)
    return sums.weights / firsts[:, None]


def confidence(scores):
    """Return the share of draws in which each is first under its central weights.

    Low: even a buyer with the very taste that suits it could not be sure of it, for
    want of evidence.

    Parameters
    ----------
    scores : shape (n_alternatives, n_draws, n_alternatives)
        [i, d]: the scores of all in draw d of the evidence, with the central weights of
        alternative i. NaN: ruled out in that draw; all of [i] where i has none.

    Returns
    -------
    shape (n_alternatives,)
        Shares, 0–1; a draw in which k tie for first counts 1/k.

    Raises
    ------
    ScoringError
        If a score is infinite, there is no draw or the shape is another.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, confidence factor,
    doi:10.1287/opre.49.3.444.11220; ties split.

    Examples
    --------
    >>> confidence([[[2.0, 1.0], [1.0, 3.0]], [[1.0, 2.0], [1.0, 3.0]]]).tolist()
    [0.5, 1.0]
    """
    return confidence_of(first_counts(scores), np.shape(scores)[1])


def first_counts(scores):
    """Return in how many draws each is first in a tie of how many, int (n, n).

    [i, k - 1]: draws in which i and k - 1 others are first under i's central weights.
    Counts of two chunks of draws may be added. Scores as in `confidence`.
    """
    scores = np.asarray(scores, float)
    if scores.ndim != 3 or scores.shape[0] != scores.shape[2]:
        raise ScoringError(
            f"scores of shape {scores.shape}; (alternatives, draws, alternatives) is "
            "needed"
        )
    n = scores.shape[0]
    counts = np.zeros((n, n), int)
    for i in range(n):
        is_first = _is_first(checked_scores(scores[i]))
        tied = is_first.sum(axis=1)[is_first[:, i]]
        counts[i] = np.bincount(tied - 1, minlength=n)
    return counts


def confidence_of(counts, n_draws):
    """Return the confidence factors from first_counts."""
    check_draws(n_draws)
    return (counts / np.arange(1, len(counts) + 1)).sum(axis=-1) / n_draws


def _is_first(scores):
    """Return who has rank 1 in each draw, as `ranks` has it, without a sort."""
    lowest = np.fmax.reduce(scores, axis=1, keepdims=True)
    while True:  # a tie with a tie is a tie: go down the chain until it breaks
        is_first = scores + TIE >= lowest
        reached = scores.min(axis=1, keepdims=True, where=is_first, initial=np.inf)
        if not (reached < lowest).any():
            return is_first
        lowest = np.fmin(lowest, reached)
