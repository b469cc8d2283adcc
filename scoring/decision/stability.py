"""How far a weight may move before another leads; where a level is crossed."""

from functools import cache

import numpy as np

from scoring.decision.ranking import TIE, ranks
from scoring.decision.weights import check_finite, normalise
from scoring.errors import ScoringError


def stability(scores, weights):
    """Return between which values each weight may move before the lead is lost.

    One weight moves from 0 to 1 while the others share the rest in their present
    proportions (equally, if all of them are 0); the leader is the first by weighted
    sum. All differences are straight lines in that weight, so the ends are exact.

    Parameters
    ----------
    scores : shape (n_alternatives, n_criteria)
        More is better, on one common scale. A row with NaN is ruled out and ignored.
    weights : shape (n_criteria,)
        0 or more; brought to sum 1.

    Returns
    -------
    shape (n_criteria, 2)
        The lowest and the highest weight, 0–1, with which the present leader is still
        first, alone or level; the present weight is between them. Where several lead,
        all of them must stay first: between two that differ there is no room.

    Raises
    ------
    ScoringError
        If a score is infinite, all are ruled out, the shapes do not fit, a weight is
        not finite or negative, or all are 0.

    Source
    ------
    Barron & Schmidt (1988), Sensitivity analysis of additive multiattribute value
    models, Operations Research 36(1), from memory; one weight at a time.

    Examples
    --------
    >>> stability([[0.8, 0.4], [0.5, 0.6]], [0.5, 0.5]).round(9).tolist()
    [[0.4, 1.0], [0.0, 0.6]]
    """
    scores, weights = np.asarray(scores, float), normalise(weights)
    if scores.ndim != 2 or weights.shape != scores.shape[1:]:
        raise ScoringError(
            f"scores of shape {scores.shape} and weights of shape {weights.shape}; "
            "(alternatives, criteria) and (criteria,) are needed"
        )
    scores = scores[~np.isnan(scores).any(axis=1)]
    check_finite(scores, "scores")
    if not len(scores):
        raise ScoringError("every alternative is ruled out; nobody leads")
    without = scores @ _proportions(weights).T  # each criterion's weight at 0
    leads = ranks(scores @ weights) == 1
    return _kept(
        _leads_over_all(without, leads), _leads_over_all(scores, leads), weights
    )


def _proportions(weights):
    """Return, a row for each criterion, how the others share what it leaves."""
    is_other = ~np.eye(weights.size, dtype=bool)
    others = np.where(is_other, weights, 0.0)
    others = np.where(others.any(axis=1, keepdims=True), others, is_other)
    return others / np.maximum(others.sum(axis=1, keepdims=True), np.finfo(float).tiny)


def _leads_over_all(values, leads):
    """Return the leaders' values less everybody's, shape (pairs, n_criteria)."""
    gaps = values[leads][:, None] - values[None]
    return gaps.reshape(-1, values.shape[1])


def _kept(at_zero, at_one, weights):
    """Return where no lead is lost, from the leads with each weight at 0 and at 1."""
    now = at_zero + weights * (at_one - at_zero)
    # Level leaders may be a rounding apart; then they stay so.
    bar = np.minimum(now, 0.0)
    falls = (at_one < -TIE) & (at_zero > at_one)
    rises = (at_zero < -TIE) & (at_one > at_zero)
    slope = np.where(falls | rises, at_one - at_zero, 1.0)
    crossing = (bar - at_zero) / slope
    low = np.where(rises, crossing, 0.0).max(axis=0)
    high = np.where(falls, crossing, 1.0).min(axis=0)
    # The present weight is in, whatever the last digit of a crossing says.
    return np.stack(
        [low.clip(0, weights), np.maximum(high.clip(0, 1), weights)], axis=-1
    )


def draws_level(difference, low, high, within=1e-12):
    """Return the value between low and high at which a difference is 0, or None.

    None, “no such value”, where the difference has one sign at both ends; so a value at
    which it touches 0 or crosses it twice is not found. Of three crossings one is
    found; a jump across 0 counts as a crossing.

    Parameters
    ----------
    difference : callable
        A float to a float, such as a price to the leader's lead; finite at both ends.
    low, high : float
        Finite, low below high.
    within : float
        How exactly, as a share of the distance between them; above 0.

    Returns
    -------
    float or None
        In the unit of low and high.

    Raises
    ------
    ScoringError
        If low is not below high, or the difference at an end is not finite.

    Source
    ------
    Brent (1973), Algorithms for Minimization without Derivatives, by
    scipy.optimize.brentq; from memory.

    Examples
    --------
    >>> draws_level(lambda price: 3000 - price / 4, 0, 20_000)
    12000.0
    >>> draws_level(lambda price: 3000 - price / 4, 0, 10_000) is None
    True
    """
    if not -np.inf < low < high < np.inf:
        raise ScoringError(f"from {low!r} to {high!r}; low must be below high")
    difference = cache(difference)  # the ends are asked for twice, and cost as much
    ends = np.array([difference(low), difference(high)], float)
    check_finite(ends, "differences at the ends")
    if (ends > 0).all() or (ends < 0).all():
        return None
    from scipy.optimize import brentq  # slow to import; the command line must be quick

    return float(brentq(difference, low, high, xtol=within * (high - low)))
