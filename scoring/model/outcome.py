"""The whole model in one call: figures in, what the buyer will live with out.

The central answer is a draw of size one; Monte Carlo is the same call with more draws.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.job import crew, reach, site_time, vehicle
from scoring.model.money import job_money, lodging
from scoring.model.money import year as years
from scoring.model.money.year import Year
from scoring.model.numbers import over_jobs


class Outcome(NamedTuple):
    """Everything that follows from the figures; axes (draw, machine, job or 1)."""

    carried: crew.Carrying
    loaded: vehicle.Loading
    carry_min: np.ndarray
    trips: np.ndarray
    site: site_time.SiteTime
    misses: reach.Misses
    can_do: np.ndarray  # bool
    booked_days: np.ndarray
    upfront_lines: job_money.Upfront
    upfront: np.ndarray
    contribution_lines: job_money.Contribution
    contribution: np.ndarray
    year: Year
    ready_min: np.ndarray  # arrival to first print, over the mix
    odour: np.ndarray
    support_days: np.ndarray


def outcome(machines, jobs, business, loaded=None):
    """Return the Outcome of these figures.

    `loaded` is the Loading where it was decided before; else it is decided anew.
    """
    carried = crew.carrying(machines, jobs, business)
    carry = crew.carry_minutes(jobs, carried)
    site = lodging.lived_on_site(machines, jobs, business, carried, carry, loaded)
    missed = reach.misses(machines, jobs, site, carried)
    can_do = reach.can_do(missed)
    booked = site_time.booked_days(site, machines, jobs, business)
    if loaded is None:
        days = np.where(can_do, booked, np.nan)
        loaded = vehicle.loading(machines, jobs, business, days)
    upfront_lines = job_money.upfront(machines, business, carried, loaded)
    upfront = sum(upfront_lines)
    lines = job_money.contribution(
        machines, jobs, business, carried, loaded, site, booked
    )
    year = years.year(
        machines, jobs, business, site, lines, can_do, booked, carried.own
    )
    return Outcome(
        carried=carried,
        loaded=loaded,
        carry_min=carry,
        trips=crew.trips(carried),
        site=site,
        misses=missed,
        can_do=can_do,
        booked_days=booked,
        upfront_lines=upfront_lines,
        upfront=upfront,
        contribution_lines=lines,
        contribution=sum(lines),
        year=year,
        ready_min=ready_minutes(machines, jobs, carry),
        odour=reach.stronger_odour(machines),
        support_days=machines.response_days + machines.parts_days,
    )


def ready_minutes(machines, jobs, carry_min):
    """Return minutes from arrival to first print, (draw, machine, 1).

    Carry in, build and prime; the carry is the mean over the jobs of a month.
    """
    total = over_jobs(jobs.per_month)
    weight = np.divide(
        jobs.per_month,
        total,
        out=np.full(jobs.per_month.shape, 1 / jobs.per_month.shape[-1]),
        where=total > 0,
    )
    carry = over_jobs(carry_min, weight)
    return carry + machines.assembly_min + machines.prime_min
