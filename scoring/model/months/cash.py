"""Cash by the month: when money goes out and comes in, and what that is worth.

Months are on the last axis: 0 is the signing, month t the end of the t-th month. What
is received is above 0, what is paid below. Records broadcast over (draw, machine, 1).
Nominal, before tax and the owner's pay; an estimate from its inputs: ask an accountant
and a customs broker.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.months.learning import demand_share
from scoring.model.months.payment import machine_cash
from scoring.model.months.steps import Lines, steps
from scoring.model.months.worth import monthly_rate
from scoring.model.numbers import amount


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
    own_pay: np.ndarray = 0.0  # of `cost`: the owner's hours


class Running(NamedTuple):
    """What a year costs whatever the work, and the end; above 0."""

    plan_fee: np.ndarray = 0.0  # a year, from delivery
    upkeep: np.ndarray = 0.0  # a year without work, from delivery; with idle care
    fixed_costs: np.ndarray = 0.0  # a year, from signing
    resale: np.ndarray = 0.0  # at the end
    upkeep_saved: np.ndarray = 0.0  # of the upkeep, by each job
    crew_pay: np.ndarray = 0.0  # a year, of those paid by the month, from signing
    living: np.ndarray = 0.0  # a month, what the owner draws, from signing


class Cash(NamedTuple):
    """The months of a purchase; (draw, machine, month), month 0 being the signing."""

    lines: Lines
    flows: np.ndarray
    jobs: np.ndarray
    days: np.ndarray  # worked
    area_m2: np.ndarray
    revenue: np.ndarray  # what clients owe for the month's jobs
    living: np.ndarray  # what the owner draws besides, 0 or less; not in the flows


class CashOfDraws(NamedTuple):
    """What the months come to in each draw; (draw, machine) but for the last."""

    lowest: np.ndarray  # of the cash so far, the owner's living paid, 0 or less
    npv: np.ndarray
    cash: Cash | None  # what was kept of the months
    trail: np.ndarray | None = None  # (month, draw, machine, 1): see `repriced`


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
    of = work, trade, running, payment, horizon_years
    return cash_of_draws(*of, kept=every_draw).cash


def every_draw(figures):
    """Return all of a month's figures: what is kept of the months is the months."""
    return figures


def cash_of_draws(
    work,
    trade,
    running,
    payment,
    horizon_years,
    rate_per_year=0.0,
    kept=None,
    has_trail=False,
):
    """Return the CashOfDraws of the purchases that `monthly_cash` returns the Cash of.

    Month by month: with many draws, all flows would take long to write and to read.

    Parameters
    ----------
    rate_per_year : scalar or shape (draw, 1) or (draw, machine)
    kept : function (draw, machine, 1) → (alternative, machine, 1), linear; or None
        What the months are kept as: say their mean over the draws.
    has_trail : whether cash so far is kept, without what the machine itself costs
    others, errors : as in `monthly_cash`
    """
    _check(work, trade, running, payment, horizon_years)
    a_month = np.asfortranarray(1 / (1 + monthly_rate(rate_per_year)[..., None]))
    so_far, drawn, lowest, npv, months = np.zeros(1), 0.0, 0.0, 0.0, []
    worth = np.ones_like(a_month)  # of money, at the signing
    paid, trail = 0.0, []
    each = steps(work, trade, running, payment, 12 * int(horizon_years))
    for step in each:
        flow = sum(sorted(step.lines, key=np.size))  # the small ones first: quicker
        so_far = so_far + flow
        drawn = drawn + step.living
        lowest = np.minimum(lowest, so_far + drawn)
        if has_trail:
            paid = paid + (step.lines.machine + step.lines.settled)
            trail.append(so_far + drawn - paid)
        npv = npv + flow * worth
        worth = worth * a_month
        if kept is not None:
            figures = _of_month(work, trade, step)
            months.append([kept(np.atleast_1d(figure)) for figure in figures])
    cash = None if kept is None else _in_a_row(months)
    trail = np.stack(np.broadcast_arrays(*trail)) if has_trail else None
    return CashOfDraws(lowest[..., 0], npv[..., 0], cash, trail)


def _of_month(work, trade, step):
    """Return the lines of a month, then its jobs, days, area, revenue and living."""
    extra_builds = step.slowly * (trade.learning_start - 1)
    days = (step.jobs + work.build_share * extra_builds) * work.days
    days = days + step.taught - step.jobs * work.down_days
    area_m2 = step.jobs * work.area_m2
    return *step.lines, step.jobs, days, area_m2, step.revenue, step.living


def _in_a_row(months):
    """Return the Cash of months, each a list of figures (alternative, machine, 1)."""
    shape = np.broadcast_shapes(*(np.shape(figure) for one in months for figure in one))
    found = np.empty((len(months[0]), *shape[:-1], len(months)))
    for month, one in enumerate(months):
        for row, figure in zip(found, one, strict=True):
            row[..., month : month + 1] = figure
    *lines, jobs, days, area_m2, revenue, living = found
    flows = sum(lines)
    return Cash(Lines(*lines), flows, jobs, days, area_m2, revenue, living)


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
    machine, settled = machine_cash(payment, month, n_months)
    others = at_delivery * (month == late) + at_end * (month == n_months)
    added = (added_left * demand + added_running * at_work) / 12
    return machine + settled + added + others


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
