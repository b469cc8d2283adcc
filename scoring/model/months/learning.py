"""How work and skill grow: demand after delivery, seasons, builds that get quicker."""

import numpy as np

from scoring.model.money.finance import SLACK


def learning_factor(n_done, start, halving):
    """Return how many times its learned time a build takes after n builds.

    1 + (start − 1) · 2^(−n / halving): from `start` towards 1, the excess halving
    every `halving` builds. A start of 1.5 to 3 and a halving of 5 are own estimates.

    Examples
    --------
    >>> learning_factor(np.array([0, 5, 10]), 2.0, 5).tolist()
    [2.0, 1.5, 1.25]
    """
    return 1 + (np.asarray(start) - 1) * np.exp2(-np.asarray(n_done) / halving)


def learning_excess(n_done, n_more, start, halving):
    """Return the learned builds' worth of extra time in the next n_more builds.

    The sum of `learning_factor` − 1 over them, a geometric series; parts of a build
    count so that the months of a build add up to it.

    Examples
    --------
    >>> round(float(learning_excess(0, 2, 2.0, 1)), 9)
    1.5
    """
    fall = np.log(2) / np.asarray(halving, dtype=float)  # a build, as a logarithm
    first = learning_factor(n_done, start, halving) - 1
    return first * np.expm1(-fall * n_more) / np.expm1(-fall)


def demand_share(month, months_to_full, delivery_months=0.0):
    """Return a month's mean share of full demand: 0 before delivery, in the end 1.

    Demand rises evenly from 0 at delivery; the mean over the month is exact.

    Examples
    --------
    >>> demand_share(np.array([1, 2, 3, 4]), 2.0, 1.0).tolist()
    [0.0, 0.25, 0.75, 1.0]
    """

    def so_far(month):
        at_work = np.maximum(month - np.asarray(delivery_months), 0.0)
        full = np.asarray(months_to_full, dtype=float)
        rising = np.minimum(at_work, full)
        share = np.divide(rising, 2 * full, out=0 * rising, where=full > 0)
        return rising * share + at_work - rising

    month = np.asarray(month, dtype=float)
    return so_far(month) - so_far(month - 1)


def season(trade, month):
    """Return each month's factor by the calendar; month 0 is before the first."""
    factors = np.asarray(trade.seasonality, dtype=float)
    return factors[..., (trade.first_month + month - 1) % 12]


def per(total, count):
    out = np.full(np.shape(total), np.nan)
    return np.divide(total, count, out=out, where=count > SLACK)
