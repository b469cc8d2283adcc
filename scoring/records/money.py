"""The money of machines → JSON-ready records."""

from scoring.model.months.worth import payback_month, rates_of_return
from scoring.questions.from_jobs import jobs_needed, plan_break_evens
from scoring.records.plain import plain


def money_record(evaluation, names=None):
    """Return what each machine costs, leaves in a year and pays back."""
    chosen = names or [evaluation.names[k] for k in evaluation.order]
    return {
        "machines": [
            _money_record(evaluation, evaluation.index(name)) for name in chosen
        ]
    }


def _money_record(evaluation, k):
    lived = evaluation.outcome
    year = lived.year
    flows = evaluation.expected.months.cash.flows[0, k]
    return {
        "name": evaluation.names[k],
        "upfront": plain(lived.upfront[0, k, 0]),
        "year_result": plain(year.result[0, k, 0]),
        "before_pay": plain(year.before_pay[0, k, 0]),
        "payback_months": plain(payback_month(flows)[()]),
        "npv": plain(evaluation.expected.npv[0, k]),
        "irr": plain(rates_of_return(flows).rate[()]),
        "plan": next(plan.name for plan in evaluation.plans[k] if plan.is_chosen),
        "booked_days": plain(year.booked_days[0, k, 0]),
        "days_available": plain(year.days_available[0, k, 0]),
        "to_the_door": {
            name: plain(line[0, k, 0])
            for name, line in lived.upfront_lines._asdict().items()
        },
        "plans": [
            {"plan": plan.name, "fee": plain(plan.fee), "year": plain(plan.year_result)}
            for plan in evaluation.plans[k]
        ],
        "dearer_plan_pays_from": [
            {"plan": dear, "against": cheap, "jobs_per_month": plain(n_jobs)}
            for cheap, dear, n_jobs in plan_break_evens(evaluation, k)
        ],
        "jobs": [
            {
                "job": job.name,
                "served_per_month": plain(year.served_per_month[0, k, j]),
                "revenue": plain(lived.contribution_lines.revenue[0, k, j]),
                "contribution": plain(lived.contribution[0, k, j]),
            }
            for j, job in enumerate(evaluation.brief.work)
        ],
    }


def years_record(found, chance):
    """Return the months and the simulated years of every machine, as JSON has it."""
    evaluation = found.evaluation
    names = [name for name in evaluation.names if name not in evaluation.left_out]
    from_work = jobs_needed(evaluation)
    return {
        name: _years_of(found, chance, from_work, evaluation.index(name))
        for name in names
    }


def _years_of(found, chance, from_work, k):
    worth = found.worth
    rates = rates_of_return(found.cash.flows[0, k])
    return {
        "low_point": plain(worth.low_point[0, k]),
        "low_month": plain(worth.low_month[0, k]),
        "funds_gap": plain(found.funds_gap[k]),
        "payback_month": plain(worth.payback_month[0, k]),
        "discounted_payback_month": plain(worth.discounted_payback_month[0, k]),
        "npv": plain(worth.npv[0, k]),
        "irr_kind": str(rates.kind),
        "irr": plain(rates.rate[()]),
        "equivalent_annual_cost": plain(worth.equivalent_annual_cost[0, k]),
        "jobs_to_cover_a_year": plain(from_work.to_cover[k]),
        "break_even_jobs": plain(from_work.to_earn_back[k]),
        "cost_per_m2": plain(worth.cost_per_m2[0, k]),
        "cost_per_job": plain(worth.cost_per_job[0, k]),
        "cash_per_day": plain(worth.cash_per_day[0, k]),
        "result_p10_p50_p90": [plain(x) for x in chance.results[:, k]],
        "turned_away": plain(chance.turned_away[k]),
        "days_idle": plain(chance.days_idle[k]),
        "backlog_weeks_p10_p50_p90": [plain(x) for x in chance.backlog_weeks[:, k]],
        "chance_of_shortfall": plain(chance.shortfall[k]),
    }
