"""Whether the crew stays overnight near the client or drives home every evening.

A bed costs money and saves days. Where days run short, what counts is what a job leaves
per booked day; where days are left over, what it leaves in all. So of both ways the one
is taken with which the work that is then served leaves more in a month.
"""

from itertools import product
from typing import NamedTuple

import numpy as np

from scoring.model.job import reach, site_time, vehicle
from scoring.model.money.job_money import contribution
from scoring.model.money.served import bookable_days, days_down_per_job, in_turn
from scoring.model.numbers import over_jobs

SLACK = 1e-9
MOST = 5  # kinds of job whose ways are tried in every combination; beyond, all alike


class LodgingWay(NamedTuple):
    """One job of each type done in one way; (draw, machine, job)."""

    can_do: np.ndarray  # bool
    left: np.ndarray  # contribution, 0 where it cannot be done
    load: np.ndarray  # days of the diary with those of breakdowns, 0 likewise


def lived_on_site(machines, jobs, business, carried, carry_min, loaded=None):
    """Return the SiteTime of every job type, lodged where that leaves more.

    Without a lodging price the crew drives home. `loaded` is the Loading where it was
    decided before.
    """
    told = site_time.ready(machines, jobs, business, carry_min)
    of = machines, jobs, business, carry_min
    by_day = site_time.site_time(*of, told=told)
    is_offered = np.isfinite(business.lodging_per_night).any()
    if not is_offered or (by_day.days == 1).all():  # one drive, and no bed, is least
        return by_day
    lodged = site_time.site_time(*of, is_lodged=True, told=told)
    sites = (by_day, lodged)
    booked = [site_time.booked_days(site, machines, jobs, business) for site in sites]
    missed = (reach.misses(machines, jobs, site, carried) for site in sites)
    can_do = [reach.can_do(each) for each in missed]
    if loaded is None:
        done = zip(can_do, booked, strict=True)
        days = np.fmin(*(np.where(able, each, np.nan) for able, each in done))
        loaded = vehicle.loading(machines, jobs, business, days)
    down = days_down_per_job(machines, business)
    ways = []
    for site, able, days in zip(sites, can_do, booked, strict=True):
        of_job = contribution(machines, jobs, business, carried, loaded, site, days)
        left = np.where(able, sum(of_job), 0.0)
        ways.append(LodgingWay(able, left, np.where(able, days + down, 0.0)))
    return site_time.either(is_lodged(jobs, business, *ways), lodged, by_day)


def is_lodged(jobs, business, by_day, lodged):
    """Return where the crew stays overnight: bool (draw, machine, job).

    By the LodgingWay of driving home and that of staying. A way that leaves no less and
    books no more is taken; where one leaves more and the other books fewer days, all
    combinations are tried on the days there are. Must-serve work is served before money
    counts.
    """
    is_open = by_day.can_do & lodged.can_do
    gain = np.where(is_open, lodged.left - by_day.left, 0.0)
    saved = np.where(is_open, by_day.load - lodged.load, 0.0)
    found = lodged.can_do & ~by_day.can_do
    found = found | ((gain >= -SLACK) & (saved >= -SLACK) & (gain + saved > SLACK))
    is_open = ((gain > SLACK) & (saved < -SLACK)) | ((gain < -SLACK) & (saved > SLACK))
    rows = is_open.any(axis=-1)
    if not rows.any():
        return found
    found = found.copy()
    found[rows] = _best_combination(
        *(_of_rows(array, rows) for array in (jobs.per_month, jobs.is_must)),
        _of_rows(bookable_days(business), rows),
        business.is_best_first,
        LodgingWay(*(_of_rows(array, rows) for array in by_day)),
        LodgingWay(*(_of_rows(array, rows) for array in lodged)),
        found[rows],
        is_open[rows],
    )
    return found


def _of_rows(array, rows):
    """Return the (job,) rows of a (draw, machine, job) array that broadcasts."""
    return np.broadcast_to(array, rows.shape + np.shape(array)[-1:])[rows]


def _best_combination(
    per_month, is_must, days, is_best_first, by_day, lodged, found, is_open
):
    """Return where the crew stays overnight in the best combination: (row, job)."""
    kinds = np.flatnonzero(is_open.any(axis=0))
    choices = list(product((False, True), repeat=min(kinds.size, MOST)))
    if kinds.size > MOST:
        choices = [(False,) * kinds.size, (True,) * kinds.size]
    best, best_must, best_left = found, -np.inf, -np.inf
    for choice in choices:
        tried = found.copy()
        tried[:, kinds] = np.where(is_open[:, kinds], choice, found[:, kinds])
        pairs = zip(lodged, by_day, strict=True)
        can_do, left, load = (np.where(tried, *pair) for pair in pairs)
        wanted = np.where(can_do & (is_must | (left > 0)), per_month, 0.0)
        n_jobs = in_turn(wanted, is_must, days, load, left, is_best_first)
        must = over_jobs(n_jobs, is_must)
        total = over_jobs(n_jobs, left)
        is_same = abs(must - best_must) <= SLACK
        is_better = (must > best_must + SLACK) | (is_same & (total > best_left + SLACK))
        best = np.where(is_better, tried, best)
        best_must = np.where(is_better, must, best_must)
        best_left = np.where(is_better, total, best_left)
    return best
