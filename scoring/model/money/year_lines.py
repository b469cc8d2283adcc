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


class InkUsed(NamedTuple):
    """Ink of a year on walls, purged and for idle care; (draw, machine, 1)."""

    colour_ml: np.ndarray
    white_ml: np.ndarray


def year_lines(machines, jobs, business, site, n_year, left_per_job):
    """Return the YearResult of so many jobs a year, (draw, machine, job), each line.

    `left_per_job` is what one job of each type leaves with each machine.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    days = np.nan_to_num(site.days)
    print_days = over_jobs(n_year, days)
    idle = np.maximum(DAYS_A_YEAR - print_days, 0) / machines.idle_every_days
    area = over_jobs(n_year, area_m2)
    used = ink_used(machines, jobs, n_year, days, idle)
    return YearResult(
        over_jobs(n_year, left_per_job),
        -machines.plan_fee,
        -machines.upkeep,
        -idle * machines.idle_care_ml * machines.ink_price_per_ml,
        -expired_ml(used.colour_ml, machines) * machines.ink_price_per_ml
        - expired_ml(used.white_ml, machines) * machines.white_price_per_ml,
        -_ageing(machines, area),
        -business.insurance_share * machines.price,
        -crew_pay(business) + 0 * area,
        -business.fixed_costs + 0 * area,
    )


def ink_used(machines, jobs, n_year, days, idle_cares, by_job=False):
    """Return the InkUsed of so many jobs a year, each (draw, machine, 1), or by job."""
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    printed = n_year * area_m2 * (1 + machines.spoilt_share)
    colour = printed * machines.ink_colour_ml_per_m2 * jobs.ink_cover
    colour = colour + n_year * days * machines.purge_ml
    white = printed * machines.ink_white_ml_per_m2 * jobs.has_underbase
    if by_job:
        return InkUsed(colour, white)
    return InkUsed(
        over_jobs(colour) + idle_cares * machines.idle_care_ml,
        over_jobs(white),
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


def spared_per_job(machines, jobs, site, n_year):
    """Return what a job more spares of a year's other lines: (draw, machine, job).

    In a year of so many jobs: ink that would grow too old, heads and lamps that would
    age first, and else the care of an idle day.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    days = np.nan_to_num(site.days)
    one = ink_used(machines, jobs, np.ones(days.shape), days, 0.0, by_job=True)
    print_days = over_jobs(n_year, days)
    idle = np.maximum(DAYS_A_YEAR - print_days, 0) / machines.idle_every_days
    used = ink_used(machines, jobs, n_year, days, idle)
    care_ml = np.where(idle > 0, days / machines.idle_every_days, 0.0)
    care_ml = care_ml * machines.idle_care_ml
    least = least_ml(machines)
    colour = np.where(used.colour_ml < least, one.colour_ml, care_ml)
    white = np.where(used.white_ml < least, one.white_ml, 0.0)
    area = over_jobs(n_year, area_m2)
    worn = sum(
        np.where(area / life_m2 < 12 / months, area_m2 * price / life_m2, 0.0)
        for price, months, life_m2 in _wearing(machines)
    )
    return (
        colour * machines.ink_price_per_ml + white * machines.white_price_per_ml + worn
    )


def beyond_bends(machines, jobs, site, n_year):
    """Return how far a year of so many jobs is beyond each bend, below 0 before it.

    Each (draw, machine, 1): ink of a colour and white beyond what grows too old, days
    beyond those of the year, heads and lamps worn beyond those that age.
    """
    days = np.nan_to_num(site.days)
    print_days = over_jobs(n_year, days)
    idle = np.maximum(DAYS_A_YEAR - print_days, 0) / machines.idle_every_days
    used = ink_used(machines, jobs, n_year, days, idle)
    area_m2 = n_year * jobs.walls * jobs.width_m * jobs.height_m
    area = over_jobs(area_m2)
    least = least_ml(machines)
    worn = (area / life - 12 / months for _, months, life in _wearing(machines))
    return (
        used.colour_ml - least,
        used.white_ml - least,
        print_days - DAYS_A_YEAR,
        *(each + 0 * area for each in worn),
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
