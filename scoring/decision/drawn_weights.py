"""Weights drawn from the simplex: around some, in an order, or of nothing known."""

import numpy as np

from scoring.decision.weights import check_finite, normalise
from scoring.errors import ScoringError

# Uniforms are kept this far from 0 and 1, where the inverse of a gamma CDF is endless.
# It is half of the step between two neighbouring uniforms.
EDGE = 2.0**-54


def sample_weights(n, m, rng, around=None, concentration=None, order=None):
    """Return n draws of m weights.

    Drawn row by row: two calls in turn on one rng give what one call for all gives.
    Parameters, returns and faults as in `weights_from_uniform`.

    Examples
    --------
    >>> draws = sample_weights(4, 3, np.random.default_rng(1), order=[2, 1, 3])
    >>> (draws.argmax(axis=1) == 1).all(), (draws.argmin(axis=1) == 2).all()
    (np.True_, np.True_)
    """
    return weights_from_uniform(rng.random((n, m)), around, concentration, order)


def weights_from_uniform(uniform, around=None, concentration=None, order=None):
    """Return weights drawn from the simplex, each from the uniforms of its row.

    Nothing known: uniform on the simplex. A draw depends on its own row alone, so
    chunks change nothing.

    Parameters
    ----------
    uniform : shape (n_draws, n_criteria)
        Independent uniform numbers, 0–1.
    around : shape (n_criteria,), optional
        The mean of the draws: 0 or more, brought to sum 1. A 0 stays 0.
    concentration : float, optional
        Goes with `around`, above 0: how many equal observations the mean is worth.
        The larger, the closer: the variance of a weight a is a·(1 - a)/(1 + it).
    order : shape (n_criteria,), optional
        Ranks of importance, 1 = most; only their order counts. Uniform over the weights
        that keep it; within one rank nothing is known. Their mean is the rank-order
        centroid.

    Returns
    -------
    shape (n_draws, n_criteria)
        0 or more, summing to 1.

    Raises
    ------
    ScoringError
        If a uniform is not within 0–1, a shape does not fit, `around` is negative or
        all 0, the concentration is not above 0 or stands without `around`, or both
        `around` and `order` are given.

    Source
    ------
    Gamma variates by inverse CDF, divided by their sum, are Dirichlet: Devroye (1986),
    Non-Uniform Random Variate Generation, ch. XI; from memory.

    Examples
    --------
    >>> weights_from_uniform([[0.5, 0.5]]).tolist()
    [[0.5, 0.5]]
    """
    uniform = _checked_uniform(uniform)
    m = uniform.shape[1]
    if around is None:
        if concentration is not None:
            raise ScoringError("a concentration needs weights to concentrate around")
        drawn = _shares_of_logs(np.log(-np.log1p(-uniform)))
        return drawn if order is None else _in_order(drawn, _per_criterion(order, m))
    if order is not None:
        raise ScoringError("weights and an order are both given; one of them is needed")
    if concentration is None or not 0 < concentration < np.inf:
        raise ScoringError(
            f"the concentration is {concentration!r}; it must be a finite number above "
            "0"
        )
    shape = normalise(_per_criterion(around, m)) * concentration
    weights = np.zeros(uniform.shape)
    weights[:, shape > 0] = _shares_of_logs(
        _log_gamma_variates(shape[shape > 0], uniform[:, shape > 0])
    )
    return weights


def _checked_uniform(uniform):
    uniform = np.asarray(uniform, float)
    if uniform.ndim != 2 or uniform.shape[1] == 0:
        raise ScoringError(
            f"uniform numbers of shape {uniform.shape}; (draws, criteria) is needed"
        )
    if not ((uniform >= 0) & (uniform <= 1)).all():
        raise ScoringError("a uniform number is not within 0 to 1")
    return uniform.clip(EDGE, 1 - 2 * EDGE)


def _per_criterion(figures, m):
    figures = np.asarray(figures, float)
    if figures.shape != (m,):
        raise ScoringError(
            f"weights or ranks of shape {figures.shape} for {m} criteria; "
            "one number each is needed"
        )
    check_finite(figures, "weights or ranks")
    return figures


def _log_gamma_variates(shape, uniform):
    """Return logarithms of gamma variates: with a small shape they are below 1e-308."""
    from scipy.special import gammaincinv, gammaln  # slow to import

    variates = gammaincinv(shape, uniform)
    # Near 0 the CDF is x^a / Γ(a + 1) but for a factor 1 - O(x).
    near_zero = (np.log(uniform) + gammaln(shape + 1)) / shape
    return np.where(variates > 1e-100, np.log(np.maximum(variates, 1e-100)), near_zero)


def _shares_of_logs(logs):
    parts = np.exp(logs - logs.max(axis=1, keepdims=True))
    return parts / parts.sum(axis=1, keepdims=True)


def _in_order(weights, order):
    """Return each row's weights dealt out again, the largest to rank 1, and so on.

    Within a rank the larger goes to whoever had the larger, which is as likely to be
    one as another: dealt by place, the first named would always get more.
    """
    by_rank = np.lexsort((-weights, np.broadcast_to(order, weights.shape)), axis=1)
    dealt = np.empty_like(weights)
    np.put_along_axis(dealt, by_rank, -np.sort(-weights, axis=1), axis=1)
    return dealt
