"""Money over the years: cash by the month, and years as they may turn out.

Both start from the average year of the evaluation. The months add what comes late:
delivery, the rise of demand, slow first builds, clients who pay later or not at all, a
loan. The simulated years add chance: when jobs come, and when the machine stops.
"""

from dataclasses import dataclass

import numpy as np

from scoring.evaluation import Evaluation
from scoring.model import cash, simulated_year
from scoring.model.year import days_down_per_job
from scoring.wording import figure

N_YEARS = 2_000
PERCENTILES = (10, 50, 90)
SAID = (
    "Low, middle, high: P10, P50, P90 of simulated years with jobs and breakdowns at\n"
    "random; too little: share of years that do not cover the loan."
)


@dataclass(frozen=True)
class Years:
    """The months and years of every machine; arrays in the machines' order."""

    evaluation: Evaluation
    payment: cash.Payment
    cash: cash.Cash  # (1, machine, month)
    worth: cash.Worth  # (1, machine)
    funds_gap: np.ndarray  # (machine,) what cash and credit lack at the low point
    loan_a_year: np.ndarray  # (machine,) instalments of a full year
    break_even_jobs: np.ndarray  # (machine,) a month, to carry the year's costs


@dataclass(frozen=True)
class Chances:
    """Simulated years of every machine: (percentile, machine) or (machine,)."""

    n_years: int
    seed: int
    results: np.ndarray  # (percentile, machine) the year's result
    turned_away: np.ndarray  # jobs a year, mean
    days_idle: np.ndarray  # of the diary, mean
    backlog_weeks: np.ndarray  # (percentile, machine) mean backlog of a year
    shortfall: np.ndarray  # chance that the year does not cover the loan


def years(evaluation):
    """Return the Years of an evaluation: the central figures by the month."""
    machines, _, business = evaluation.figures
    work = _work(evaluation)
    payment = _payment(evaluation)
    running = cash.Running(
        plan_fee=_above(machines.plan_fee),
        upkeep=_upkeep(evaluation),
        fixed_costs=_above(business.fixed_costs),
        resale=_above(machines.resale),
    )
    months = cash.monthly_cash(
        work, _trade(evaluation), running, payment, business.horizon_years
    )
    instalment = np.broadcast_to(payment.instalment, evaluation.outcome.upfront.shape)
    a_year = running.plan_fee + running.upkeep + running.fixed_costs
    return Years(
        evaluation=evaluation,
        payment=payment,
        cash=months,
        worth=cash.worth(months, business.discount_rate[..., 0]),
        funds_gap=cash.funds_gap(months.flows, _credit(evaluation))[0],
        loan_a_year=12 * instalment[0, :, 0],
        break_even_jobs=cash.break_even_jobs(a_year, work.price - work.cost)[0, :, 0],
    )


def _above(array):
    return np.maximum(array, 0.0)


def _of_trade(evaluation, key):
    return float(evaluation.drawn["brief", key][0])


def _credit(evaluation):
    """Return the cash, and the loan where it is not already in the payments."""
    business = evaluation.figures[2]
    funds = float((business.cash + business.credit)[0, 0, 0])
    if evaluation.brief.payment.way == "loan" and evaluation.brief.money.loan:
        return funds - _of_trade(evaluation, "money.loan")
    return funds


def _mean_job(evaluation, per_job):
    """Return a figure of one job, mean over the jobs served: (1, machine, 1)."""
    lived = evaluation.outcome
    served = lived.year.served_per_month
    per_job = np.broadcast_to(per_job, served.shape)
    total = served.sum(axis=-1, keepdims=True)
    sums = np.where(served > 0, served * np.nan_to_num(per_job), 0.0).sum(
        axis=-1, keepdims=True
    )
    return np.divide(sums, total, out=np.zeros(total.shape), where=total > 0)


def _work(evaluation):
    """Return the Work of a full, learned month: what the average year serves."""
    lived, (machines, jobs, business) = evaluation.outcome, evaluation.figures
    price = _mean_job(evaluation, lived.contribution_lines.revenue)
    down = days_down_per_job(machines)
    days = _mean_job(evaluation, lived.booked_days + down)
    on_site = np.nan_to_num(lived.site.on_site_min)
    building = lived.site.parts.assembly + lived.site.parts.prime
    share = np.divide(
        np.nan_to_num(building), on_site, out=np.zeros(on_site.shape), where=on_site > 0
    )
    lines = lived.contribution_lines
    people_cost = -(lines.hired_help + lines.wages)
    month = business.days_per_week * business.weeks_per_year * business.bookable_share
    return cash.Work(
        jobs=lived.year.served_per_month.sum(axis=-1, keepdims=True),
        price=price,
        cost=price - _mean_job(evaluation, lived.contribution),
        area_m2=_mean_job(evaluation, jobs.walls * jobs.width_m * jobs.height_m),
        days=days,
        days_available=month / 12,
        build_share=_mean_job(evaluation, share),
        build_cost=_mean_job(evaluation, people_cost * share),
    )


def _upkeep(evaluation):
    """Return what a year costs whatever the work, but for fee and fixed costs."""
    lines = evaluation.outcome.year.lines
    others = (lines.contributions, lines.plan_fee, lines.fixed_costs)
    return _above(sum(others) - sum(lines))


def _trade(evaluation):
    """Return the Trade of the brief; its seasons are brought to a mean of 1."""
    trade = evaluation.brief.trade
    seasons = np.array(trade.seasonality)
    seasons = seasons / seasons.mean() if seasons.sum() > 0 else np.ones(12)
    return cash.Trade(
        months_to_full=_of_trade(evaluation, "trade.months_to_full"),
        seasonality=seasons,
        first_month=trade.first_month - 1,
        learning_start=_of_trade(evaluation, "trade.learning_start"),
        learning_halving=_of_trade(evaluation, "trade.learning_halving"),
        deposit_share=_of_trade(evaluation, "trade.deposit_share"),
        days_to_pay=_of_trade(evaluation, "trade.days_to_pay"),
        unpaid_share=_of_trade(evaluation, "trade.unpaid_share"),
    )


def _payment(evaluation):
    """Return how each machine is paid for.

    Borrowed is what the brief says, else what a machine costs beyond the cash; never
    more than its cost to the door less the deposit. A lease pays all but the deposit.
    """
    plan, upfront = evaluation.brief.payment, evaluation.outcome.upfront
    wait = _of_trade(evaluation, "payment.delivery_months")
    if plan.way == "cash":
        return cash.own_cash(upfront, wait)
    deposit = _of_trade(evaluation, "payment.deposit") * upfront
    if plan.way == "deposit":
        return cash.deposit_and_balance(upfront, deposit, wait)
    if plan.way == "lease":
        per_month = _of_trade(evaluation, "payment.lease_per_month")
        key = ("brief", "payment.residual")
        residual = float(evaluation.drawn[key][0]) if key in evaluation.drawn else 0.0
        return cash.lease(
            upfront,
            upfront - deposit,
            per_month + 0 * upfront,
            plan.loan_months,
            residual,
            deposit,
            wait,
        )
    if plan.borrowed is not None:
        borrowed = _of_trade(evaluation, "payment.borrowed") + 0 * upfront
    else:
        borrowed = _above(upfront - _of_trade(evaluation, "money.cash"))
    rate = _of_trade(evaluation, "payment.loan_rate")
    borrowed = np.minimum(borrowed, upfront - deposit)
    return cash.loan(upfront, borrowed, rate, plan.loan_months, deposit, wait)


def chances(evaluation, n_years=N_YEARS, seed=1, on_progress=None):
    """Return the Chances: full, learned years with jobs and stoppages at random.

    The loan's instalments are those of `years`. Work is first come first served here,
    so must-serve work has no priority.
    """
    lived, (machines, jobs, business) = evaluation.outcome, evaluation.figures
    shape = lived.can_do.shape
    is_done = lived.can_do & ~lived.year.is_declined
    booked = np.where(is_done, lived.booked_days, np.nan)[0]
    trade = evaluation.brief.trade
    found = simulated_year.simulate(
        per_month=np.broadcast_to(jobs.per_month, shape)[0, 0],
        booked_days=booked,
        contribution=np.where(is_done, lived.contribution, np.nan)[0],
        other_lines=(lived.year.result - lived.year.lines.contributions)[0, :, 0],
        jobs_between_stoppages=machines.jobs_between_stoppages[0, :, 0],
        days_down=machines.days_down[0, :, 0],
        diary=simulated_year.Diary(
            float(business.days_per_week[0, 0, 0]),
            float(business.weeks_per_year[0, 0, 0]),
            float(business.bookable_share[0, 0, 0]),
        ),
        patience_days=_of_trade(evaluation, "trade.patience"),
        seasonality=np.array(trade.seasonality),
        n_years=n_years,
        seed=seed,
        on_progress=on_progress,
    )
    loan = years(evaluation).loan_a_year
    return Chances(
        n_years=n_years,
        seed=seed,
        results=simulated_year.percentiles(found.result, PERCENTILES),
        turned_away=found.turned_away.sum(axis=-1).mean(axis=0),
        days_idle=found.days_idle.mean(axis=0),
        backlog_weeks=simulated_year.percentiles(found.mean_backlog_weeks, PERCENTILES),
        shortfall=simulated_year.chance_below(found.result - loan, 0.0),
    )


def plan_break_evens(evaluation, k):
    """Return [(cheaper plan, dearer plan, jobs a month or None)] of machine k.

    The jobs a month at which the dearer plan starts to pay, the mix as it is.
    """
    plans = sorted(evaluation.plans[k], key=lambda plan: plan.fee)
    jobs = float(evaluation.outcome.year.served_per_month[0, k].sum())
    found = []
    for cheap, dear in zip(plans, plans[1:], strict=False):
        per_job = [
            (plan.year_result + plan.fee) / (12 * jobs) if jobs else 0.0
            for plan in (cheap, dear)
        ]
        found.append(
            (cheap.name, dear.name, cash.plan_break_even(cheap.fee, dear.fee, *per_job))
        )
    return found


def low_points(found):
    """Return {machine: sentence} on the month in which its cash is lowest."""
    currency = found.evaluation.brief.currency
    said = {}
    for k, name in enumerate(found.evaluation.names):
        low = figure(-found.worth.low_point[0, k], currency)
        month = int(found.worth.low_month[0, k])
        text = f"Deepest in the red: {low}, in month {month} after signing."
        if found.funds_gap[k] > 0:
            gap = figure(found.funds_gap[k], currency)
            text += f" That is {gap} more than your cash and credit."
            if month:
                text += " It fits on the day you pay, not until clients have paid."
        said[name] = text
    return said
