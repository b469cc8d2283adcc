"""An average year: which work is served in the days that exist, and what is left."""

from typing import NamedTuple

import numpy as np

from scoring.model.money.job_money import revenue

DAYS_A_YEAR = 365


class YearResult(NamedTuple):
    """A year's money, line by line; the lines sum to the result; (draw, machine, 1)."""

    contributions: np.ndarray
    plan_fee: np.ndarray
    upkeep: np.ndarray
    idle_care: np.ndarray
    expired_ink: np.ndarray  # bought in the smallest order, too old to use
    ageing: np.ndarray  # heads and lamps that age out before they wear out
    insurance: np.ndarray
    fixed_costs: np.ndarray


class Year(NamedTuple):
    """What an average year holds; (draw, machine, 1) but for the first two."""

    served_per_month: np.ndarray  # (draw, machine, job)
    is_declined: np.ndarray  # bool, (draw, machine, job): would lose money
    days_available: np.ndarray  # a month, after breakdowns
    booked_days: np.ndarray  # a month
    days_lost: np.ndarray  # bookable days a year, to breakdowns
    revenue: np.ndarray  # a year
    work_served: np.ndarray  # share of the whole mix, by revenue
    site_hours: np.ndarray  # crew hours a year
    site_hours_per_1000: np.ndarray  # NaN where nothing is served
    lines: YearResult
    result: np.ndarray
    before_pay: np.ndarray  # memo: the result before the owner's pay


class InkUsed(NamedTuple):
    """Ink of a year on walls, purged and for idle care; (draw, machine, 1)."""

    colour_ml: np.ndarray
    white_ml: np.ndarray


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
    wanted = (per_month * load).sum(axis=-1, keepdims=True)
    share = np.divide(days, wanted, out=np.ones(wanted.shape), where=wanted > days)
    return per_month * share


def best_first(per_month, load, days, worth_per_day):
    """Return jobs a month when the best contribution per booked day goes first.

    Examples
    --------
    >>> n, load = np.array([4.0, 2.0]), np.array([1.0, 3.0])
    >>> best_first(n, load, np.array([5.0]), np.array([100.0, 300.0])).tolist()
    [0.0, 1.6666666666666667]
    """
    per_month, load, worth = np.broadcast_arrays(per_month, load, worth_per_day)
    order = np.argsort(-worth, axis=-1, kind="stable")
    wanted = np.take_along_axis(per_month * load, order, axis=-1)
    taken_before = np.cumsum(wanted, axis=-1) - wanted
    given = np.clip(days - taken_before, 0, wanted)
    given = np.take_along_axis(given, np.argsort(order, axis=-1), axis=-1)
    return np.divide(given, load, out=np.zeros(given.shape), where=load > 0)


def served(jobs, business, can_do, contribution, load):
    """Return (jobs served a month, bool where a doable job is declined).

    Must-serve work comes first, whatever it leaves; of the rest, what would lose money
    is declined and what remains shares the days left.
    """
    is_declined = can_do & ~jobs.is_must & ~(contribution > 0)
    wanted = np.where(can_do & ~is_declined, jobs.per_month, 0.0)
    load = np.where(can_do, load, 0.0)
    days = bookable_days(business)
    n_jobs = in_turn(
        wanted, jobs.is_must, days, load, contribution, business.is_best_first
    )
    return n_jobs, is_declined


def in_turn(wanted, is_must, days, load, worth, is_best_first):
    """Return jobs a month: must-serve work cut alike, then the rest in its order.

    Parameters
    ----------
    wanted, load, worth : shape (..., job)
        Jobs a month, the days each takes, what each is worth; load 0 where not done.
    is_must : bool, broadcasts to them
    days : shape (..., 1)
    """
    must = pro_rata(np.where(is_must, wanted, 0.0), load, days)
    left = days - (must * load).sum(axis=-1, keepdims=True)
    rest = np.where(is_must, 0.0, wanted)
    if not is_best_first:
        return must + pro_rata(rest, load, left)
    a_day = np.where(load > 0, worth / np.where(load > 0, load, 1), -np.inf)
    return must + best_first(rest, load, left, a_day)


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


def year(machines, jobs, business, site, lines, can_do, booked):
    """Return the average Year of every machine.

    `lines` is the Contribution of one job and `booked` its days in the diary. A job's
    breakdown days come out of the same diary, so the work served and the days lost
    agree without iteration.
    """
    left_per_job = np.where(can_do, sum(lines), 0.0)
    down = days_down_per_job(machines, business)
    booked = np.where(can_do, booked, 0.0)
    n_jobs, is_declined = served(
        jobs, business, can_do, left_per_job, booked + down * can_do
    )
    n_year = 12 * n_jobs
    days_lost = (n_year * down).sum(axis=-1, keepdims=True)
    on_site_h = np.where(can_do, site.on_site_min, 0.0) / 60
    site_hours = business.people * (n_year * on_site_h).sum(axis=-1, keepdims=True)
    income = (n_year * np.where(can_do, lines.revenue, 0.0)).sum(axis=-1, keepdims=True)
    whole_mix = 12 * (jobs.per_month * revenue(jobs)).sum(axis=-1, keepdims=True)
    result = year_lines(machines, jobs, business, site, n_year, left_per_job)
    total = sum(result)
    pay = np.where(can_do, -lines.own_pay, 0.0)
    paid = (n_year * pay).sum(axis=-1, keepdims=True)
    return Year(
        n_jobs,
        is_declined,
        bookable_days(business) - days_lost / 12,
        (n_jobs * booked).sum(axis=-1, keepdims=True),
        days_lost,
        income,
        _quotient(income, whole_mix, 0.0),
        site_hours,
        _quotient(1000 * site_hours, income, np.nan),
        result,
        total,
        total + paid,
    )


def _quotient(numerator, denominator, otherwise):
    out = np.full(numerator.shape, otherwise)
    return np.divide(numerator, denominator, out=out, where=denominator > 0)


def year_lines(machines, jobs, business, site, n_year, left_per_job):
    """Return the YearResult of so many jobs a year, (draw, machine, job), each line.

    `left_per_job` is what one job of each type leaves with each machine.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    days = np.nan_to_num(site.days)
    print_days = (n_year * days).sum(axis=-1, keepdims=True)
    idle = np.maximum(DAYS_A_YEAR - print_days, 0) / machines.idle_every_days
    area = (n_year * area_m2).sum(axis=-1, keepdims=True)
    used = ink_used(machines, jobs, n_year, days, idle)
    return YearResult(
        (n_year * left_per_job).sum(axis=-1, keepdims=True),
        -machines.plan_fee,
        -machines.upkeep,
        -idle * machines.idle_care_ml * machines.ink_price_per_ml,
        -expired_ml(used.colour_ml, machines) * machines.ink_price_per_ml
        - expired_ml(used.white_ml, machines) * machines.white_price_per_ml,
        -_ageing(machines, area),
        -business.insurance_share * machines.price,
        -business.fixed_costs + 0 * area,
    )


def ink_used(machines, jobs, n_year, days, idle_cares):
    """Return the InkUsed of so many jobs a year, each (draw, machine, 1)."""
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    printed = n_year * area_m2 * (1 + machines.spoilt_share)
    colour = printed * machines.ink_colour_ml_per_m2 * jobs.ink_cover
    colour = colour + n_year * days * machines.purge_ml
    white = printed * machines.ink_white_ml_per_m2 * jobs.has_underbase
    return InkUsed(
        colour.sum(axis=-1, keepdims=True) + idle_cares * machines.idle_care_ml,
        white.sum(axis=-1, keepdims=True),
    )


def expired_ml(used_ml, machines):
    """Return the ink of a year that grows too old: (draw, machine, 1), ml.

    An order lasts until it is used up or too old, so that a year asks for 12 months /
    shelf life of the smallest order at least; none of an ink that is never used.
    """
    least = machines.smallest_order_ml * 12 / machines.shelf_life_months
    return np.where(used_ml > 0, np.maximum(least - used_ml, 0.0), 0.0)


def _ageing(machines, area_m2):
    """Return what heads and lamps cost a year beyond wear, because they age first."""
    return sum(
        price * np.maximum(12 / months - area_m2 / life_m2, 0)
        for price, months, life_m2 in (
            (machines.head_price, machines.head_life_months, machines.head_life_m2),
            (machines.lamp_price, machines.lamp_life_months, machines.lamp_life_m2),
        )
    )
