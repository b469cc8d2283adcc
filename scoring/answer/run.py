"""The model run on some draws, what the limits make of it, and the decision matrix."""

from typing import NamedTuple

import numpy as np

from scoring.answer.limits import Limit, limits
from scoring.decision import scale as scales
from scoring.decision.criteria import GROWN
from scoring.evidence.buyer_arrays import business_figures
from scoring.evidence.job_arrays import job_figures
from scoring.evidence.machine_arrays import machine_figures
from scoring.model.figures import Figures
from scoring.model.money import finance
from scoring.model.months.average_year import Months, months
from scoring.model.outcome import Outcome, outcome


class Run(NamedTuple):
    """The model run on some draws, and what the buyer's limits make of it."""

    drawn: dict  # {(owner, path): (draw,)}, in the brief's currency
    figures: Figures
    outcome: Outcome
    limits: tuple[Limit, ...]
    raw: np.ndarray  # (draw, machine, criterion), each in its unit
    is_ruled_out: np.ndarray  # bool (draw, machine)
    months: Months  # its cash only where it is kept


def run(brief, criteria, variants, drawn, loaded=None, kept=None):
    """Return the Run of these variants on drawn figures, one draw or many.

    `loaded` are the vehicles where they were decided before; else decided anew. `kept`
    says what is kept of cash by the month, as in `cash_of_draws`.
    """
    figures = figures_of(brief, variants, drawn)
    lived = outcome(*figures, loaded)
    by_month = months(*figures, lived, kept)
    features = [v.features for v in variants]
    broken = tuple(limits(brief, features, figures, lived, by_month))
    raw = criterion_figures(criteria, variants, figures, lived, drawn, by_month)
    is_ruled_out = np.any([limit.is_broken for limit in broken], axis=0)
    return Run(drawn, figures, lived, broken, raw, is_ruled_out, by_month)


def benefit_a_year(again):
    """Return net benefit, money a year, (draw, machine): present value as a level sum.

    In a draw in which a machine breaks a limit it is sold again at once: it is worth
    what that costs, so that a question about a machine in doubt has a worth.
    """
    business = again.figures.buyer
    lost = (again.figures.machines.resale - again.outcome.upfront)[..., 0]
    npv = np.where(again.is_ruled_out, lost, again.months.npv)
    rate = business.discount_rate[..., 0]
    return finance.equivalent_annual(npv, rate, business.horizon_years)


def redrawn(evaluation, drawn):
    """Return (Run, scores) on other draws, each machine keeping its plan.

    Scores are (draw, machine, criterion), on the evaluation's scale; NaN where a
    machine is ruled out or left out.
    """
    criteria = evaluation.criteria
    again = run(evaluation.brief, criteria, evaluation.variants, drawn)
    flat_above = [criterion.flat_above for criterion in criteria]
    scores = scales.scores(again.raw, evaluation.scale, flat_above)
    is_left_out = np.isin(evaluation.names, list(evaluation.left_out))
    scores[again.is_ruled_out | is_left_out] = np.nan
    return again, scores


def figures_of(brief, variants, drawn):
    """Return the model's Figures of these variants."""
    return Figures(
        machine_figures(brief, variants, drawn),
        job_figures(brief, variants, drawn),
        business_figures(brief, drawn),
    )


def criterion_figures(criteria, variants, figures, lived, drawn, by_month):
    """Return the raw decision matrix, (draw, machine, criterion), each in its unit."""
    standard = {
        "upfront": lived.upfront,
        "year_result": lived.year.result,
        "ready_time": lived.ready_min,
        "heaviest_lift": figures.machines.heaviest_lift_kg,
        "odour": lived.odour,
        "support": lived.support_days,
        "work_served": lived.year.work_served,
        "site_hours": lived.year.site_hours_per_1000,
        "days_lost": lived.year.days_lost,
    }
    is_out = by_month.lowest + by_month.funds < 0
    standard |= {
        "cash_out": 1.0 * is_out[..., None],
        "resale": figures.machines.resale,
    }
    if any(criterion.id == "room_to_grow" for criterion in criteria):
        standard["room_to_grow"] = served_when_grown(figures, lived)
    columns = []
    for criterion in criteria:
        if criterion.id in standard:
            columns.append(standard[criterion.id][..., 0])
        else:
            rating = criterion.derived_from[0]
            drawn_ratings = [drawn[v.machine.name, rating] for v in variants]
            columns.append(np.stack(drawn_ratings, axis=1))
    return np.stack(np.broadcast_arrays(*columns), axis=-1)


def served_when_grown(figures, lived):
    """Return the share of the revenue of so much more work that is served."""
    machines, jobs, buyer = figures
    more = jobs._replace(per_month=GROWN * jobs.per_month)
    return outcome(machines, more, buyer, lived.loaded).year.work_served
