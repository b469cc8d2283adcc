"""The average year by the month: late delivery, a slow start, a loan.

What a full, learned month holds comes from the average year; `cash` lays it out over
the horizon, with the buyer's terms of payment and trade.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.money.crew_pay import crew_pay, wage_by_hour
from scoring.model.money.job_money import landed_lines
from scoring.model.money.served import days_down_per_job
from scoring.model.money.year_lines import job_use, year_lines
from scoring.model.months import cash
from scoring.model.months.payment import (
    Payment,
    deposit_and_balance,
    lease,
    loan,
    own_cash,
)
from scoring.model.numbers import over_jobs

HARDLY = 1e-9  # of the work: nothing, but ink is bought


class Months(NamedTuple):
    """Cash by the month for each machine as the only one, and what it rests on."""

    work: cash.Work  # a full, learned month; (draw, machine, 1)
    running: cash.Running
    payment: Payment
    cash: cash.Cash | None  # (draw, machine, month), or what is kept of it
    funds: np.ndarray  # cash and credit that the payments leave; (draw, machine)
    lowest: np.ndarray  # cash so far, 0 or less; (draw, machine)
    npv: np.ndarray  # (draw, machine)
    trail: np.ndarray | None = None  # as in `CashOfDraws`


def months(machines, jobs, business, lived, kept=cash.every_draw, has_trail=False):
    """Return the Months of every machine.

    Parameters
    ----------
    machines, jobs, business : MachineFigures, JobFigures, BusinessFigures
    lived : Outcome of these figures
    kept : function of a month's figures, or None; as in `cash_of_draws`
    has_trail : as in `cash_of_draws`

    Raises
    ------
    ScoringError
        If delivery is not within the horizon.
    """
    of = work, _, running, payment, _ = _purchase(machines, jobs, business, lived)
    found = cash.cash_of_draws(*of, business.discount_rate[..., 0], kept, has_trail)
    funds = funds_of(business, lived.upfront)[..., 0]
    return Months(
        *(work, running, payment, found.cash, funds),
        *(found.lowest, found.npv, found.trail),
    )


def funds_of(business, upfront):
    """Return the cash and the credit that paying leaves: (draw, machine, 1)."""
    left = business.credit - borrowed(business, upfront)
    return business.cash + _above(left) + 0 * upfront


def _purchase(machines, jobs, business, lived):
    """Return what `monthly_cash` asks for: work, trade, running, payment, years."""
    work = full_month(machines, jobs, business, lived)
    at_rest, saved = _at_rest(machines, jobs, business, lived)
    running = cash.Running(
        plan_fee=_above(machines.plan_fee),
        upkeep=at_rest,
        upkeep_saved=saved,
        fixed_costs=_above(business.fixed_costs),
        resale=_above(machines.resale),
        crew_pay=crew_pay(business),
        living=_above(business.living),
    )
    tax = tax_lent(machines, business)
    payment = payment_of(business, lived.upfront, tax)
    return work, business.trade, running, payment, business.horizon_years


def _at_rest(machines, jobs, business, lived):
    """Return (upkeep of a year without work, what each job saves of it).

    Idle care, ageing and ink that grows too old fall as work rises, on a straight line
    between a machine that is hardly used and the full year.
    """
    served = 12 * lived.year.served_per_month
    use = job_use(machines, jobs, lived.site)

    def others(n_year):
        lines = year_lines(machines, business, use, n_year, 0.0)
        others = lines.plan_fee + lines.crew_pay + lines.fixed_costs
        return _above(others - sum(lines))

    at_rest, at_work = others(HARDLY * served), others(served)
    n_jobs = over_jobs(served)
    zero = 0.0 * (at_rest + n_jobs)
    return at_rest, np.divide(at_rest - at_work, n_jobs, out=zero, where=n_jobs > 0)


def _above(array):
    return np.maximum(array, 0.0)


def full_month(machines, jobs, business, lived):
    """Return the Work of a full, learned month: what the average year serves."""
    lines, site = lived.contribution_lines, lived.site

    def mean(per_job):
        return _mean_job(lived.year.served_per_month, per_job)

    price = mean(lines.revenue)
    on_site = np.nan_to_num(site.on_site_min)
    building = np.nan_to_num(site.parts.assembly + site.parts.prime)
    share = np.divide(building, on_site, out=np.zeros_like(on_site), where=on_site > 0)
    down = days_down_per_job(machines, business)
    days = mean(lived.booked_days + down)
    month = business.days_per_week * business.weeks_per_year * business.bookable_share
    wage = (lived.carried.own - 1) * wage_by_hour(business) / 60
    return cash.Work(
        jobs=_wanted(jobs, business, lived, down),
        price=price,
        cost=price - mean(lived.contribution),
        area_m2=mean(jobs.walls * jobs.width_m * jobs.height_m),
        days=days,
        days_available=month / 12,
        builds=np.maximum(mean(site.builds), 1.0),
        down_days=mean(down),
        build_share=_quotient(mean(share * lived.booked_days), days),
        build_cost=mean(wage * building - lines.hired_help * share),
        spoilt_cost=mean(-lines.spoilt),
        own_pay=_above(mean(-lines.own_pay)),
        day_wages=_most(lived.year.served_per_month, wage) * business.day_min,
    )


def _quotient(numerator, denominator):
    numerator, denominator = np.broadcast_arrays(numerator, denominator)
    out = np.zeros_like(numerator, dtype=float)
    return np.divide(numerator, denominator, out=out, where=denominator > 0)


def _wanted(jobs, business, lived, down):
    """Return the jobs of the average mix that clients want in a full month.

    Where all work is cut alike to the days, more than is served. Where the best goes
    first, as much more than is served as is wanted more of every kind that is served:
    what is full in a full year is then short in a thin month. Less demand so takes from
    good work and poor work alike, which is on the careful side.
    """
    served = lived.year.served_per_month
    total = over_jobs(served)
    if business.is_best_first:
        over = np.full(np.broadcast_shapes(served.shape, jobs.per_month.shape), np.inf)
        np.divide(jobs.per_month, served, out=over, where=served > 0)
        least = over.min(axis=-1, keepdims=True)
        return total * np.where(np.isfinite(least), np.maximum(least, 1.0), 1.0)
    is_asked = lived.can_do & ~lived.year.is_declined
    load = np.where(is_asked, lived.booked_days + down, 0.0)
    wanted = over_jobs(jobs.per_month, load)
    done = over_jobs(served, load)
    return total * np.maximum(_quotient(wanted, done), 1.0)


def _mean_job(served, per_job):
    """Return a figure of one job, mean over the jobs served: (draw, machine, 1)."""
    per_job = np.broadcast_to(per_job, served.shape)
    total = over_jobs(served)
    sums = np.where(served > 0, served * np.nan_to_num(per_job), 0.0)
    sums = over_jobs(sums)
    return np.divide(sums, total, out=np.zeros_like(total), where=total > 0)


def _most(served, per_job):
    """Return the most of the jobs that are served, 0 without any."""
    return np.where(served > 0, per_job, 0.0).max(axis=-1, keepdims=True)


def payment_of(business, upfront, tax):
    """Return how each machine is paid for: (draw, machine, 1).

    A lease pays all but the deposit. Import tax that is given back, `tax`, has to be
    lent until then, but for a lease, whose lessor imports the machine.
    """
    plan = business.payment
    deposit = plan.deposit_share * upfront
    if plan.way == "lease":
        return lease(
            upfront,
            upfront - deposit,
            plan.lease_per_month + 0 * upfront,
            plan.n_instalments,
            plan.residual,
            deposit,
            plan.delivery_months,
        )
    if plan.way == "loan":
        found = loan(
            upfront,
            borrowed(business, upfront),
            plan.loan_rate,
            plan.n_instalments,
            deposit,
            plan.delivery_months,
        )
    elif plan.way == "deposit":
        found = deposit_and_balance(upfront, deposit, plan.delivery_months)
    else:
        found = own_cash(upfront, plan.delivery_months)
    return found._replace(tax_lent=tax, tax_back_months=plan.tax_back_months)


def borrowed(business, upfront):
    """Return what is borrowed: as the buyer says, else what is lacking in cash.

    Not more than the credit, nor than what the deposit leaves to pay; nothing unless
    the way of paying is a loan.
    """
    plan = business.payment
    if plan.way != "loan":
        return 0 * upfront
    lacking = np.minimum(_above(upfront - business.cash), business.credit)
    asked = np.where(np.isnan(plan.borrowed), lacking, plan.borrowed)
    return np.minimum(asked, upfront - plan.deposit_share * upfront)


def tax_lent(machines, business):
    """Return the import tax that the buyer pays at delivery and gets back later."""
    if not business.is_import_tax_recovered:
        return np.zeros(machines.price.shape)
    return landed_lines(machines, is_recovered=False).import_tax
