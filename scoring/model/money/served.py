"""Which work is served in the days that a month has."""

import numpy as np

from scoring.model.numbers import over_jobs

DAYS_A_YEAR = 365
FEW = 6  # kinds of job


def pro_rata(per_month, load, days):
    """Return jobs a month when the whole mix is cut alike to the days that exist.

    Parameters
    ----------
    per_month, load : shape (draw, machine, job)
        Jobs wanted, and the days each takes out of the diary.
    days : shape (draw, machine, 1)

    Examples
    --------
    >>> pro_rata(np.array([4.0, 2.0]), np.array([1.0, 3.0]), np.array([5.0])).tolist()
    [2.0, 1.0]
    """
    days = np.maximum(days, 0.0)  # what must-serve work leaves may be −1e-16
    wanted = over_jobs(per_month, load)
    share = np.divide(days, wanted, out=np.ones_like(wanted), where=wanted > days)
    return per_month * share


def best_first(per_month, load, days, worth_per_day):
    """Return jobs a month when the best contribution per booked day goes first.

    Examples
    --------
    >>> n, load = np.array([4.0, 2.0]), np.array([1.0, 3.0])
    >>> best_first(n, load, np.array([5.0]), np.array([100.0, 300.0])).tolist()
    [0.0, 1.6666666666666667]
    """
    wanted, worth = np.broadcast_arrays(per_month * load, worth_per_day)
    taken_before = _taken_before(wanted, worth)
    given = np.minimum(np.maximum(days - taken_before, 0.0), wanted)
    return given / np.where(load > 0, load, 1.0)  # without load nothing is given


def _taken_before(wanted, worth):
    """Return the days that work of more worth, or before it of the same, asks for.

    Each pair of kinds by itself where they are few: sorting a short last axis takes
    four times as long.
    """
    n_jobs = wanted.shape[-1]
    if n_jobs > FEW:
        order = np.argsort(-worth, axis=-1, kind="stable")
        in_order = np.take_along_axis(wanted, order, axis=-1)
        found = np.empty(wanted.shape)
        np.put_along_axis(found, order, np.cumsum(in_order, axis=-1) - in_order, -1)
        return found
    found = np.zeros_like(wanted, dtype=float)
    for j in range(n_jobs):
        for k in range(j):
            is_first = worth[..., k] >= worth[..., j]
            found[..., j] += wanted[..., k] * is_first
            found[..., k] += wanted[..., j] * ~is_first
    return found


def in_turn(wanted, is_must, days, load, worth, is_best_first):
    """Return jobs a month: must-serve work cut alike, then the rest in its order.

    Parameters
    ----------
    wanted, load, worth : shape (..., job)
        Jobs a month, the days each takes, what each is worth; load 0 where not done.
    is_must : bool, broadcasts to them
    days : shape (..., 1)
    """
    if not np.any(is_must):
        return _rest(wanted, days, load, worth, is_best_first)
    must = pro_rata(np.where(is_must, wanted, 0.0), load, days)
    left = days - over_jobs(must, load)
    rest = np.where(is_must, 0.0, wanted)
    return must + _rest(rest, left, load, worth, is_best_first)


def _rest(rest, left, load, worth, is_best_first):
    """Return jobs a month of what need not be served, in the days that are left."""
    if not is_best_first:
        return pro_rata(rest, load, left)
    a_day = np.where(load > 0, worth / np.where(load > 0, load, 1), -np.inf)
    return best_first(rest, load, left, a_day)


def bookable_days(business):
    """Return the diary's days a month, before breakdowns: (draw, 1, 1)."""
    days = business.days_per_week * business.weeks_per_year / 12
    return days * business.bookable_share


def bookable_days_down(machines, business):
    """Return the days of the diary that a breakdown costs: (draw, machine, 1).

    A machine is down for days of the calendar; of these the diary loses those that
    would have been worked, and of the days worked those that are kept for jobs.

    Examples
    --------
    Nine calendar days, 5 days in 48 weeks a year: 9 · 240/365 = 5.92 working days, and
    half of them are bookable.

    >>> from types import SimpleNamespace as Record
    >>> buyer = Record(days_per_week=5, weeks_per_year=48, bookable_share=0.5)
    >>> round(bookable_days_down(Record(days_down=9), buyer), 2)
    2.96
    """
    worked = business.days_per_week * business.weeks_per_year / DAYS_A_YEAR
    return machines.days_down * worked * business.bookable_share


def days_down_per_job(machines, business):
    """Return the diary's days a breakdown costs, spread over the jobs between two."""
    return bookable_days_down(machines, business) / machines.jobs_between_stoppages
