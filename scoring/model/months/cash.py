"""Cash by the month: when money goes out and comes in, and what that is worth.

Months are on the last axis: 0 is the signing, month t the end of the t-th month. What
is received is above 0, what is paid below. Records broadcast over (draw, machine, 1).
Nominal, before tax and the owner's pay; an estimate from its inputs: ask an accountant
and a customs broker.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.months.learning import (
    demand_share,
    jobs_by_month,
    learning_excess,
    season,
)
from scoring.model.months.payment import still_owed
from scoring.model.numbers import amount

DAYS_A_MONTH = 365 / 12


class Work(NamedTuple):
    """A full, learned month and its mean job; above 0; (draw, machine, 1)."""

    jobs: np.ndarray  # wanted a month
    price: np.ndarray  # a job, what the client owes
    cost: np.ndarray  # a job
    area_m2: np.ndarray = 0.0  # a job
    days: np.ndarray = 0.0  # a job, out of the diary
    days_available: np.ndarray = np.inf  # a month
    build_share: np.ndarray = 0.0  # of `days`: building and priming
    build_cost: np.ndarray = 0.0  # of `cost`: what grows with building and priming
    spoilt_cost: np.ndarray = 0.0  # of `cost`: prints done again
    day_wages: np.ndarray = 0.0  # of others than the owner, for a day of training
    builds: np.ndarray = 1.0  # a job
    down_days: np.ndarray = 0.0  # of `days`: breakdowns, not worked


class Running(NamedTuple):
    """What a year costs whatever the work, and the end; above 0."""

    plan_fee: np.ndarray = 0.0  # a year, from delivery
    upkeep: np.ndarray = 0.0  # a year without work, from delivery; with idle care
    fixed_costs: np.ndarray = 0.0  # a year, from signing
    resale: np.ndarray = 0.0  # at the end
    upkeep_saved: np.ndarray = 0.0  # of the upkeep, by each job


class Lines(NamedTuple):
    """Cash by cause; the lines sum to the flows; (draw, machine, month)."""

    receipts: np.ndarray
    job_costs: np.ndarray
    plan_fee: np.ndarray
    upkeep: np.ndarray
    fixed_costs: np.ndarray
    machine: np.ndarray  # deposit, balance, instalments, import tax lent
    settled: np.ndarray  # what a loan or lease still asks for at the end
    resale: np.ndarray


class Cash(NamedTuple):
    """The months of a purchase; (draw, machine, month), month 0 being the signing."""

    lines: Lines
    flows: np.ndarray
    jobs: np.ndarray
    days: np.ndarray  # worked
    area_m2: np.ndarray
    revenue: np.ndarray  # what clients owe for the month's jobs


def monthly_cash(work, trade, running, payment, horizon_years):
    """Return the Cash of a purchase over the horizon, counted from signing.

    A month serves what is wanted, as far as its days go: at the pace of its first job
    while building is still being learned. Training days come first. Clients pay
    `deposit_share` with the job and the rest `days_to_pay` later; what is still out at
    the end comes in with the last month, as do resale and what a loan or lease still
    asks for. The business's fixed costs run from signing, plan fee and upkeep from
    delivery.

    Parameters
    ----------
    work, trade, running, payment : records; figures broadcast to (draw, machine, 1)
    horizon_years : whole number, 1 or more

    Raises
    ------
    ScoringError
        If a figure is out of its range or delivery is not within the horizon.
    """
    _check(work, trade, running, payment, horizon_years)
    n_months = 12 * int(horizon_years)
    month = np.arange(n_months + 1)
    at_work = demand_share(month, 0.0, payment.delivery_months)
    wanted = work.jobs * demand_share(
        month, trade.months_to_full, payment.delivery_months
    )
    wanted = wanted * season(trade, month)
    jobs, excess, done, taught = jobs_by_month(work, trade, wanted, at_work)
    done_builds = done * work.builds, jobs * work.builds
    spoilt = learning_excess(*done_builds, trade.spoilt_start, trade.learning_halving)
    spoilt = spoilt / work.builds
    discounted = np.clip(trade.first_jobs - done, 0.0, jobs)
    revenue = (jobs - discounted * trade.first_discount) * work.price
    machine, settled = _machine_cash(payment, month)
    lines = Lines(
        _receipts(trade, revenue),
        -(jobs * work.cost + excess * work.build_cost)
        - (spoilt * work.spoilt_cost + taught * work.day_wages),
        -running.plan_fee / 12 * at_work,
        -np.maximum(running.upkeep / 12 * at_work - running.upkeep_saved * jobs, 0.0),
        -running.fixed_costs / 12 * (month > 0),
        machine,
        settled,
        running.resale * (month == n_months),
    )
    lines = Lines(*np.broadcast_arrays(*lines))
    shape = lines.receipts.shape
    worked = (jobs + work.build_share * excess) * work.days + taught
    worked = worked - jobs * work.down_days
    others = (jobs, worked, jobs * work.area_m2, revenue)
    return Cash(lines, sum(lines), *(np.broadcast_to(each, shape) for each in others))


def change_flows(
    payment, trade, added_left, added_running, at_delivery, at_end, horizon_years
):
    """Return the cash of a change by the month, counted from signing: (..., month).

    Parameters
    ----------
    payment : Payment of what is bought
    trade : Trade; of it the rise of demand alone counts here
    added_left : currency a year at full work, after job costs; rises with demand
    added_running : currency a year, below 0 where it costs more; from delivery
    at_delivery : currency, any sign; say what an old rig brings
    at_end : currency, any sign; with the last month
    horizon_years : whole number, 1 or more

    Examples
    --------
    >>> from scoring.model.figures import Trade
    >>> from scoring.model.months.payment import own_cash
    >>> of = own_cash(900.0), Trade(), 1200.0, -240.0
    >>> change_flows(*of, at_delivery=300.0, at_end=0.0, horizon_years=1)[:2].tolist()
    [-600.0, 80.0]
    """
    n_months = 12 * int(horizon_years)
    month = np.arange(n_months + 1)
    late = np.ceil(payment.delivery_months)
    demand = demand_share(month, trade.months_to_full, payment.delivery_months)
    at_work = demand_share(month, 0.0, payment.delivery_months)
    machine, settled = _machine_cash(payment, month)
    others = at_delivery * (month == late) + at_end * (month == n_months)
    added = (added_left * demand + added_running * at_work) / 12
    return machine + settled + added + others


def _receipts(trade, revenue):
    """Return what clients pay each month."""
    with_job = revenue * trade.deposit_share
    due = revenue * (1 - np.asarray(trade.deposit_share)) * (1 - trade.unpaid_share)
    lag = np.asarray(trade.days_to_pay) / DAYS_A_MONTH
    whole = np.floor(lag).astype(int)
    month = np.arange(revenue.shape[-1])
    later, due, whole = np.broadcast_arrays(month - whole, due, whole)
    owed = due.cumsum(axis=-1)  # from one month's end to the next it rises evenly
    newer = np.take_along_axis(owed, np.maximum(later, 0), axis=-1)
    older = np.take_along_axis(owed, np.maximum(later - 1, 0), axis=-1)
    paid = newer + (lag - whole) * (older - newer)
    paid[..., -1] = owed[..., -1]
    return with_job + np.diff(paid, axis=-1, prepend=0.0)


def _machine_cash(payment, month):
    """Return (cash for the machine, cash to settle what is open at the end)."""
    since = month - np.ceil(payment.delivery_months)
    is_end = month == month[-1]
    n_due = payment.n_instalments
    paid = payment.deposit * (month == 0) + payment.balance * (since == 0)
    paid = paid + payment.instalment * ((since > 0) & (since <= n_due))
    paid = paid + payment.residual * ((since == n_due) & (since > 0))
    back = np.minimum(np.ceil(payment.tax_back_months), since[..., -1:])
    lent = payment.tax_lent * ((since == 0) * 1.0 - (since == back))
    settled = np.where(is_end, still_owed(payment, since[..., -1:]), 0.0)
    return -(paid + lent), -settled


def _check(work, trade, running, payment, horizon_years):
    if not (horizon_years >= 1 and horizon_years == int(horizon_years)):
        raise ScoringError(f"years: {horizon_years!r}; a whole number, 1 or more")
    for record in (work, trade, running, payment):
        for name, figure in record._asdict().items():
            if name not in ("days_available", "rate_per_month"):
                amount(name, figure)
    amount("days_available", np.minimum(work.days_available, 1e9))
    for name in ("deposit_share", "unpaid_share", "first_discount"):
        _at_most(name, getattr(trade, name), 1)
    _at_most("build_share", work.build_share, 1)
    for name in ("learning_start", "spoilt_start"):
        start = np.asarray(getattr(trade, name))
        if (start < 1).any():
            raise ScoringError(f"{name}: {start.min():g}; 1 or more")
    halving = np.asarray(trade.learning_halving)
    if (halving <= 0).any():
        raise ScoringError(f"learning_halving: {halving.min():g}; more than 0")
    mean = np.mean(trade.seasonality, axis=-1)
    if np.shape(trade.seasonality)[-1:] != (12,) or (abs(mean - 1) > 1e-6).any():
        raise ScoringError("seasonality: twelve factors of mean 1, January first")
    late = np.ceil(payment.delivery_months)
    if (late >= 12 * horizon_years).any():
        raise ScoringError(
            f"delivery_months: {late.max():g}; before the horizon's end, "
            f"{12 * horizon_years:g} months"
        )


def _at_most(name, figure, high):
    if (np.asarray(figure) > high).any():
        raise ScoringError(f"{name}: {np.max(figure):g}; {high} or less")
