"""Which work a year is better with, where a job also changes what the year costs.

A job's contribution charges its ink and its wear. Yet ink that would grow too old and
heads that would age first cost the same with the job or without it, so that among jobs
that leave alike the one that uses them up is worth more; and the first job on a dark
wall makes the buyer order white ink for the year. So some orders and some choices of
work are tried, and in each draw the one with the best year is taken.
"""

import numpy as np

from scoring.model.money.served import bookable_days, in_turn
from scoring.model.money.year_lines import beyond_bends, spared_per_job, year_lines

SLACK = 1e-9
ROUNDS = 2  # of looking again at what is spared with the work found so far


def worth_serving(machines, jobs, business, use, can_do, left, load):
    """Return (jobs served a month, bool where a doable job is declined).

    Must-serve work comes first, whatever it leaves; what would lose money is declined.
    Where all work is cut alike, only that.

    Parameters
    ----------
    use : JobUse
    left, load : shape (draw, machine, job)
        What one job leaves, and the days it takes with those of breakdowns.
    """
    load = np.where(can_do, load, 0.0)
    days = bookable_days(business)
    poor = can_do & ~jobs.is_must & ~(left > 0)

    def tried(is_declined, worth):
        wanted = np.where(can_do & ~is_declined, jobs.per_month, 0.0)
        in_order = business.is_best_first
        return in_turn(wanted, jobs.is_must, days, load, worth, in_order)

    def a_year(n_jobs):
        return sum(year_lines(machines, business, use, 12 * n_jobs, left))

    best, is_declined = tried(poor, left), poor
    if not business.is_best_first or not _is_any_spared(machines):
        return best, is_declined
    result = a_year(best)
    for is_out in _choices(machines, jobs, can_do, poor):
        for found in _plans(machines, jobs, use, can_do, left, is_out, tried):
            again = a_year(found)
            is_better = again > result + SLACK
            best = np.where(is_better, found, best)
            is_declined = np.where(is_better, is_out, is_declined)
            result = np.where(is_better, again, result)
    return best, is_declined


def _plans(machines, jobs, use, can_do, left, is_out, tried):
    """Yield jobs a month by what jobs leave, and by what they spare besides.

    The year is concave in the jobs served and bends where ink no longer grows too old,
    where heads or lamps are worn before they age, and where no day is idle: between two
    plans the best lies at one of them or at such a bend.
    """
    plan = tried(is_out, left)
    yield plan
    if not (can_do & ~is_out & ~jobs.is_must).any():
        return
    for _ in range(ROUNDS):
        spared = spared_per_job(machines, use, 12 * plan)
        other = tried(is_out, left + np.where(can_do, spared, 0.0))
        if (abs(other - plan) <= SLACK).all():
            return
        yield other
        bends = zip(
            beyond_bends(machines, use, 12 * plan),
            beyond_bends(machines, use, 12 * other),
            strict=True,
        )
        for here, there in bends:
            is_between = here * there < 0
            part = np.zeros(is_between.shape)
            np.divide(here, here - there, out=part, where=is_between)
            if is_between.any():
                yield plan + part * (other - plan)
        plan = other


def _is_any_spared(machines):
    """Return whether a job may change what the year costs besides its own lines."""
    orders = machines.smallest_order_ml / machines.shelf_life_months
    ageing = 1 / machines.head_life_months + 1 / machines.lamp_life_months
    return bool((orders + ageing + machines.idle_care_ml > 0).any())


def _choices(machines, jobs, can_do, poor):
    """Return what is declined, by choice of work: bool (draw, machine, job) each.

    All that leaves money; also without dark walls, and nothing at all, as the first
    such job makes the buyer order ink for a year.
    """
    free = can_do & ~jobs.is_must
    orders = machines.smallest_order_ml / machines.shelf_life_months
    if not (orders > 0).any():
        return [poor]
    is_dark = free & (jobs.has_underbase > 0)
    return [poor, poor | is_dark, free] if is_dark.any() else [poor, free]
