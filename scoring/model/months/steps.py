"""One month after the other: what is served, what is learned, what is paid.

Records broadcast over (draw, machine, 1), and so does each month. A month knows the one
before it alone, so that many draws run without keeping their months.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.months.learning import demand_share, season
from scoring.model.months.payment import machine_cash_by_month

DAYS_A_MONTH = 365 / 12
NO_TIME = 1e-9  # days of a job


class Lines(NamedTuple):
    """Cash by cause; the lines sum to the flows; (draw, machine, month)."""

    receipts: np.ndarray
    job_costs: np.ndarray
    plan_fee: np.ndarray
    upkeep: np.ndarray
    crew_pay: np.ndarray
    fixed_costs: np.ndarray
    machine: np.ndarray  # deposit, balance, instalments, import tax lent
    settled: np.ndarray  # what a loan or lease still asks for at the end
    resale: np.ndarray


class MonthStep(NamedTuple):
    """One month; each broadcasts to (draw, machine, 1)."""

    lines: Lines
    jobs: np.ndarray
    slowly: np.ndarray  # learned jobs' worth, were the first build twice as slow
    taught: np.ndarray  # training days
    revenue: np.ndarray  # what clients owe for the month's jobs
    living: np.ndarray  # what the owner draws beyond the pay of the month's hours


class _Served(NamedTuple):
    jobs: np.ndarray
    slowly: np.ndarray  # learned jobs' worth, were the first build twice as slow
    taught: np.ndarray
    before: np.ndarray  # jobs of the months before


def steps(work, trade, running, payment, n_months):
    """Yield the MonthStep of the signing, then of each month.

    Parameters
    ----------
    work, trade, running, payment : Work, Trade, Running, Payment, checked
    n_months : int, of the horizon
    """
    work, trade, running, payment = map(_by_column, (work, trade, running, payment))
    months, from_then = np.arange(n_months + 1), payment.delivery_months
    at_work = np.asfortranarray(demand_share(months, 0.0, from_then))
    wanted = demand_share(months, trade.months_to_full, from_then)
    wanted = np.asfortranarray(wanted * season(trade, months))
    is_open_all = (at_work == 1).all(axis=tuple(range(at_work.ndim - 1)))
    shares, owed = _shares_by_lag(trade), []
    build_cost = (trade.learning_start - 1) * work.build_cost
    slow_cost = build_cost + (trade.spoilt_start - 1) * work.spoilt_cost
    plan_fee, upkeep = -running.plan_fee / 12, running.upkeep / 12
    crew_pay, fixed_costs = -running.crew_pay / 12, -running.fixed_costs / 12
    is_drawn, is_first = (running.living > 0).any(), True
    served = _served(work, trade, wanted, at_work)
    machine_lines = machine_cash_by_month(payment, n_months)
    for month, (now, of_machine) in enumerate(zip(served, machine_lines, strict=True)):
        is_open = 1.0 if is_open_all[month] else at_work[..., month : month + 1]
        revenue = now.jobs * work.price
        if is_first:  # some jobs may still be among the first, which are cheaper
            left = trade.first_jobs - now.before
            is_first = bool((left > 0).any())
            cheaper = np.minimum(np.maximum(left, 0.0), now.jobs)
            revenue = (now.jobs - cheaper * trade.first_discount) * work.price
        owed.append(revenue)
        job_costs = -(now.jobs * work.cost + now.slowly * slow_cost)
        if now.taught.any():
            job_costs = job_costs - now.taught * work.day_wages
        lines = Lines(
            _paid(shares, owed, month == n_months),
            job_costs,
            plan_fee * is_open,
            -np.maximum(upkeep * is_open - running.upkeep_saved * now.jobs, 0.0),
            crew_pay * (month > 0),
            fixed_costs * (month > 0),
            *of_machine,
            running.resale if month == n_months else 0.0,
        )
        living = 0.0
        if is_drawn and month:
            pay = now.jobs * work.own_pay
            living = -np.maximum(running.living - pay, 0.0)
        yield MonthStep(lines, now.jobs, now.slowly, now.taught, revenue, living)


def _by_column(record):
    """Return the record with each array laid out draw by draw, machine by machine.

    Few machines and many draws: loops over draws are the long ones.
    """
    return record._replace(
        **{name: np.asfortranarray(each) for name, each in record._asdict().items()}
    )


def _served(work, trade, wanted, at_work):
    """Yield the _Served of each month.

    A month serves what is wanted, as far as its days go, at the pace of its first job.
    Of the time that first builds take longer, `slow` is the share that is left; each
    build leaves it as many times smaller, so no month asks how many came before it.
    """
    fall = np.log(2) / np.asarray(trade.learning_halving, dtype=float)
    a_job = -fall * work.builds
    in_jobs = -1 / (np.expm1(-fall) * work.builds)
    slower = work.days * work.build_share * (trade.learning_start - 1)
    free = work.days_available
    is_quick = work.days < NO_TIME  # so that no room divided by it is infinite
    days = np.where(is_quick & (work.jobs <= 0), 1.0, work.days)
    is_any_quick = bool((is_quick & (work.jobs > 0)).any())
    to_teach, slow, before = trade.training_days, 1.0, 0.0
    for month in range(wanted.shape[-1]):
        part = at_work[..., month : month + 1]
        asked = work.jobs * wanted[..., month : month + 1]
        room = np.multiply(free, part, out=_zeros(free, part), where=part > 0)
        taught = np.minimum(room, to_teach)
        to_teach, room = to_teach - taught, room - taught
        load = days + slower * slow
        if is_any_quick:
            asked, load, room = np.broadcast_arrays(asked, load, room)
            is_full = asked * load > room
            jobs = np.divide(room, load, out=asked.copy("K"), where=is_full)
        else:
            jobs = np.minimum(asked, room / load)
        gone = -slow * np.expm1(a_job * jobs)
        yield _Served(jobs, gone * in_jobs, taught, before)
        slow, before = slow - gone, before + jobs


def _zeros(*figures):
    return np.zeros(np.broadcast_shapes(*map(np.shape, figures)), order="F")


def _shares_by_lag(trade):
    """Return {months: share of what a job owes that is paid so much later}, in order.

    Jobs come evenly, so a lag of a month and a half is one month for half of the money
    and two for the other half.
    """
    lag = np.asarray(trade.days_to_pay) / DAYS_A_MONTH
    whole = np.floor(lag)
    part = lag - whole
    later = (1 - np.asarray(trade.deposit_share)) * (1 - trade.unpaid_share)
    shares = {0: trade.deposit_share}
    for months in np.unique(whole).astype(int).tolist():
        is_so = later * (whole == months)
        shares[months] = shares.get(months, 0.0) + is_so * (1 - part)
        shares[months + 1] = shares.get(months + 1, 0.0) + is_so * part
    return dict(sorted(shares.items()))


def _paid(shares, owed, is_end):
    """Return what clients pay in the last month of `owed`; at the end all still out."""
    if is_end:
        shares = _all_from(shares, len(owed))
    known = [months for months in shares if months < len(owed)]
    return sum(owed[-1 - months] * shares[months] for months in known)


def _all_from(shares, n_months):
    """Return {months: share that is paid so much later or later still}."""
    found, longest = {}, max(shares)
    total = 0.0
    for months in range(longest, -1, -1):
        total = total + shares.get(months, 0.0)
        if months < n_months:
            found[months] = total
    return found
