"""An average year: which work is served in the days that exist, and what is left."""

from typing import NamedTuple

import numpy as np

from scoring.model.money.job_money import revenue
from scoring.model.money.served import bookable_days, days_down_per_job
from scoring.model.money.worth_serving import worth_serving
from scoring.model.money.year_lines import YearResult, job_use, year_lines
from scoring.model.numbers import over_jobs


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


def year(machines, jobs, business, site, lines, can_do, booked, crew):
    """Return the average Year of every machine.

    `lines` is the Contribution of one job, `booked` its days in the diary and `crew`
    the people of the own crew that go, each (draw, machine, job or 1). A job's
    breakdown days come out of the same diary, so the work served and the days lost
    agree without iteration.
    """
    left_per_job = np.where(can_do, sum(lines), 0.0)
    down = days_down_per_job(machines, business)
    booked = np.where(can_do, booked, 0.0)
    use = job_use(machines, jobs, site)
    n_jobs, is_declined = worth_serving(
        machines, jobs, business, use, can_do, left_per_job, booked + down
    )
    n_year = 12 * n_jobs
    days_lost = over_jobs(n_year, down)
    on_site_h = np.where(can_do, site.on_site_min, 0.0) / 60
    site_hours = over_jobs(n_year, crew, on_site_h)
    income = over_jobs(n_year, np.where(can_do, lines.revenue, 0.0))
    whole_mix = 12 * over_jobs(jobs.per_month, revenue(jobs))
    result = year_lines(machines, business, use, n_year, left_per_job)
    total = sum(result)
    pay = np.where(can_do, -lines.own_pay, 0.0)
    paid = over_jobs(n_year, pay)
    return Year(
        n_jobs,
        is_declined,
        bookable_days(business) - days_lost / 12,
        over_jobs(n_jobs, booked),
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
    out = np.full_like(numerator, otherwise, dtype=float)
    return np.divide(numerator, denominator, out=out, where=denominator > 0)
