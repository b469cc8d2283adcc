"""Cash by the month: when money goes out and comes in, and what that is worth.

Months are on the last axis: 0 is the signing, month t the end of the t-th month. What
is received is above 0, what is paid below. Records broadcast over (draw, machine, 1).
Nominal, before tax and the owner's pay; an estimate from its inputs: ask an accountant
and a customs broker.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.figures import amount
from scoring.model.finance import (
    SLACK,
    annuity_payment,
    equivalent_annual,
    net_present_value,
    sign_changes,
)

DAYS_A_MONTH = 365 / 12
NONE, ONE, SEVERAL = "none", "one", "several"


class Payment(NamedTuple):
    """How the machine is paid for; sums above 0; (draw, machine, 1)."""

    deposit: np.ndarray  # at signing
    balance: np.ndarray  # own money at delivery
    delivery_months: np.ndarray = 0.0  # after signing; work starts here
    instalment: np.ndarray = 0.0  # at each month's end after delivery
    n_instalments: np.ndarray = 0
    residual: np.ndarray = 0.0  # with the last instalment, to own the machine
    rate_per_month: np.ndarray = 0.0  # a loan's; 0 for a lease
    tax_lent: np.ndarray = 0.0  # import tax paid at delivery and given back
    tax_back_months: np.ndarray = 3  # after delivery


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


class Worth(NamedTuple):
    """What the months come to; (draw, machine) but for the curve."""

    curve: np.ndarray  # (draw, machine, month): cash so far
    low_point: np.ndarray  # lowest of the curve, 0 or less
    low_month: np.ndarray
    payback_month: np.ndarray  # inf: never
    discounted_payback_month: np.ndarray
    npv: np.ndarray
    equivalent_annual_cost: np.ndarray  # of all that is paid, less resale
    cost_per_m2: np.ndarray  # NaN where nothing is printed
    cost_per_job: np.ndarray
    cash_per_day: np.ndarray  # left for a day worked


class Returns(NamedTuple):
    """Yearly rates at which flows are worth 0 now; shape (...)."""

    kind: np.ndarray  # "none", "one" or "several"
    rate: np.ndarray  # the one nearest 0; NaN where none
    n_rates: np.ndarray
    sign_changes: np.ndarray  # of the flows: there are no more rates than this


def own_cash(upfront, delivery_months=0.0):
    """Return the Payment of all of it at signing."""
    return Payment(amount("upfront", upfront), 0.0, delivery_months)


def deposit_and_balance(upfront, deposit, delivery_months):
    """Return the Payment of a deposit at signing and the rest at delivery."""
    return Payment(*_shared(upfront, deposit, 0.0), delivery_months)


def loan(upfront, borrowed, rate_per_year, n_months, deposit=0.0, delivery_months=0.0):
    """Return the Payment of a loan paid out at delivery, in level monthly sums.

    Parameters
    ----------
    upfront, borrowed, deposit : currency, 0 or more; deposit and loan are no more
        than upfront, the rest is own money at delivery
    rate_per_year : decimal; a month's rate is its twelfth, as loans are quoted
    n_months : whole number, 1 or more

    Raises
    ------
    ScoringError
        If a figure is out of its range.

    Examples
    --------
    >>> float(loan(12_000.0, 6_000.0, 0.0, 12, deposit=2_000.0).instalment)
    500.0
    """
    n_months = _term(n_months)
    rate = np.asarray(rate_per_year, dtype=float) / 12
    deposit, balance = _shared(upfront, deposit, borrowed)
    instalment = annuity_payment(amount("borrowed", borrowed), rate, n_months)
    return Payment(
        deposit,
        balance,
        delivery_months,
        instalment,
        n_months,
        rate_per_month=rate,
    )


def lease(
    upfront,
    leased,
    per_month,
    n_months,
    residual=0.0,
    deposit=0.0,
    delivery_months=0.0,
):
    """Return the Payment of a lease: so much a month, then the residual to own it.

    `leased` is the part of upfront that the lessor pays; the others as in `loan`. The
    monthly sum falls due at each month's end; contracts differ.
    """
    return Payment(
        *_shared(upfront, deposit, leased),
        delivery_months,
        amount("lease a month", per_month),
        _term(n_months),
        amount("residual", residual),
    )


def still_owed(payment, n_paid):
    """Return what a loan or lease asks for after n instalments, to be rid of it.

    A loan's balance; of a lease every sum to come, undiscounted (contracts differ).

    Examples
    --------
    >>> after = np.array([0, 6, 12])
    >>> still_owed(loan(1_200.0, 1_200.0, 0.0, 12), after).tolist()
    [1200.0, 600.0, 0.0]
    """
    left = payment.n_instalments - np.asarray(n_paid)
    left, is_owed = np.maximum(left, 1), left > 0
    level = payment.instalment / annuity_payment(1.0, payment.rate_per_month, left)
    last = payment.residual / (1 + np.asarray(payment.rate_per_month)) ** left
    return np.where(is_owed, level + last, 0.0)


def learning_factor(n_done, start, halving):
    """Return how many times its learned time a build takes after n builds.

    1 + (start − 1) · 2^(−n / halving): from `start` towards 1, the excess halving
    every `halving` builds. A start of 1.5 to 3 and a halving of 5 are own estimates.

    Examples
    --------
    >>> learning_factor(np.array([0, 5, 10]), 2.0, 5).tolist()
    [2.0, 1.5, 1.25]
    """
    return 1 + (np.asarray(start) - 1) * np.exp2(-np.asarray(n_done) / halving)


def learning_excess(n_done, n_more, start, halving):
    """Return the learned builds' worth of extra time in the next n_more builds.

    The sum of `learning_factor` − 1 over them, a geometric series; parts of a build
    count so that the months of a build add up to it.

    Examples
    --------
    >>> round(float(learning_excess(0, 2, 2.0, 1)), 9)
    1.5
    """
    fall = np.log(2) / np.asarray(halving, dtype=float)  # a build, as a logarithm
    first = learning_factor(n_done, start, halving) - 1
    return first * np.expm1(-fall * n_more) / np.expm1(-fall)


def demand_share(month, months_to_full, delivery_months=0.0):
    """Return a month's mean share of full demand: 0 before delivery, in the end 1.

    Demand rises evenly from 0 at delivery; the mean over the month is exact.

    Examples
    --------
    >>> demand_share(np.array([1, 2, 3, 4]), 2.0, 1.0).tolist()
    [0.0, 0.25, 0.75, 1.0]
    """

    def so_far(month):
        at_work = np.maximum(month - np.asarray(delivery_months), 0.0)
        full = np.asarray(months_to_full, dtype=float)
        rising = np.minimum(at_work, full)
        share = np.divide(rising, 2 * full, out=0 * rising, where=full > 0)
        return rising * share + at_work - rising

    month = np.asarray(month, dtype=float)
    return so_far(month) - so_far(month - 1)


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
    wanted = wanted * _season(trade, month)
    jobs, excess, done, taught = _jobs_by_month(work, trade, wanted, at_work)
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


def _season(trade, month):
    """Return each month's factor by the calendar; month 0 is before the first."""
    factors = np.asarray(trade.seasonality, dtype=float)
    return factors[..., (trade.first_month + month - 1) % 12]


def _jobs_by_month(work, trade, wanted, at_work):
    """Return, for each month: jobs served, extra time, jobs before, training days.

    Extra time is counted in learned jobs' worth of building.
    """
    wanted, at_work, *rest = np.broadcast_arrays(
        wanted,
        at_work,
        work.days,
        work.days_available,
        work.build_share,
        trade.learning_start,
        trade.learning_halving,
        trade.training_days,
        work.builds,
    )
    days, free, share, start, halving, to_teach, builds = (e[..., 0] for e in rest)
    done = np.zeros(wanted.shape[:-1])
    jobs, excess, before, taught = (np.zeros(wanted.shape) for _ in range(4))
    for month in range(wanted.shape[-1]):
        part, asked = at_work[..., month], wanted[..., month]
        room = np.multiply(free, part, out=np.zeros(part.shape), where=part > 0)
        before[..., month] = done
        taught[..., month] = np.minimum(room, to_teach)
        to_teach = to_teach - taught[..., month]
        room = room - taught[..., month]
        n_built = done * builds
        load = days * (1 + share * (learning_factor(n_built, start, halving) - 1))
        fits = np.divide(room, load, out=asked.copy(), where=asked * load > room)
        jobs[..., month] = fits
        more = learning_excess(n_built, fits * builds, start, halving)
        excess[..., month] = more / builds
        done = done + fits
    return jobs, excess, before, taught


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


def monthly_rate(rate_per_year):
    """Return the rate a month that twelve times over makes the yearly rate.

    Examples
    --------
    >>> float(monthly_rate(2.0**12 - 1))
    1.0
    """
    rate = np.asarray(rate_per_year, dtype=float)
    if not (np.isfinite(rate) & (rate > -1)).all():
        raise ScoringError(f"rate a year: {rate.min():g}; more than -1 (-100 %)")
    return (1 + rate) ** (1 / 12) - 1


def low_point(flows):
    """Return (lowest cash so far, the month it first is so low), shape (...).

    Of the curve that starts at 0 before the signing: a purchase that never needs money
    has its low point, 0, in month 0. Below 0 it is the cash and credit needed.

    Examples
    --------
    >>> [each.item() for each in low_point([-100.0, -20.0, 50.0, -30.0, 200.0])]
    [-120.0, 1]
    """
    curve = np.minimum(np.cumsum(flows, axis=-1), 0.0)
    return curve.min(axis=-1), curve.argmin(axis=-1)


def funds_gap(flows, funds):
    """Return the money that cash and credit lack at the low point, 0 or more."""
    return np.maximum(-low_point(flows)[0] - funds, 0.0)


def payback_month(flows, rate_per_year=0.0):
    """Return the first month from which the cash so far stays at 0 or above; inf never.

    Discounted by the month where a rate is given. A later dip puts payback off.

    Parameters
    ----------
    flows : shape (..., month)
    rate_per_year : scalar or shape (...)

    Examples
    --------
    >>> payback_month([[-100, 60, 50, -30, 40], [-100, 60, 0, 0, 0]]).tolist()
    [4.0, inf]
    """
    flows = np.asarray(flows, dtype=float)
    growth = 1 + monthly_rate(rate_per_year)[..., None]
    worth = flows / growth ** np.arange(flows.shape[-1])
    slack = SLACK * abs(worth).max(axis=-1, keepdims=True)
    is_back = worth.cumsum(axis=-1) >= -slack
    stays = np.logical_and.accumulate(is_back[..., ::-1], axis=-1)[..., ::-1]
    return np.where(stays.any(axis=-1), stays.argmax(axis=-1), np.inf)


def worth(cash, rate_per_year):
    """Return the Worth of these months.

    Costs of a square metre and of a job are all that is paid over the horizon less
    resale, undiscounted, which spreads the machine evenly over its use down to resale;
    interest is in them, other value of time is not.

    Parameters
    ----------
    cash : Cash
    rate_per_year : scalar or shape (draw, machine)
    """
    lowest, lowest_at = low_point(cash.flows)
    costs = cash.flows - cash.lines.receipts
    cost, kept = -costs.sum(axis=-1), cash.flows.sum(axis=-1)
    n_jobs = cash.jobs.sum(axis=-1)
    days = np.where(n_jobs > 0, cash.days.sum(axis=-1), 0.0)
    return Worth(
        cash.flows.cumsum(axis=-1),
        lowest,
        lowest_at,
        payback_month(cash.flows),
        payback_month(cash.flows, rate_per_year),
        net_present_value(cash.flows, monthly_rate(rate_per_year)),
        equivalent_annual_cost(costs, rate_per_year),
        _per(cost, cash.area_m2.sum(axis=-1)),
        _per(cost, n_jobs),
        _per(kept, days),
    )


def equivalent_annual_cost(flows, rate_per_year):
    """Return the level sum at each year's end that costs what the flows do: (...).

    Above 0 where the flows cost money.

    Parameters
    ----------
    flows : shape (..., month); whole years of months after month 0
    rate_per_year : scalar or shape (...)
    """
    n_years = (np.shape(flows)[-1] - 1) / 12
    value = net_present_value(flows, monthly_rate(rate_per_year))
    return -equivalent_annual(value, rate_per_year, n_years)


def rates_of_return(flows):
    """Return the Returns of flows by the month: none, one or several, said so.

    Flows that change sign once have one rate. With more changes the present value is
    looked at between losing 99.99 % and growing a hundredfold in a month; two rates
    within a fiftieth of each other, or one at which the present value touches 0
    without crossing it, may be missed. A row takes some 10 ms: meant for central
    figures, not for every draw.

    Parameters
    ----------
    flows : shape (..., month)

    Raises
    ------
    ScoringError
        If a flow is not finite.

    Source
    ------
    No more rates than sign changes: Descartes' rule of signs, on the polynomial in
    1/(1 + rate). Roots by Brent's method, as scipy has it.

    Examples
    --------
    >>> flows = np.zeros(25)
    >>> flows[[0, 12, 24]] = -1600, 10000, -10000
    >>> found = rates_of_return(flows)
    >>> found.kind.item(), round(found.rate.item(), 6), found.sign_changes.item()
    ('several', 0.25, 2)
    """
    flows = np.asarray(flows, dtype=float)
    changes = sign_changes(flows)
    rates = np.full(changes.shape, np.nan)
    n_rates = np.zeros(changes.shape, dtype=int)
    for place in np.ndindex(changes.shape):
        if changes[place]:
            found = _roots(flows[place])
            n_rates[place] = len(found)
            rates[place] = min(found, key=abs, default=np.nan)
    kind = np.where(n_rates == 0, NONE, np.where(n_rates == 1, ONE, SEVERAL))
    return Returns(kind, rates, n_rates, changes)


def _roots(flows):
    """Return the yearly rates at which one row of flows is worth 0."""
    from scipy.optimize import brentq

    month = np.arange(len(flows))
    flows = flows / abs(flows).max()

    def value(growth):  # the month's growth as a logarithm
        # measured at the end where growth is below 0, so that no power overflows
        growth = np.asarray(growth)[..., None]
        when = np.where(growth >= 0, month, month - month[-1])
        return np.exp(-growth * when) @ flows

    # dense about 0, where rates lie; to −9.2 and 4.6, the logs of 1/10 000 and 100
    growths = 0.01 * np.sinh(np.linspace(-np.arcsinh(920), np.arcsinh(460), 801))
    values = value(growths)
    at = np.flatnonzero(values)
    turns = np.flatnonzero(np.sign(values[at[1:]]) != np.sign(values[at[:-1]]))
    found = [brentq(value, growths[at[i]], growths[at[i + 1]]) for i in turns]
    return [float(np.expm1(12 * growth)) for growth in found]


def _per(total, count):
    out = np.full(np.shape(total), np.nan)
    return np.divide(total, count, out=out, where=count > SLACK)


def _shared(upfront, deposit, financed):
    """Return (deposit, own money left to pay at delivery)."""
    deposit = amount("deposit", deposit)
    balance = amount("upfront", upfront) - deposit - amount("financed", financed)
    if (balance < -SLACK * np.asarray(upfront)).any():
        raise ScoringError(
            f"deposit and financed sum: {-balance.min():g} above upfront; at most it"
        )
    return deposit, np.maximum(balance, 0.0)


def _term(n_months):
    term = np.asarray(n_months)
    wrong = term[~((term >= 1) & (term == np.floor(term)))]
    if wrong.size:
        raise ScoringError(f"months: {wrong[0]:g}; a whole number, 1 or more")
    return term


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
