"""Which cause decides: first-order Sobol shares of a result of several causes."""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError


class Shares(NamedTuple):
    """How much of the variance each cause makes by itself, and with the others."""

    first: np.ndarray  # (cause,) 0–1
    together: float  # 0–1: the rest, that only several causes at once make
    error: np.ndarray  # (cause,) standard error by Monte Carlo


def first_order(result, n_draws, causes, rng):
    """Return the Shares of a result's variance that each cause makes by itself.

    Two independent sets of draws are made; each cause in turn is taken from the second
    while the others stay with the first.

    Parameters
    ----------
    result : function (list of arrays) → shape (n,) or (n, k)
        One array a cause. Of k columns the variances add up: a choice among k
        alternatives is a column for each, 1 where it is chosen.
    n_draws : int, 2 or more
    causes : sequence of functions (n, rng) → array whose first axis is n
        Each draws one cause, or a group of causes, independent of the others.
    rng : np.random.Generator

    Returns
    -------
    Shares
        All 0 where the result never varies. Estimates below 0 count as 0.

    Raises
    ------
    ScoringError
        If there is no cause, too few draws, or a result is not finite.

    Source
    ------
    Saltelli, Annoni, Azzini, Campolongo, Ratto & Tarantola (2010), Variance based
    sensitivity analysis of model output, Computer Physics Communications 181, 259–270,
    table 2 (b): V_i = mean of f(B) (f(A with B's cause i) − f(A)). Several columns:
    Gamboa, Janon, Klein & Lagnoux (2014), Sensitivity analysis for multidimensional and
    functional outputs, Electronic Journal of Statistics 8, 575–603; both from memory.
    """
    if n_draws < 2 or not causes:
        raise ScoringError(
            f"{n_draws} draws of {len(causes)} causes; 2 draws and 1 cause or more"
        )
    a, b = ([draw(n_draws, rng) for draw in causes] for _ in range(2))
    of_a, of_b = _columns(result(a)), _columns(result(b))
    mean = np.concatenate([of_a, of_b]).mean(axis=0)
    variance = np.concatenate([of_a, of_b]).var(axis=0).sum()
    if variance == 0:
        nothing = np.zeros(len(causes))
        return Shares(nothing, 0.0, nothing)
    first, error = np.empty((2, len(causes)))
    for i in range(len(causes)):
        mixed = _columns(result([*a[:i], b[i], *a[i + 1 :]]))
        each = ((of_b - mean) * (mixed - of_a)).sum(axis=1) / variance
        first[i], error[i] = each.mean(), each.std() / np.sqrt(n_draws)
    first = first.clip(0.0, 1.0)
    return Shares(first, float(max(0.0, 1.0 - first.sum())), error)


def chosen(places, n_alternatives):
    """Return a column an alternative, 1 where it is the chosen one: (n, alternative).

    Examples
    --------
    >>> chosen([1, 0], 2).tolist()
    [[0.0, 1.0], [1.0, 0.0]]
    """
    return np.eye(n_alternatives)[np.asarray(places)]


def _columns(found):
    found = np.asarray(found, float)
    check_finite(found, "results")
    return found[:, None] if found.ndim == 1 else found
