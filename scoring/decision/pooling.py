"""What is learnt from several estimates of like things: shrunk towards each other."""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

MOST_ROUNDS = 200  # of the search for the variance between; it settles in a few dozen
FEWEST = 4  # estimates with which a variance between them can be told at all


class Posterior(NamedTuple):
    """A mean that is known up to a variance."""

    mean: float
    variance: float


class Pulled(NamedTuple):
    """Estimates pulled to their common mean, as far as their errors explain them."""

    mean: float  # of all
    variance: float  # between the true values; 0 where errors explain it all
    shrink: np.ndarray  # (k,) share of the way to the mean, 0–1
    values: np.ndarray  # (k,) the estimates, pulled
    variances: np.ndarray  # (k,) what is still unsure of each


def updated(mean, variance, values, variances):
    """Return the Posterior of a normal mean after values of known variances.

    Parameters
    ----------
    mean, variance : the prior's; variance above 0
    values, variances : shape (n,), any n; variances above 0

    Source
    ------
    Raiffa & Schlaifer (1961), Applied Statistical Decision Theory, ch. 11: precisions
    add up, means are weighted with them; from memory.

    Examples
    --------
    >>> updated(0.0, 1.0, [1.0, 2.0], [1.0, 1.0])
    Posterior(mean=1.0, variance=0.3333333333333333)
    """
    precision = 1 / np.asarray(variances, float)
    total = 1 / variance + precision.sum()
    weighted = mean / variance + (precision * np.asarray(values, float)).sum()
    return Posterior(float(weighted / total), float(1 / total))


def partial_pooling(values, variances):
    """Return the Pulled of estimates whose true values are spread around one mean.

    Empirical Bayes: the spread between is estimated from the values themselves. With
    equal variances this is the James–Stein estimator of Efron & Morris; three values or
    fewer are left as they are.

    Parameters
    ----------
    values : shape (k,)
    variances : shape (k,), each estimate's own, above 0

    Raises
    ------
    ScoringError
        Without values, or if a variance is not above 0.

    Source
    ------
    Efron & Morris (1975), Data analysis using Stein's estimator and its
    generalizations, JASA 70(350), 311–319, doi:10.1080/01621459.1975.10479864; unequal
    variances after Morris (1983), Parametric empirical Bayes inference, JASA 78(381),
    47–55, doi:10.1080/01621459.1983.10477920; both from memory.
    """
    y, own = np.asarray(values, float), np.asarray(variances, float)
    if y.size == 0 or not (np.isfinite(y).all() and np.isfinite(own).all()):
        raise ScoringError("nothing to pool; one finite estimate or more")
    if not (own > 0).all():
        raise ScoringError(f"a variance of {own.min()} cannot be pooled; above 0")
    k = len(y)
    if k < FEWEST:
        weight = 1 / own
        mean = float((weight * y).sum() / weight.sum())
        return Pulled(mean, np.nan, np.zeros(k), y, own)
    between, mean = _between(y, own)
    shrink = (k - 3) / (k - 1) * own / (own + between)
    return Pulled(mean, between, shrink, y + shrink * (mean - y), own * (1 - shrink))


def _between(y, own):
    """Return (variance between, mean) that agree with each other; Morris (1983)."""
    k, between = len(y), max(float(y.var(ddof=1) - own.mean()), 0.0)
    for _ in range(MOST_ROUNDS):
        weight = 1 / (own + between)
        mean = float((weight * y).sum() / weight.sum())
        parts = weight * (k / (k - 1) * (y - mean) ** 2 - own)
        found = max(float(parts.sum() / weight.sum()), 0.0)
        if abs(found - between) <= 1e-12 * (found + own.max()):
            break
        between = found
    return found, mean


def disappointment(values, errors, leader=None):
    """Return by how much the leader of several estimates is expected to disappoint.

    Who is chosen for being the best was, more likely than not, also lucky: where the
    true values of like alternatives are spread around one mean, the leader's lies
    nearer to it than its estimate.

    Parameters
    ----------
    values : shape (k,), higher is better
    errors : shape (k,), each one's standard error, without what all share
        An alternative without any error is taken as it is.
    leader : place of the one that is chosen; else the one with the highest value

    Returns
    -------
    float, in the values' unit, 0 or more; 0 for three alternatives or fewer

    Source
    ------
    Smith & Winkler (2006), The optimizer's curse: skepticism and postdecision surprise
    in decision analysis, Management Science 52(3), 311–322,
    doi:10.1287/mnsc.1050.0451, their hierarchical model; from memory.
    """
    values, errors = np.asarray(values, float), np.asarray(errors, float)
    if len(values) < FEWEST or not (errors > 0).any():
        return 0.0
    least = 1e-9 * max(float(errors.max()), 1e-300)
    pooled = partial_pooling(values, np.maximum(errors, least) ** 2)
    best = int(values.argmax()) if leader is None else leader
    return max(float(values[best] - pooled.values[best]), 0.0)
