"""Keep, add, replace: what each choice of rigs would leave at the same work.

The rigs of a choice share the work by the plan of an average month that leaves most
(`rigs`), each in its own diary and all of them out of the crews' days. What a change
costs and leaves is counted against keeping what there is. Then choices are ranked as
machines are.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.limits import FUNDS, tells_timing
from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision.scale import default_scale
from scoring.errors import ScoringError
from scoring.model.money.job_money import revenue
from scoring.model.months import worth
from scoring.questions.fleet.change_money import (
    Deed,
    credit_used,
    loan_settled,
    months_of,
    new_upfront,
    npv_of,
    worth_sold,
)
from scoring.questions.fleet.rigs import Plan, best_plan, crews, rigs, stand_in_value

KEEP = "keep what you have"
MONEY = ("upfront", "year_result")


@dataclass(frozen=True)
class Choice:
    """What one choice of rigs comes to; money in the brief's currency."""

    deed: Deed
    jobs: tuple[str, ...]  # the kinds of job
    plan: Plan
    added_result: float  # a year, against keeping what there is
    added_upfront: float  # the new rig, less what a replaced one brings
    settled: float  # loan still open on the rig that is sold
    npv: float  # of the change, by the month
    flows: np.ndarray  # (month,), cash of the change
    stand_in_value: float  # a year
    raw: np.ndarray  # (criterion,)

    @property
    def name(self):
        return self.deed.name

    @property
    def payback_months(self):
        """Months from signing until the change is earned back for good; inf: never."""
        return float(worth.payback_month(self.flows))

    @property
    def low_point(self):
        """Lowest cash of the change so far, 0 or less."""
        return float(worth.low_point(self.flows)[0])

    @property
    def low_month(self):
        """The month in which it first is so low."""
        return int(worth.low_point(self.flows)[1])

    @property
    def rigs(self):
        return self.plan.rigs

    @property
    def year_result(self):
        return self.plan.year_result

    @property
    def assignment(self):
        """{job: {rig: jobs a month}} of what is served."""
        return {
            job: {
                rig.name: float(self.plan.served[r, j])
                for r, rig in enumerate(self.rigs)
                if self.plan.served[r, j] > 1e-9
            }
            for j, job in enumerate(self.jobs)
        }


@dataclass(frozen=True)
class Choices:
    """All choices with their ranking, in the order of `choices`."""

    evaluation: Evaluation
    choices: tuple[Choice, ...]
    ruled_out: tuple[str, ...]  # machines that break a limit
    too_dear: dict  # choice → what cash and credit lack
    scale: np.ndarray
    scores: np.ndarray
    weighted_sum: np.ndarray
    topsis: np.ndarray
    rank_weighted_sum: np.ndarray
    rank_topsis: np.ndarray

    @property
    def order(self):
        """The choices' indices by rank, then name."""
        names = [choice.name for choice in self.choices]
        return sorted(
            range(len(names)), key=lambda c: (self.rank_weighted_sum[c], names[c])
        )


def choices(evaluation):
    """Return the Choices of a buyer who owns the brief's rigs.

    Every machine within the limits may be added, or take the place of an owned rig; a
    rig that is owned may be added a second time. What a change asks of cash and credit,
    less what the rig that is sold brings, must be there; the rest of the limits holds
    for the machine, those on lifting for the crew that would run it.

    Raises
    ------
    ScoringError
        If no rig is owned and no machine is within the limits.
    """
    brief, by_people = evaluation.brief, crews(evaluation)
    candidates = [
        evaluation.names[k]
        for k in evaluation.order
        if all(limit.kind in FUNDS for limit in evaluation.broken(k))
    ]
    deeds = deeds_of(brief, candidates)
    kept = planned(evaluation, by_people, deeds[0]) if brief.owned else None
    found = [_choice(evaluation, by_people, deed, kept) for deed in deeds]
    gaps = {choice.name: _gap(evaluation, choice, kept) for choice in found}
    found = [choice for choice in found if not gaps[choice.name] > 0]
    if not found:
        raise ScoringError("no rig is owned and no machine is within the limits")
    out = set(evaluation.names) - set(candidates) - evaluation.left_out
    return _ranked(
        evaluation,
        found,
        ruled_out=tuple(sorted(out)),
        too_dear={name: gap for name, gap in gaps.items() if gap > 0},
    )


def deeds_of(brief, candidates):
    """Return the Deeds there are; keeping comes first where a rig is owned."""
    owned = tuple(rig.machine for rig in brief.owned)
    places = tuple(range(len(owned)))
    deeds = [Deed(KEEP, owned, places)] if owned else []
    verb = "add" if owned else "buy"
    for name in candidates:
        all_places = (*places, None)
        deeds.append(Deed(f"{verb} {name}", (*owned, name), all_places, name))
    for sold, label in _told_apart(brief.owned).items():
        rest = [place for place in places if place != sold]
        for name in candidates:
            if name != owned[sold]:
                machines = (*(owned[place] for place in rest), name)
                said = f"replace {label} by {name}"
                deeds.append(Deed(said, machines, (*rest, None), name, sold))
    return deeds


def _told_apart(owned):
    """Return {place: name} of the owned rigs, of those alike in all the first alone."""
    found = {}
    for place, rig in enumerate(owned):
        if rig not in owned[:place]:
            n = sum(other.machine == rig.machine for other in owned[: place + 1])
            found[place] = rig.machine if n == 1 else f"{rig.machine} ({n})"
    return found


def planned(evaluation, by_people, deed, multiple=0):
    """Return the best Plan of the rigs that there are after a deed."""
    shared = rigs(evaluation, by_people, deed.machines, deed.places)
    return best_plan(evaluation, by_people, shared, multiple)


def _choice(evaluation, by_people, deed, kept):
    """Return the Choice of a deed against what is kept."""
    is_kept = kept is not None and deed.name == KEEP
    plan = kept if is_kept else planned(evaluation, by_people, deed)
    added = plan.year_result - (kept.year_result if kept else 0.0)
    paid = new_upfront(evaluation, deed) - worth_sold(evaluation, deed)[0]
    settled = loan_settled(evaluation, deed)
    flows = months_of(
        evaluation,
        deed,
        plan.left - (kept.left if kept else 0.0),
        plan.running - (kept.running if kept else 0.0),
    )
    return Choice(
        deed=deed,
        jobs=tuple(job.name for job in evaluation.brief.work),
        plan=plan,
        added_result=added,
        added_upfront=paid,
        settled=settled,
        npv=npv_of(evaluation, flows),
        flows=flows,
        stand_in_value=stand_in_value(evaluation, plan),
        raw=_raw(evaluation, plan, paid),
    )


def _gap(evaluation, choice, kept):
    """Return what cash and credit lack for a change, 0 or less where they do.

    By the month where the brief tells the terms, what the rigs that are kept earn
    counted in; else on the day it is paid for.
    """
    if choice.name == KEEP:
        return 0.0
    if kept is None:
        return _gap_of_first(evaluation, evaluation.index(choice.deed.new))
    business = evaluation.figures.buyer
    funds = float((business.cash + business.credit)[0, 0, 0])
    need = choice.added_upfront + choice.settled
    if business.payment.way == "lease":
        need = 0.0
    if tells_timing(evaluation.brief):
        used = credit_used(evaluation, choice.deed)
        earned = kept.year_result / 12
        flows = choice.flows + earned * (np.arange(len(choice.flows)) > 0)
        need = max(need, used - float(worth.low_point(flows)[0]))
    return need - funds


def _gap_of_first(evaluation, k):
    """Return what lacks for a first machine: as its limits rule it out, or do not."""
    broken = [limit for limit in evaluation.broken(k) if limit.kind in FUNDS]
    lacking = (limit.figure - limit.allowed for limit in broken)
    return max(lacking, default=0.0) if evaluation.is_out(k) else 0.0


def _raw(evaluation, plan, paid):
    """Return a choice's figure for each criterion: its rigs by their booked days."""
    days = np.stack([rig.of(rig.crew.lived.booked_days) for rig in plan.rigs])
    booked = (plan.served * np.nan_to_num(days)).sum(axis=1)
    weight = booked if booked.sum() > 0 else np.ones(len(booked))
    weight = weight / weight.sum()
    jobs = evaluation.figures.jobs
    income = revenue(jobs)[0, 0]
    whole = float((jobs.per_month[0, 0] * income).sum())
    n_jobs = 12 * plan.served.sum(axis=1)
    down = [rig.days_down_per_job for rig in plan.rigs]
    own = {
        "upfront": paid,
        "year_result": plan.year_result,
        "work_served": float((plan.served * income).sum()) / whole if whole else 0.0,
        "days_lost": float((n_jobs * down).sum()),
    }
    figures = np.stack([rig.crew.raw[0, rig.k] for rig in plan.rigs])
    is_told = np.isfinite(figures)
    by_days = weight @ np.where(is_told, figures, 0.0)
    # What a rig that works does not achieve, the choice does not.
    by_days[((weight > 0)[:, None] & ~is_told).any(axis=0)] = np.nan
    ids = [criterion.id for criterion in evaluation.criteria]
    return np.array([own.get(name, by_days[c]) for c, name in enumerate(ids)])


def _ranked(evaluation, found, **others):
    """Return the Choices ranked by the evaluation's weights and criteria.

    What a change costs and leaves has a scale of its own; the rest keeps the machines'.
    """
    raw = np.stack([choice.raw for choice in found])
    criteria = evaluation.criteria
    flat_above = [criterion.flat_above for criterion in criteria]
    is_benefit = [criterion.is_benefit for criterion in criteria]
    scale = evaluation.scale.copy()
    fresh = default_scale(raw, is_benefit, flat_above)
    for c, criterion in enumerate(criteria):
        if criterion.id in MONEY and evaluation.brief.owned:
            scale[c] = fresh[c]
    scores = scales.scores(raw, scale, flat_above)
    weights = evaluation.weights
    sums = ranking.weighted_sum(scores, weights)
    closeness = ranking.topsis_fixed(scores, weights).closeness
    return Choices(
        evaluation=evaluation,
        choices=tuple(found),
        scale=scale,
        scores=scores,
        weighted_sum=sums,
        topsis=closeness,
        rank_weighted_sum=ranking.ranks(sums),
        rank_topsis=ranking.ranks(closeness),
        **others,
    )
