"""A year's money, line by line, of so many jobs of each kind."""

from typing import NamedTuple

import numpy as np

from scoring.model.money.crew_pay import crew_pay
from scoring.model.money.served import DAYS_A_YEAR
from scoring.model.numbers import over_jobs


class YearResult(NamedTuple):
    """A year's money, line by line; the lines sum to the result; (draw, machine, 1)."""

    contributions: np.ndarray
    plan_fee: np.ndarray
    upkeep: np.ndarray
    idle_care: np.ndarray
    expired_ink: np.ndarray  # bought in the smallest order, too old to use
    ageing: np.ndarray  # heads and lamps that age out before they wear out
    insurance: np.ndarray
    crew_pay: np.ndarray  # of those who are paid by the month
    fixed_costs: np.ndarray


class JobUse(NamedTuple):
    """What one job takes of a year, whatever else is served; (draw, machine, job)."""

    area_m2: np.ndarray
    days: np.ndarray  # 0 where it cannot be done
    colour_ml: np.ndarray  # of ink, on the wall and purged
    white_ml: np.ndarray


def job_use(machines, jobs, site):
    """Return the JobUse of each kind of job."""
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    days = np.nan_to_num(site.days)
    printed_m2 = area_m2 * (1 + machines.spoilt_share)
    colour = printed_m2 * machines.ink_colour_ml_per_m2 * jobs.ink_cover
    white = printed_m2 * machines.ink_white_ml_per_m2 * jobs.has_underbase
    return JobUse(area_m2, days, colour + days * machines.purge_ml, white)


class YearUse(NamedTuple):
    """What the jobs of a year take; (draw, machine, 1)."""

    area_m2: np.ndarray
    print_days: np.ndarray
    idle_cares: np.ndarray
    colour_ml: np.ndarray  # of ink, with that of idle care
    white_ml: np.ndarray


def year_use(machines, use, n_year):
    """Return the YearUse of so many jobs a year, (draw, machine, job)."""
    print_days = over_jobs(n_year, use.days)
    idle = np.maximum(DAYS_A_YEAR - print_days, 0) / machines.idle_every_days
    return YearUse(
        over_jobs(n_year, use.area_m2),
        print_days,
        idle,
        over_jobs(n_year, use.colour_ml) + idle * machines.idle_care_ml,
        over_jobs(n_year, use.white_ml),
    )


def year_lines(machines, business, use, n_year, left_per_job):
    """Return the YearResult of so many jobs a year, (draw, machine, job), each line.

    `use` is the JobUse of each kind of job, `left_per_job` what one job leaves with
    each machine.
    """
    used = year_use(machines, use, n_year)
    area = used.area_m2
    return YearResult(
        over_jobs(n_year, left_per_job),
        -machines.plan_fee,
        -machines.upkeep,
        -used.idle_cares * machines.idle_care_ml * machines.ink_price_per_ml,
        -expired_ml(used.colour_ml, machines) * machines.ink_price_per_ml
        - expired_ml(used.white_ml, machines) * machines.white_price_per_ml,
        -_ageing(machines, area),
        -business.insurance_share * machines.price,
        -crew_pay(business) + 0 * area,
        -business.fixed_costs + 0 * area,
    )


def least_ml(machines):
    """Return the ink that a year asks for at least, if any: (draw, machine, 1)."""
    return machines.smallest_order_ml * 12 / machines.shelf_life_months


def expired_ml(used_ml, machines):
    """Return the ink of a year that grows too old: (draw, machine, 1), ml.

    An order lasts until it is used up or too old, so that a year asks for 12 months /
    shelf life of the smallest order at least; none of an ink that is never used.
    """
    return np.where(used_ml > 0, np.maximum(least_ml(machines) - used_ml, 0.0), 0.0)


def spared_per_job(machines, use, n_year):
    """Return what a job more spares of a year's other lines: (draw, machine, job).

    In a year of so many jobs: ink that would grow too old, heads and lamps that would
    age first, and else the care of an idle day.
    """
    used = year_use(machines, use, n_year)
    care_ml = machines.idle_care_ml / machines.idle_every_days
    care_ml = use.days * np.where(used.idle_cares > 0, care_ml, 0.0)
    least = least_ml(machines)
    colour = np.where(used.colour_ml < least, use.colour_ml, care_ml)
    white = use.white_ml * (used.white_ml < least)
    worn_per_m2 = sum(
        np.where(used.area_m2 / life_m2 < 12 / months, price / life_m2, 0.0)
        for price, months, life_m2 in _wearing(machines)
    )
    worn = use.area_m2 * worn_per_m2
    return (
        colour * machines.ink_price_per_ml + white * machines.white_price_per_ml + worn
    )


def beyond_bends(machines, use, n_year):
    """Return how far a year of so many jobs is beyond each bend, below 0 before it.

    Each (draw, machine, 1): ink of a colour and white beyond what grows too old, days
    beyond those of the year, heads and lamps worn beyond those that age.
    """
    used = year_use(machines, use, n_year)
    least = least_ml(machines)
    worn = (used.area_m2 / life - 12 / months for _, months, life in _wearing(machines))
    return (
        used.colour_ml - least,
        used.white_ml - least,
        used.print_days - DAYS_A_YEAR,
        *worn,
    )


def _ageing(machines, area_m2):
    """Return what heads and lamps cost a year beyond wear, because they age first."""
    return sum(
        price * np.maximum(12 / months - area_m2 / life_m2, 0)
        for price, months, life_m2 in _wearing(machines)
    )


def _wearing(machines):
    """Return (price, months that it lasts, m² that it lasts) of heads and lamps."""
    return (
        (machines.head_price, machines.head_life_months, machines.head_life_m2),
        (machines.lamp_price, machines.lamp_life_months, machines.lamp_life_m2),
    )
