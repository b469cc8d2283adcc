"""Several people's rankings of the same alternatives: how far they agree, who wins.

Ranks are (rater, alternative), 1 the best; tied alternatives share the mean of the
places that they cover, so that each rater's ranks have one sum.
"""

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError


def kendall_w(ranks):
    """Return Kendall's coefficient of concordance W, corrected for ties.

    Parameters
    ----------
    ranks : shape (n_raters, n_alternatives)
        Finite; of each rater only the order counts. Two of each or more.

    Returns
    -------
    float
        0 (no agreement) to 1 (all alike), without unit.

    Raises
    ------
    ScoringError
        If the shape is another, a rank is not finite, or every rater ties all.

    Source
    ------
    Kendall & Babington Smith (1939), The problem of m rankings, Annals of Mathematical
    Statistics 10(3), 275–287, doi:10.1214/aoms/1177732186; the correction for ties as
    in Kendall & Gibbons (1990), Rank Correlation Methods, 5th ed., ch. 6.

    Examples
    --------
    >>> kendall_w([[1, 2, 3], [1, 2, 3]])
    1.0
    """
    ranks = _shared_ranks(ranks)
    n_raters, n = ranks.shape
    if n_raters < 2 or n < 2:
        raise ScoringError(
            f"ranks of shape {ranks.shape}; two raters and two alternatives or more"
        )
    sums = ranks.sum(axis=0)
    spread = ((sums - sums.mean()) ** 2).sum()
    most = n_raters**2 * (n**3 - n) - n_raters * _ties(ranks)
    if most <= 0:
        raise ScoringError("every rater ties all alternatives; some must be told apart")
    return float(12 * spread / most)


def borda(ranks):
    """Return each alternative's Borda points: n for a first place, 1 for the last.

    Those who tie share their points, so that a rater's sum to n (n + 1)/2.

    Parameters
    ----------
    ranks : shape (n_raters, n_alternatives)
        Finite; of each rater only the order counts.

    Returns
    -------
    shape (n_alternatives,), n_raters to n_raters · n_alternatives

    Raises
    ------
    ScoringError
        If the shape is another or a rank is not finite.

    Source
    ------
    Borda (1781), Mémoire sur les élections au scrutin, from memory; some tables
    give 0 for the last place.

    Examples
    --------
    >>> borda([[1, 2, 3], [2, 1, 3]]).tolist()
    [5.0, 5.0, 2.0]
    """
    ranks = _shared_ranks(ranks)
    return (ranks.shape[1] + 1 - ranks).sum(axis=0)


def _shared_ranks(ranks):
    """Return each rater's ranks as 1, 2 …, those tied at the mean of their places."""
    ranks = np.asarray(ranks, dtype=float)
    if ranks.ndim != 2 or 0 in ranks.shape:
        raise ScoringError(f"ranks of shape {ranks.shape}; (raters, alternatives)")
    check_finite(ranks, "ranks")
    before = (ranks[:, None, :] < ranks[:, :, None]).sum(axis=-1)
    level = (ranks[:, None, :] == ranks[:, :, None]).sum(axis=-1)
    return before + (level + 1) / 2


def _ties(ranks):
    """Return Σ (t³ − t) over the groups of tied ranks of all raters."""
    level = (ranks[:, None, :] == ranks[:, :, None]).sum(axis=-1)
    return float((level**2 - 1).sum())  # each of t tied counts t² − 1, t of them
