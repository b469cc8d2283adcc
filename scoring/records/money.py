"""The money of machines → records of plain values."""

from dataclasses import dataclass

from scoring.answer.one_machine import at, of_place
from scoring.model.months.worth import payback_month, rates_of_return
from scoring.records.plain import plain


@dataclass(frozen=True)
class PlanRecord:
    """What the year would leave under a plan."""

    plan: str
    fee: float
    year: float


@dataclass(frozen=True)
class DearerPlanRecord:
    """From how many jobs a month a dearer plan pays; None where it does not."""

    plan: str
    against: str
    jobs_per_month: float | None


@dataclass(frozen=True)
class JobMoneyRecord:
    """What one job of a kind leaves."""

    job: str
    served_per_month: float
    revenue: float | None
    contribution: float | None


@dataclass(frozen=True)
class MoneyRecord:
    """The average year of one machine, from what is paid to what is left."""

    name: str
    upfront: float
    year_result: float
    before_pay: float
    payback_months: float | None
    npv: float
    irr: float | None
    plan: str
    booked_days: float
    days_available: float
    to_the_door: dict  # {line of the landed cost: money}
    plans: list
    dearer_plan_pays_from: list
    jobs: list


@dataclass(frozen=True)
class YearsRecord:
    """Cash by the month and simulated years of one machine."""

    low_point: float
    low_month: int
    funds_gap: float
    payback_month: float | None
    discounted_payback_month: float | None
    npv: float
    irr_kind: str
    irr: float | None
    equivalent_annual_cost: float
    jobs_to_cover_a_year: float | None
    break_even_jobs: float | None
    cost_per_m2: float | None
    cost_per_job: float | None
    cash_per_day: float | None
    result_p10_p50_p90: list
    turned_away: float
    days_idle: float
    backlog_weeks_p10_p50_p90: list
    chance_of_shortfall: float  # by luck and by not knowing the figures together
    chance_of_shortfall_by_luck: float
    chance_of_shortfall_by_figures: float


def money_records(evaluation, break_evens, names=None):
    """Return the MoneyRecords of these machines, of all in their order without names.

    `break_evens` are those of `from_jobs.plan_break_evens`, {name: …}.
    """
    chosen = names or [evaluation.names[k] for k in evaluation.order]
    return [
        _money_record(evaluation, evaluation.index(name), break_evens[name])
        for name in chosen
    ]


def _money_record(evaluation, k, break_evens):
    lived = at(evaluation, k)
    year = lived.year
    flows = evaluation.flows[k]
    return MoneyRecord(
        name=evaluation.names[k],
        upfront=plain(lived.upfront),
        year_result=plain(year.result),
        before_pay=plain(year.before_pay),
        payback_months=plain(payback_month(flows)[()]),
        npv=plain(evaluation.npv[k]),
        irr=plain(rates_of_return(flows).rate[()]),
        plan=next(plan.name for plan in evaluation.plans[k] if plan.is_chosen),
        booked_days=plain(year.booked_days),
        days_available=plain(year.days_available),
        to_the_door={
            name: plain(line) for name, line in lived.upfront_lines._asdict().items()
        },
        plans=[
            PlanRecord(plan.name, plain(plan.fee), plain(plan.year_result))
            for plan in evaluation.plans[k]
        ],
        dearer_plan_pays_from=[
            DearerPlanRecord(dear, cheap, plain(n_jobs))
            for cheap, dear, n_jobs in break_evens
        ],
        jobs=[
            _job_money_record(job.name, at(evaluation, k, j))
            for j, job in enumerate(evaluation.brief.work)
        ],
    )


def _job_money_record(name, lived):
    return JobMoneyRecord(
        job=name,
        served_per_month=plain(lived.year.served_per_month),
        revenue=plain(lived.contribution_lines.revenue),
        contribution=plain(lived.contribution),
    )


def years_records(found, chance, from_work):
    """Return {name: YearsRecord} of every machine considered.

    `from_work` are the jobs of `from_jobs.jobs_needed`.
    """
    evaluation = found.evaluation
    names = [name for name in evaluation.names if name not in evaluation.left_out]
    return {
        name: _years_of(found, chance, from_work, evaluation.index(name))
        for name in names
    }


def _years_of(found, chance, from_work, k):
    worth = of_place(found.worth, k)
    rates = rates_of_return(found.cash.flows[0, k])
    return YearsRecord(
        low_point=plain(worth.low_point),
        low_month=plain(worth.low_month),
        funds_gap=plain(found.funds_gap[k]),
        payback_month=plain(worth.payback_month),
        discounted_payback_month=plain(worth.discounted_payback_month),
        npv=plain(worth.npv),
        irr_kind=str(rates.kind),
        irr=plain(rates.rate[()]),
        equivalent_annual_cost=plain(worth.equivalent_annual_cost),
        jobs_to_cover_a_year=plain(from_work.to_cover[k]),
        break_even_jobs=plain(from_work.to_earn_back[k]),
        cost_per_m2=plain(worth.cost_per_m2),
        cost_per_job=plain(worth.cost_per_job),
        cash_per_day=plain(worth.cash_per_day),
        result_p10_p50_p90=[plain(x) for x in chance.results[:, k]],
        turned_away=plain(chance.turned_away[k]),
        days_idle=plain(chance.days_idle[k]),
        backlog_weeks_p10_p50_p90=[plain(x) for x in chance.backlog_weeks[:, k]],
        chance_of_shortfall=plain(chance.shortfall[k]),
        chance_of_shortfall_by_luck=plain(chance.shortfall_by_luck[k]),
        chance_of_shortfall_by_figures=plain(chance.shortfall_by_figures[k]),
    )
