"""Several people's rankings, weights and estimates: how far they agree, what wins.

Ranks are (rater, alternative), 1 the best; tied alternatives share the mean of the
places that they cover, so that each rater's ranks have one sum.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite, checked_weights, normalise
from scoring.errors import ScoringError


class Concordance(NamedTuple):
    """How far raters agree, and how easily chance alone would agree as far."""

    w: float  # 0 to 1
    chi2: float
    freedom: int
    p: float  # 0 to 1


class Pooled(NamedTuple):
    """Several people's three-point estimates as one, and how far they lie apart."""

    low: float
    likely: float
    high: float
    apart: float  # standard deviation of the likely values, in the unit
    between: float  # 0–1: the share of the variance that is disagreement
    share_no_overlap: float  # 0–1: of the pairs, those whose ranges do not meet


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


def concordance(ranks):
    """Return the Concordance of some raters: W, and its p by the χ² approximation.

    Parameters
    ----------
    ranks : shape (n_raters, n_alternatives)
        As for `kendall_w`. The approximation is fair from 8 alternatives, or from
        about 20 raters of fewer; else p is too high.

    Raises
    ------
    ScoringError
        As `kendall_w`.

    Source
    ------
    χ² = m (n − 1) W with n − 1 degrees of freedom: Kendall & Babington Smith (1939),
    as for `kendall_w`; the same as Friedman's test.

    Examples
    --------
    >>> concordance([[1, 2, 3], [1, 2, 3], [1, 2, 3]]).chi2
    6.0
    """
    from scipy.special import chdtrc  # only here: it takes a while

    w = kendall_w(ranks)
    n_raters, n = np.shape(ranks)
    chi2 = n_raters * (n - 1) * w
    return Concordance(w, chi2, n - 1, float(chdtrc(n - 1, chi2)))


def geometric_mean(weights):
    """Return one set of weights of several people's: geometric mean, summing to 1.

    What one person calls nothing counts nothing for the group.

    Parameters
    ----------
    weights : shape (n_people, n_criteria)
        Finite, 0 or more; each person's are first brought to sum 1.

    Returns
    -------
    shape (n_criteria,)

    Raises
    ------
    ScoringError
        If a weight is not finite or negative, one person's are all 0, or no criterion
        is left that all of them weigh.

    Source
    ------
    Aczél & Saaty (1983), Procedures for synthesizing ratio judgements, Journal of
    Mathematical Psychology 27, 93–102: the one mean that keeps ratios; for priorities
    Forman & Peniwati (1998), European Journal of Operational Research 108, 165–169.

    Examples
    --------
    >>> geometric_mean([[0.8, 0.2], [0.2, 0.8]]).tolist()
    [0.5, 0.5]
    """
    weights = checked_weights(weights)
    if weights.ndim != 2:
        raise ScoringError(f"weights of shape {weights.shape}; (people, criteria)")
    with np.errstate(divide="ignore"):
        logs = np.log(normalise(weights)).mean(axis=0)
    if np.isneginf(logs).all():
        raise ScoringError(
            "no criterion is weighed by all; at least one must be above 0 for everybody"
        )
    return normalise(np.exp(logs - logs.max()))


def pooled(low, likely, high):
    """Return the Pooled of several people's estimates, each with the same weight.

    The pool is the mean of their distributions, each Beta-PERT (λ = 4): its variance is
    what each is unsure of, plus how far their means lie apart.

    Parameters
    ----------
    low, likely, high : shape (n_people,)
        In one unit, low ≤ likely ≤ high.

    Returns
    -------
    Pooled
        From the lowest low to the highest high, so that nobody's range is lost.

    Raises
    ------
    ScoringError
        If they are not as many, none at all, not finite, or out of order.

    Source
    ------
    Equal-weight linear pool: Stone (1961), The opinion pool, Annals of Mathematical
    Statistics 32, 1339–1342, from memory; PERT's mean (a + 4m + b)/6.

    Examples
    --------
    >>> pooled([1, 2], [2, 3], [3, 4]).likely
    2.5
    """
    low, likely, high = _estimates(low, likely, high)
    mean = (low + 4 * likely + high) / 6
    own = (mean - low) * (high - mean) / 7  # variance of Beta-PERT with λ = 4
    between = float(mean.var())
    whole = between + float(own.mean())
    first, second = np.triu_indices(len(low), 1)
    is_apart = (high[first] < low[second]) | (high[second] < low[first])
    return Pooled(
        low=float(low.min()),
        likely=float(likely.mean()),
        high=float(high.max()),
        apart=float(likely.std()),
        between=between / whole if whole else 0.0,
        share_no_overlap=float(is_apart.mean()) if is_apart.size else 0.0,
    )


def _estimates(low, likely, high):
    ends = [np.asarray(each, float) for each in (low, likely, high)]
    shapes = {each.shape for each in ends}
    if len(shapes) != 1 or ends[0].ndim != 1 or not ends[0].size:
        said = ", ".join(str(each.shape) for each in ends)
        raise ScoringError(f"estimates of shape {said}; one of each from each person")
    for each in ends:
        check_finite(each, "estimates")
    if not ((ends[0] <= ends[1]) & (ends[1] <= ends[2])).all():
        raise ScoringError("an estimate is out of order; low ≤ likely ≤ high")
    return ends


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
