"""Which work a year is better with, where a job also changes what the year costs.

A job's contribution charges its ink and its wear. Yet ink that would grow too old and
heads that would age first cost the same with the job or without it, so that among jobs
that leave alike the one that uses them up is worth more; and the first job on a dark
wall makes the buyer order white ink for the year. So some orders and some choices of
work are tried, and in each draw the one with the best year is taken.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.figures import BusinessFigures, MachineFigures
from scoring.model.money.served import bookable_days, in_turn
from scoring.model.money.year_lines import (
    JobUse,
    beyond_bends,
    spared_per_job,
    year_lines,
)
from scoring.model.numbers import over_jobs

SLACK = 1e-9
NEAR = 1e-6  # of the days: a month that is so nearly full counts as full
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
    of_jobs = jobs.per_month, jobs.is_must, can_do, left, load
    work = _YearsWork(machines, business, use, *of_jobs)
    poor = can_do & ~jobs.is_must & ~(left > 0)
    plan = work.served(poor, left)
    if not business.is_best_first or not _is_any_spared(machines):
        return plan, poor
    found = _Found(plan, poor, work.a_year(plan))
    for is_out in _choices(machines, jobs, can_do, poor):
        if is_out is not poor:
            plan = work.served(is_out, left)
            found = _better(found, plan, is_out, work.a_year(plan))
        found = _reordered(work, found, plan, is_out)
    return found.plan, found.is_declined


class _YearsWork(NamedTuple):
    """What decides the work of a year; (draw, machine, job), or rows of them."""

    machines: MachineFigures
    business: BusinessFigures
    use: JobUse
    per_month: np.ndarray
    is_must: np.ndarray  # bool
    can_do: np.ndarray  # bool
    left: np.ndarray  # by one job
    load: np.ndarray  # days of one job, 0 where it cannot be done

    def wanted(self, is_declined):
        """Return the jobs a month that are not declined."""
        return np.where(self.can_do & ~is_declined, self.per_month, 0.0)

    def served(self, is_declined, worth):
        """Return the jobs served a month, those of most worth a day first."""
        wanted, days = self.wanted(is_declined), bookable_days(self.business)
        in_order = self.business.is_best_first
        return in_turn(wanted, self.is_must, days, self.load, worth, in_order)

    def a_year(self, n_jobs):
        """Return what a year of so many jobs a month leaves: (…, 1)."""
        of = self.machines, self.business, self.use, 12 * n_jobs, self.left
        return sum(year_lines(*of))

    def is_choosing(self, is_declined):
        """Return where the order of the work decides what is served: bool (…, 1).

        Where all that is wanted fits into the days, every order serves all of it.
        """
        asked = over_jobs(self.wanted(is_declined), self.load)
        is_full = asked > (1 - NEAR) * bookable_days(self.business)
        is_free = self.can_do & ~is_declined & ~self.is_must
        return is_full & is_free.any(axis=-1, keepdims=True)

    def of(self, rows):
        """Return it for some rows alone, each of all kinds of job."""
        records = (_Rows(record, rows) for record in self[:3])
        return _YearsWork(*records, *(_picked(array, rows) for array in self[3:]))


class _Found(NamedTuple):
    """The best year so far; (draw, machine, job or 1)."""

    plan: np.ndarray  # jobs served a month
    is_declined: np.ndarray  # bool
    result: np.ndarray


def _better(found, plan, is_out, again):
    """Return what is Found with a plan, and what it declines, where it is better."""
    result = found.result
    is_better = again > result + SLACK
    return _Found(
        np.where(is_better, plan, found.plan),
        np.where(is_better, is_out, found.is_declined),
        np.where(is_better, again, result),
    )


def _reordered(work, found, plan, is_out):
    """Return what is Found with the work of a plan in other orders too.

    Only where they serve other work: in few draws.
    """
    rows = work.is_choosing(is_out)
    lead = np.broadcast_shapes(found.plan.shape[:-1], found.result.shape[:-1])
    lead = np.broadcast_shapes(lead, rows.shape[:-1])
    rows = np.broadcast_to(rows[..., 0], lead)
    if not rows.any():
        return found
    some, is_out = work.of(rows), _picked(is_out, rows)
    best = _Found(*(_picked(array, rows) for array in found))
    plan = _picked(plan, rows)
    for other in _plans(some, plan, is_out):
        best = _better(best, other, is_out, some.a_year(other))
    put = (_put(whole, rows, part) for whole, part in zip(found, best, strict=True))
    return _Found(*put)


class _Rows:
    """Some rows (row, job) of a record of arrays, each picked when it is asked for."""

    def __init__(self, record, rows):
        self._record, self._rows = record, rows

    def __getattr__(self, name):
        found = _picked(getattr(self._record, name), self._rows)
        setattr(self, name, found)
        return found


def _picked(array, rows):
    """Return the rows (row, job) of an array (draw, machine, job)."""
    if np.ndim(array) < 2:
        return array
    return np.broadcast_to(array, rows.shape + np.shape(array)[-1:])[rows]


def _put(whole, rows, part):
    found = np.broadcast_to(whole, rows.shape + part.shape[-1:]).copy("K")
    found[rows] = part
    return found


def _plans(work, plan, is_out):
    """Yield jobs a month in other orders than by what jobs leave: by what they spare.

    The year is concave in the jobs served and bends where ink no longer grows too old,
    where heads or lamps are worn before they age, and where no day is idle: between two
    plans the best lies at one of them or at such a bend.
    """
    machines, use = work.machines, work.use
    for _ in range(ROUNDS):
        spared = spared_per_job(machines, use, 12 * plan)
        other = work.served(is_out, work.left + np.where(work.can_do, spared, 0.0))
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
