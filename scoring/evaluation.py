"""Brief + machines → Evaluation: the one result that every surface shows."""

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from scoring.decision import criteria as decision_criteria
from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision import weights as decision_weights
from scoring.errors import ScoringError
from scoring.evidence.buyer_arrays import business_figures
from scoring.evidence.draws import central
from scoring.evidence.gathered import gather
from scoring.evidence.job_arrays import job_figures
from scoring.evidence.machine_arrays import machine_figures
from scoring.evidence.variants import Variant, variants_of
from scoring.inputs.together import check_together
from scoring.model.figures import BusinessFigures, JobFigures, MachineFigures
from scoring.model.outcome import Outcome, outcome
from scoring.preferences import brief_weights, criteria_of, ratings_of, scale_of
from scoring.screening import Limit, limits, must_limits


@dataclass(frozen=True)
class PlanResult:
    """What one plan of a machine would earn at this work."""

    name: str
    fee: float
    year_result: float
    meets_must_haves: bool
    is_chosen: bool


class Run(NamedTuple):
    """The model run on some draws, and what the buyer's limits make of it."""

    figures: tuple[MachineFigures, JobFigures, BusinessFigures]
    outcome: Outcome
    limits: tuple[Limit, ...]
    raw: np.ndarray  # (draw, machine, criterion), each in its unit
    is_ruled_out: np.ndarray  # bool (draw, machine)


@dataclass(frozen=True)
class Evaluation:
    """Everything that the page, the report and the command line show.

    Arrays follow the order of `machines` and of `criteria`; those of the model have one
    draw. Scores and ranks are NaN and 0 for machines that are ruled out.
    """

    brief: object
    machines: tuple
    variants: tuple[Variant, ...]
    plans: tuple[tuple[PlanResult, ...], ...]
    evidence: dict
    drawn: dict
    figures: tuple[MachineFigures, JobFigures, BusinessFigures]
    outcome: Outcome
    limits: tuple[Limit, ...]
    criteria: tuple
    raw: np.ndarray  # (machine, criterion), each in its unit
    scale: np.ndarray  # (criterion, 2): worst, best
    scores: np.ndarray  # (machine, criterion), 0–1
    weights: np.ndarray  # (criterion,)
    is_ranked: np.ndarray  # bool (machine,)
    weighted_sum: np.ndarray
    topsis: np.ndarray
    rank_weighted_sum: np.ndarray  # 1 is best
    rank_topsis: np.ndarray
    kendall_tau: float | None
    is_on_pareto_front: np.ndarray  # bool (machine,)
    left_out: frozenset = frozenset()  # names that the buyer does not consider

    @property
    def names(self):
        return tuple(machine.name for machine in self.machines)

    @property
    def order(self):
        """The machines' indices by rank, then name, ruled out last, none left out."""

        def key(k):
            return (not self.is_ranked[k], self.rank_weighted_sum[k], self.names[k])

        considered = (
            k for k, name in enumerate(self.names) if name not in self.left_out
        )
        return sorted(considered, key=key)

    def index(self, name):
        """Return a machine's place in the arrays; ScoringError if there is none."""
        if name not in self.names:
            known = ", ".join(self.names)
            raise ScoringError(
                f"no machine is called {name!r}; the machines are {known}"
            )
        return self.names.index(name)

    def broken(self, k):
        """Return the limits that machine k breaks."""
        return [limit for limit in self.limits if limit.is_broken[0, k]]


def evaluate(brief, machines, weights=None, scale=None, left_out=()):
    """Return the Evaluation of these machines for this brief.

    Parameters
    ----------
    brief : Brief
    machines : sequence of Machine
    weights : mapping of criterion id to number, optional
        Criteria not named keep the brief's weight; all are then brought to sum 1.
    scale : shape (n_criteria, 2), optional
        The [worst, best] anchors of an earlier Evaluation of the same loaded brief.
        Left out, they come from the brief and from all machines before screening.
    left_out : names of machines that the buyer does not consider, optional
        They still count for the scale and for what is unknown of others, so that
        leaving one out reverses nothing.

    Raises
    ------
    ScoringError
        For anything that a person can mend, in sentences.
    """
    machines = tuple(sorted(machines, key=lambda machine: machine.name))
    if not machines:
        raise ScoringError("there is no machine to rank; add a machine sheet")
    criteria = criteria_of(brief)
    check_together(brief, machines, [c.id for c in decision_criteria.STANDARD])
    evidence = gather(brief, machines, ratings_of(criteria))
    drawn = central(evidence, brief)
    variants, plans = _choose_plans(brief, machines, drawn)
    central_run = run(brief, criteria, variants, drawn)
    raw = central_run.raw[0]
    if scale is None:
        scale = scale_of(brief, criteria, raw)
    is_ranked = ~central_run.is_ruled_out[0]
    is_ranked &= ~np.isin([machine.name for machine in machines], list(left_out))
    scores = scales.scores(raw, scale, [c.flat_above for c in criteria])
    unranked = np.zeros(len(machines))
    return reweigh(
        Evaluation(
            brief=brief,
            machines=machines,
            variants=variants,
            plans=plans,
            evidence=evidence,
            drawn=drawn,
            figures=central_run.figures,
            outcome=central_run.outcome,
            limits=central_run.limits,
            criteria=criteria,
            raw=raw,
            scale=scale,
            scores=scores,
            weights=brief_weights(brief, criteria),
            is_ranked=is_ranked,
            weighted_sum=unranked,
            topsis=unranked,
            rank_weighted_sum=unranked,
            rank_topsis=unranked,
            kendall_tau=None,
            is_on_pareto_front=unranked,
            left_out=frozenset(left_out),
        ),
        weights,
    )


def run(brief, criteria, variants, drawn):
    """Return the Run of these variants on drawn figures, one draw or many."""
    figures = figures_of(brief, variants, drawn)
    lived = outcome(*figures)
    broken = tuple(limits(brief, [v.features for v in variants], *figures, lived))
    raw = criterion_figures(criteria, variants, figures, lived, drawn)
    is_ruled_out = np.any([limit.is_broken for limit in broken], axis=0)
    return Run(figures, lived, broken, raw, is_ruled_out)


def redrawn(evaluation, drawn):
    """Return (Run, scores) on other draws, each machine keeping its central plan.

    Scores are (draw, machine, criterion), on the evaluation's own scale; NaN where a
    machine is ruled out or left out.
    """
    criteria = evaluation.criteria
    again = run(evaluation.brief, criteria, evaluation.variants, drawn)
    flat_above = [criterion.flat_above for criterion in criteria]
    scores = scales.scores(again.raw, evaluation.scale, flat_above)
    is_left_out = np.isin(evaluation.names, list(evaluation.left_out))
    scores[again.is_ruled_out | is_left_out] = np.nan
    return again, scores


def reweigh(evaluation, weights=None):
    """Return the Evaluation under other weights; the model is not run again."""
    shares = _merged(evaluation, weights or {})
    ranked = np.flatnonzero(evaluation.is_ranked)
    n = len(evaluation.machines)
    weighted_sum, closeness = np.full(n, np.nan), np.full(n, np.nan)
    rank_ws, rank_topsis = np.zeros(n, int), np.zeros(n, int)
    is_on_front = np.zeros(n, bool)
    tau = None
    if ranked.size:
        scores = evaluation.scores[ranked]
        is_benefit = np.ones(scores.shape[1], bool)
        weighted_sum[ranked] = ranking.weighted_sum(scores, shares)
        closeness[ranked] = ranking.topsis(scores, shares, is_benefit).closeness
        rank_ws[ranked] = ranking.ranks(weighted_sum[ranked])
        rank_topsis[ranked] = ranking.ranks(closeness[ranked])
        counts = shares > 0
        is_on_front[ranked] = ranking.pareto_front(
            scores[:, counts], is_benefit[counts]
        )
        tau = ranking.kendall_tau(rank_ws[ranked], rank_topsis[ranked])
    return replace(
        evaluation,
        weights=shares,
        weighted_sum=weighted_sum,
        topsis=closeness,
        rank_weighted_sum=rank_ws,
        rank_topsis=rank_topsis,
        kendall_tau=tau,
        is_on_pareto_front=is_on_front,
    )


def _merged(evaluation, weights):
    """Return the weights with the named ones replaced, summing to 1."""
    ids = [criterion.id for criterion in evaluation.criteria]
    unknown = sorted(set(weights) - set(ids))
    if unknown:
        raise ScoringError(
            f"weights: no criterion is called {unknown[0]!r}; "
            f"the criteria are {', '.join(ids)}"
        )
    shares = evaluation.weights.copy()
    for name, weight in weights.items():
        shares[ids.index(name)] = weight
    return decision_weights.normalise(shares)


def figures_of(brief, variants, drawn):
    """Return the model's figures of these variants: machines, jobs, buyer."""
    return (
        machine_figures(brief, variants, drawn),
        job_figures(brief, variants, drawn),
        business_figures(brief, drawn),
    )


def _choose_plans(brief, machines, drawn):
    """Return each machine under its best plan, and what every plan would earn.

    The best central year result among the plans that meet the must-haves; ties go to
    the cheaper.
    """
    variants = [variant for machine in machines for variant in variants_of(machine)]
    figures = figures_of(brief, variants, drawn)
    lived = outcome(*figures)
    features = [v.features for v in variants]
    broken = must_limits(brief, features, figures[1], lived)
    musts = [limit.is_broken[0] for limit in broken]
    meets = ~np.any(musts or [np.zeros(len(variants), bool)], axis=0)
    result = lived.year.result[0, :, 0]
    fee = figures[0].plan_fee[0, :, 0]
    chosen, plans = [], []
    for machine in machines:
        own = [k for k, v in enumerate(variants) if v.machine is machine]
        best = max(own, key=lambda k: (meets[k], round(result[k], 6), -fee[k]))
        chosen.append(variants[best])
        plans.append(
            tuple(
                PlanResult(
                    machine.subscription_fees[variants[k].plan].name,
                    fee[k],
                    result[k],
                    bool(meets[k]),
                    k == best,
                )
                for k in own
            )
        )
    return tuple(chosen), tuple(plans)


def criterion_figures(criteria, variants, figures, lived, drawn):
    """Return the raw decision matrix, (draw, machine, criterion), each in its unit."""
    standard = {
        "upfront": lived.upfront,
        "year_result": lived.year.result,
        "ready_time": lived.ready_min,
        "heaviest_lift": figures[0].heaviest_lift_kg,
        "odour": lived.odour,
        "support": lived.support_days,
        "work_served": lived.year.work_served,
        "site_hours": lived.year.site_hours_per_1000,
        "days_lost": lived.year.days_lost,
    }
    columns = []
    for criterion in criteria:
        if criterion.id in standard:
            columns.append(standard[criterion.id][..., 0])
        else:
            rating = criterion.derived_from[0]
            drawn_ratings = [drawn[v.machine.name, rating] for v in variants]
            columns.append(np.stack(drawn_ratings, axis=1))
    return np.stack(np.broadcast_arrays(*columns), axis=-1)
