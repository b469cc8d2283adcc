"""The average year by the month: late delivery, a slow start, a loan.

What a full, learned month holds comes from the average year; `cash` lays it out over
the horizon, with the buyer's terms of payment and trade.
"""

from typing import NamedTuple

import numpy as np

from scoring.model import cash
from scoring.model.money import landed_lines
from scoring.model.year import days_down_per_job


class Months(NamedTuple):
    """Cash by the month for each machine as the only one, and what it rests on."""

    work: cash.Work  # a full, learned month; (draw, machine, 1)
    running: cash.Running
    payment: cash.Payment
    cash: cash.Cash  # (draw, machine, month)
    funds: np.ndarray  # cash and credit that the payments leave; (draw, machine)


def months(machines, jobs, business, lived):
    """Return the Months of every machine.

    Parameters
    ----------
    machines, jobs, business : MachineFigures, JobFigures, BusinessFigures
    lived : Outcome of these figures

    Raises
    ------
    ScoringError
        If delivery is not within the horizon.
    """
    work = full_month(machines, jobs, business, lived)
    lines = lived.year.lines
    by_work = (lines.contributions, lines.plan_fee, lines.fixed_costs)
    running = cash.Running(
        plan_fee=_above(machines.plan_fee),
        upkeep=_above(sum(by_work) - sum(lines)),
        fixed_costs=_above(business.fixed_costs),
        resale=_above(machines.resale),
    )
    payment = payment_of(machines, business, lived.upfront)
    found = cash.monthly_cash(
        work, business.trade, running, payment, business.horizon_years
    )
    borrowed = 0.0
    if business.payment.way == "loan":
        borrowed = _borrowed(business, lived.upfront)
    funds = business.cash + _above(business.credit - borrowed)
    return Months(work, running, payment, found, (funds + 0 * lived.upfront)[..., 0])


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
    share = np.divide(building, on_site, out=np.zeros(on_site.shape), where=on_site > 0)
    month = business.days_per_week * business.weeks_per_year * business.bookable_share
    a_day = (business.people - 1) * business.wage_per_h * business.day_min / 60
    return cash.Work(
        jobs=lived.year.served_per_month.sum(axis=-1, keepdims=True),
        price=price,
        cost=price - mean(lived.contribution),
        area_m2=mean(jobs.walls * jobs.width_m * jobs.height_m),
        days=mean(lived.booked_days + days_down_per_job(machines)),
        days_available=month / 12,
        build_share=mean(share),
        build_cost=mean(-(lines.hired_help + lines.wages) * share),
        spoilt_cost=mean(-lines.spoilt),
        day_wages=a_day,
    )


def _mean_job(served, per_job):
    """Return a figure of one job, mean over the jobs served: (draw, machine, 1)."""
    per_job = np.broadcast_to(per_job, served.shape)
    total = served.sum(axis=-1, keepdims=True)
    sums = np.where(served > 0, served * np.nan_to_num(per_job), 0.0)
    sums = sums.sum(axis=-1, keepdims=True)
    return np.divide(sums, total, out=np.zeros(total.shape), where=total > 0)


def payment_of(machines, business, upfront):
    """Return how each machine is paid for: (draw, machine, 1).

    A lease pays all but the deposit. Import tax that is given back has to be lent until
    then, but for a lease, whose lessor imports the machine.
    """
    plan = business.payment
    deposit = plan.deposit_share * upfront
    if plan.way == "lease":
        return cash.lease(
            upfront,
            upfront - deposit,
            plan.lease_per_month + 0 * upfront,
            plan.n_instalments,
            plan.residual,
            deposit,
            plan.delivery_months,
        )
    if plan.way == "loan":
        found = cash.loan(
            upfront,
            np.minimum(_borrowed(business, upfront), upfront - deposit),
            plan.loan_rate,
            plan.n_instalments,
            deposit,
            plan.delivery_months,
        )
    elif plan.way == "deposit":
        found = cash.deposit_and_balance(upfront, deposit, plan.delivery_months)
    else:
        found = cash.own_cash(upfront, plan.delivery_months)
    return found._replace(
        tax_lent=_tax_lent(machines, business), tax_back_months=plan.tax_back_months
    )


def _borrowed(business, upfront):
    """Return what is borrowed: as the buyer says, else what is lacking in cash.

    Not more than the credit; where the buyer names a sum and no credit, that is it.
    """
    plan = business.payment
    lacking = np.minimum(_above(upfront - business.cash), business.credit)
    return np.where(np.isnan(plan.borrowed), lacking, plan.borrowed) + 0 * upfront


def _tax_lent(machines, business):
    """Return the import tax that the buyer pays at delivery and gets back later."""
    if not business.is_import_tax_recovered:
        return np.zeros(machines.price.shape)
    return landed_lines(machines, is_recovered=False).import_tax
