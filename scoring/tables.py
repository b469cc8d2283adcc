"""Evaluation → plain rows and JSON-ready records, the same for every surface."""

import math

import numpy as np

from scoring.decision import ranking, stability
from scoring.decision import scale as scales
from scoring.decision.weights import normalise
from scoring.model.money import finance
from scoring.model.months.worth import rates_of_return
from scoring.questions.best_price import best_buy_price
from scoring.questions.from_jobs import jobs_needed, plan_break_evens
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.ruled_out import not_served, reasons
from scoring.workings import unit_of

RANK_CAUTIONS = ("money", "lifting", "odour")


def plain(value):
    """Return a number as JSON has it: NaN and infinities are null."""
    if value is None:
        return None
    value = value.item() if isinstance(value, np.generic) else value
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def ranking_record(evaluation):
    """Return the ranking as one JSON-ready record, best first, ruled out last."""
    return {
        "machines": [_machine_record(evaluation, k) for k in evaluation.order],
        "kendall_tau": plain(evaluation.kendall_tau),
        "pareto_front": [
            evaluation.names[k]
            for k in evaluation.order
            if evaluation.is_on_pareto_front[k]
        ],
        "cautions": [*(CAUTIONS[place] for place in RANK_CAUTIONS), DECIDES],
    }


def _machine_record(evaluation, k):
    is_ranked = bool(evaluation.is_ranked[k])
    return {
        "name": evaluation.names[k],
        "status": "ranked" if is_ranked else "ruled_out",
        "reasons": reasons(evaluation, k),
        "weighted_sum": plain(evaluation.weighted_sum[k]),
        "topsis": plain(evaluation.topsis[k]),
        "rank_weighted_sum": plain(evaluation.rank_weighted_sum[k]) or None,
        "rank_topsis": plain(evaluation.rank_topsis[k]) or None,
        "criteria": {
            criterion.id: {
                "value": plain(evaluation.raw[k, c]),
                "unit": unit_of(evaluation, c),
                **_score_record(
                    evaluation.scores[k, c] if is_ranked else None,
                    evaluation.weights[c],
                ),
            }
            for c, criterion in enumerate(evaluation.criteria)
        },
    }


def _score_record(score, weight):
    """Return score, weight and their product; null for what is ruled out."""
    return {
        "score": plain(score),
        "weight": plain(weight),
        "contribution": None if score is None else plain(score * weight),
    }


def job_record(evaluation, name):
    """Return minutes and days of each job type with one machine."""
    k = evaluation.index(name)
    jobs = range(len(evaluation.brief.work))
    return {"machine": name, "jobs": [_job_record(evaluation, k, j) for j in jobs]}


def _job_record(evaluation, k, j):
    lived, jobs = evaluation.outcome, evaluation.figures[1]
    site = lived.site
    is_served = bool(lived.can_do[0, k, j])

    def at(array):
        return plain(np.broadcast_to(array, lived.can_do.shape)[0, k, j])

    def if_served(array):
        return at(array) if is_served else None

    return {
        "job": evaluation.brief.work[j].name,
        "served": is_served,
        "reason": not_served(evaluation, k, j) or None,
        "area_m2": at(jobs.walls * jobs.width_m * jobs.height_m),
        "print_min": if_served(site.print_min),
        "visit_min": if_served(site.visit_min),
        "on_site_min": if_served(site.on_site_min),
        "days": if_served(site.days),
        "booked_days": if_served(lived.booked_days),
        "spare_min": if_served(site.spare_min),
        "pass_mode": at(site.passes) if site.passes[0, k, j] else None,
        "stands": int(site.stands[0, k, j]),
        "parts": {
            part: if_served(minutes) for part, minutes in site.parts._asdict().items()
        },
    }


def money_record(evaluation, names=None):
    """Return what each machine costs, leaves in a year and pays back."""
    chosen = names or [evaluation.names[k] for k in evaluation.order]
    return {
        "machines": [
            _money_record(evaluation, evaluation.index(name)) for name in chosen
        ]
    }


def _money_record(evaluation, k):
    lived, business = evaluation.outcome, evaluation.figures[2]
    year = lived.year
    flows = finance.cash_flows(
        lived.upfront[0, k],
        year.result[0, k],
        business.horizon_years,
        evaluation.figures[0].resale[0, k],
    )
    return {
        "name": evaluation.names[k],
        "upfront": plain(lived.upfront[0, k, 0]),
        "year_result": plain(year.result[0, k, 0]),
        "paid_self": plain(year.paid_self[0, k, 0]),
        "payback_months": plain(lived.payback_months[0, k, 0]),
        "npv": plain(lived.npv[0, k, 0]),
        "irr": plain(finance.internal_rate_of_return(flows)[0]),
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


def firm_record(firm, questions):
    """Return how firm the answer is, as one JSON-ready record.

    `questions` are those of `findings.questions`, in their order.
    """
    evaluation = firm.evaluation
    intervals = stability_of(evaluation)
    names = [name for name in evaluation.names if name not in evaluation.left_out]

    def by_name(figures):
        return {name: plain(figures[evaluation.index(name)]) for name in names}

    return {
        "draws": firm.n_draws,
        "seed": firm.seed,
        "acceptability": {
            name: [plain(x) for x in firm.acceptability[evaluation.index(name)]]
            for name in names
        },
        "ruled_out": by_name(firm.ruled_out),
        "confidence": by_name(firm.confidence),
        "regret": by_name(firm.regret),
        "money_choice": firm.money_choice,
        "stability": {
            criterion.id: [plain(low), plain(high)]
            for criterion, (low, high) in zip(
                evaluation.criteria, intervals, strict=True
            )
        },
        "break_even_price": {
            name: plain(best_buy_price(evaluation, name)) for name in names
        },
        "find_out": [
            {
                "input": question.path,
                "machine": question.owner,
                "evppi": plain(question.value),
                "error": plain(question.error),
            }
            for question in questions
        ],
        "evpi": plain(firm.evpi),
    }


def stability_of(evaluation):
    """Return how far each weight may move, (criterion, 2); NaN if nobody is ranked."""
    if not evaluation.is_ranked.any():
        return np.full((len(evaluation.criteria), 2), np.nan)
    scores = np.where(evaluation.is_ranked[:, None], evaluation.scores, np.nan)
    return stability.stability(scores, evaluation.weights)


def fleet_record(found):
    """Return the choices of rigs as one JSON-ready record, best first."""
    return {"choices": [_choice_record(found, c) for c in found.order]}


def _choice_record(found, c):
    choice = found.choices[c]
    return {
        "choice": choice.name,
        "rigs": [rig.name for rig in choice.rigs],
        "year_result": plain(choice.year_result),
        "added_result": plain(choice.added_result),
        "added_upfront": plain(choice.added_upfront),
        "payback_months": plain(choice.payback_months),
        "npv": plain(choice.npv),
        "assignment": choice.assignment,
        "stand_in_value": plain(choice.stand_in_value),
        "weighted_sum": plain(found.weighted_sum[c]),
        "topsis": plain(found.topsis[c]),
        "rank_weighted_sum": plain(found.rank_weighted_sum[c]),
        "rank_topsis": plain(found.rank_topsis[c]),
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


def table_record(table):
    """Return the ranking of any decision matrix, in the form of `ranking_record`.

    Scores are min–max over each column (1 where it is constant); TOPSIS takes the raw
    figures, as the textbooks do.
    """
    matrix, is_benefit = np.array(table.matrix), np.array(table.is_benefit)
    weights = normalise(np.array(table.weights))
    ends = np.stack([matrix.min(axis=0), matrix.max(axis=0)], axis=-1)
    scale = np.where(is_benefit[:, None], ends, ends[:, ::-1])
    scores = scales.scores(matrix, scale)
    weighted_sum = ranking.weighted_sum(scores, weights)
    closeness = ranking.topsis(matrix, weights, is_benefit).closeness
    rank_ws, rank_topsis = ranking.ranks(weighted_sum), ranking.ranks(closeness)
    is_on_front = ranking.pareto_front(matrix, is_benefit)
    order = sorted(
        range(len(matrix)), key=lambda k: (rank_ws[k], table.alternatives[k])
    )
    return {
        "machines": [
            {
                "name": table.alternatives[k],
                "status": "ranked",
                "reasons": [],
                "weighted_sum": plain(weighted_sum[k]),
                "topsis": plain(closeness[k]),
                "rank_weighted_sum": plain(rank_ws[k]),
                "rank_topsis": plain(rank_topsis[k]),
                "criteria": {
                    name: {
                        "value": plain(matrix[k, c]),
                        "unit": "",
                        **_score_record(scores[k, c], weights[c]),
                    }
                    for c, name in enumerate(table.criteria)
                },
            }
            for k in order
        ],
        "kendall_tau": plain(ranking.kendall_tau(rank_ws, rank_topsis)),
        "pareto_front": [table.alternatives[k] for k in order if is_on_front[k]],
        "cautions": [],
    }
