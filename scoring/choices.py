"""Keep, add, replace: what each choice of rigs would leave at the same work.

The rigs of a choice share the work by the plan of an average month that leaves most
(`model.fleet`), each rig in its own diary and all of them out of the crews' days. Then
choices are ranked as machines are.
"""

from dataclasses import dataclass

import numpy as np

from scoring.decision import criteria as decision_criteria
from scoring.decision import ranking
from scoring.errors import ScoringError
from scoring.evaluation import Evaluation, evaluate
from scoring.model import crew, finance, fleet
from scoring.model.figures import MachineFigures
from scoring.model.money import revenue
from scoring.model.site_time import Parts, SiteTime
from scoring.model.year import days_down_per_job, year_lines
from scoring.wording import figure

KEEP = "keep what you have"
DEEDS = {"keep": "Keeping", "add": "Adding", "buy": "Buying", "replace": "Replacing"}
MONEY = ("upfront", "year_result")


@dataclass(frozen=True)
class Rig:
    """One rig of a choice: a machine as a crew of some people runs it."""

    name: str  # the machine's, numbered where a choice has two alike
    machine: str
    evaluation: Evaluation  # of the brief with that crew
    k: int
    people: int
    is_owned: bool


@dataclass(frozen=True)
class Choice:
    """What one choice of rigs comes to; money in the brief's currency."""

    name: str
    rigs: tuple[Rig, ...]
    served: np.ndarray  # (rig, job), jobs a month
    n_crews: int
    crew_days: float  # booked a month, all crews
    year_result: float
    added_result: float  # a year, against keeping what there is
    added_upfront: float  # new rigs, less what a replaced one brings
    payback_months: float  # inf: never
    npv: float  # of the change
    stand_in_value: float  # a year
    raw: np.ndarray  # (criterion,)

    @property
    def assignment(self):
        """{job: {rig: jobs a month}} of what is served."""
        work = self.rigs[0].evaluation.brief.work if self.rigs else ()
        return {
            job.name: {
                rig.name: float(self.served[r, j])
                for r, rig in enumerate(self.rigs)
                if self.served[r, j] > 1e-9
            }
            for j, job in enumerate(work)
        }


@dataclass(frozen=True)
class Choices:
    """All choices with their ranking, in the order of `choices`."""

    evaluation: Evaluation
    choices: tuple[Choice, ...]
    left_out: dict  # machine → why it is not among the choices
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
    rig that is owned may be added a second time. Limits on lifting count for the crew
    that would run the rig.

    Raises
    ------
    ScoringError
        If no rig is owned and no machine is within the limits.
    """
    with_crew = _by_crew(evaluation)
    owned = [owned.machine for owned in evaluation.brief.owned]
    candidates = [
        evaluation.names[k] for k in evaluation.order if evaluation.is_ranked[k]
    ]
    if not owned and not candidates:
        raise ScoringError("no rig is owned and no machine is within the limits")
    plans = [(KEEP, owned, [])] if owned else []
    deed = "add" if owned else "buy"
    plans += [(f"{deed} {name}", [*owned, name], [name]) for name in candidates]
    for n, old in enumerate(owned):
        if old in owned[:n]:
            continue  # of two alike rigs it does not matter here which one goes
        rest = owned[:n] + owned[n + 1 :]
        plans += [
            (f"replace {old} by {name}", [*rest, name], [name])
            for name in candidates
            if name != old
        ]
    kept = _plan(evaluation, with_crew, owned) if owned else None
    found = [_choice(evaluation, with_crew, plan, kept) for plan in plans]
    return _ranked(evaluation, found, candidates)


def _by_crew(evaluation):
    """Return {people: Evaluation} of the brief with crews of 1 up to all its people."""
    brief, found = evaluation.brief, {}
    for people in range(1, brief.crew.people + 1):
        if people == brief.crew.people:
            found[people] = evaluation
            continue
        smaller = brief.crew.model_copy(update={"people": people})
        found[people] = evaluate(
            brief.model_copy(update={"crew": smaller}),
            evaluation.machines,
            scale=evaluation.scale,
        )
    return found


def _rigs(with_crew, names, new):
    """Return the Rigs of these machines, each with the fewest people to carry it."""
    rigs = []
    for n, name in enumerate(names):
        people, evaluation = next(
            (
                (people, evaluation)
                for people, evaluation in with_crew.items()
                if evaluation.outcome.carried.way[0, evaluation.index(name), 0]
                in (crew.ALONE, crew.WITH_AID, crew.OWN_CREW)
            ),
            list(with_crew.items())[-1],
        )
        count = names[: n + 1].count(name)
        label = name if count == 1 else f"{name} ({count})"
        is_owned = n < len(names) - len(new)
        k = evaluation.index(name)
        rigs.append(Rig(label, name, evaluation, k, people, is_owned))
    return tuple(rigs)


@dataclass(frozen=True)
class _Plan:
    rigs: tuple
    served: np.ndarray
    n_crews: int
    crew_days: float
    result: float
    stand_in: float


def _plan(evaluation, with_crew, names, new=()):
    """Return the plan of these rigs that leaves most in a year."""
    rigs = _rigs(with_crew, names, new)
    people = evaluation.brief.crew.people
    most = max(1, people // max(rig.people for rig in rigs))
    plans = [_with_crews(evaluation, rigs, n) for n in range(1, most + 1)]
    return max(plans, key=lambda plan: plan.result)


def _with_crews(evaluation, rigs, n_crews):
    """Return the _Plan of these rigs with so many crews out at once."""
    jobs, business = evaluation.figures[1:]
    month = float(business.days_per_week[0, 0, 0] * business.weeks_per_year[0, 0, 0])
    month *= float(business.bookable_share[0, 0, 0]) / 12
    given = {
        "days": np.stack(
            [_of(rig, rig.evaluation.outcome.booked_days) for rig in rigs]
        ),
        "left": np.stack(
            [_of(rig, rig.evaluation.outcome.contribution) for rig in rigs]
        ),
        "per_month": jobs.per_month[0, 0],
        "rig_days": month,
        "crew_days": n_crews * month,
        "down": np.array([_down(rig) for rig in rigs]),
        "is_must": np.broadcast_to(jobs.is_must[0, 0], jobs.per_month[0, 0].shape),
    }
    can_do = np.stack([_of(rig, rig.evaluation.outcome.can_do) for rig in rigs])
    given["days"] = np.where(can_do, given["days"], np.nan)
    plan = fleet.assignment(**given)
    stand_in = float(fleet.stand_in_value(**given).value.sum())
    result = _year_result(evaluation, rigs, plan.served, plan.crew_days_used - month)
    return _Plan(rigs, plan.served, n_crews, plan.crew_days_used, result, stand_in)


def _of(rig, array):
    """Return the row of a rig's machine in an array of the model: (job,)."""
    shape = rig.evaluation.outcome.can_do.shape
    return np.broadcast_to(array, shape)[0, rig.k]


def _booked(rig):
    return _of(rig, rig.evaluation.outcome.booked_days)


def _down(rig):
    per_job = days_down_per_job(rig.evaluation.figures[0])
    return float(per_job[0, rig.k, 0])


def _year_result(evaluation, rigs, served, extra_days):
    """Return the year of all rigs: fixed costs once, wages of crews beyond the owner's.

    Of rigs that are alike, each further one saves a share of its upkeep.
    """
    business = evaluation.figures[2]
    total, seen = -float(business.fixed_costs[0, 0, 0]), []
    saved = evaluation.drawn["brief", "money.alike_rigs_save"][0]
    for rig, n_jobs in zip(rigs, served, strict=True):
        lines = _lines(rig, 12 * n_jobs)
        total += sum(
            float(line[0, 0, 0])
            for name, line in lines._asdict().items()
            if name != "fixed_costs"
        )
        if rig.machine in seen:
            total -= saved * float(lines.upkeep[0, 0, 0])
        seen.append(rig.machine)
    hours = float(business.day_min[0, 0, 0]) / 60
    wage = float(business.wage_per_h[0, 0, 0])
    return total - 12 * max(0.0, extra_days) * hours * wage


def _lines(rig, n_year):
    """Return the year's lines of one rig that does so many jobs a year."""
    machines, jobs, business = rig.evaluation.figures
    n = len(rig.evaluation.names)

    def own(array):
        has_row = np.ndim(array) > 1 and np.shape(array)[1] == n
        return array[:, rig.k : rig.k + 1] if has_row else array

    site = rig.evaluation.outcome.site
    parts = Parts(*map(own, site.parts))
    left = np.where(
        _of(rig, rig.evaluation.outcome.can_do),
        _of(rig, rig.evaluation.outcome.contribution),
        0.0,
    )
    return year_lines(
        MachineFigures(*map(own, machines)),
        jobs,
        business,
        SiteTime(parts, *map(own, site[1:])),
        n_year[None, None, :],
        left[None, None, :],
    )


def _choice(evaluation, with_crew, plan, kept):
    """Return the Choice of a plan (name, rigs, the new ones among them)."""
    name, names, new = plan
    found = kept if name == KEEP else _plan(evaluation, with_crew, names, new)
    business = evaluation.figures[2]
    before = 0.0 if kept is None else kept.result
    added = found.result - before
    paid = _upfront(evaluation, names, new) - _sold(evaluation, name)
    resale = sum(_figure(evaluation, x, evaluation.figures[0].resale) for x in new)
    rate = float(business.discount_rate[0, 0, 0])
    flows = finance.cash_flows(paid, added, business.horizon_years, resale)
    return Choice(
        name=name,
        rigs=found.rigs,
        served=found.served,
        n_crews=found.n_crews,
        crew_days=found.crew_days,
        year_result=found.result,
        added_result=added,
        added_upfront=paid,
        payback_months=float(finance.payback_months(paid, added)) if new else 0.0,
        npv=float(finance.net_present_value(flows, rate)),
        stand_in_value=found.stand_in,
        raw=_raw(evaluation, found, paid),
    )


def _figure(evaluation, name, array):
    return float(array[0, evaluation.index(name), 0])


def _upfront(evaluation, names, new):
    """Return what the new rigs cost; accessories of one alike are shared in part."""
    lines, total = evaluation.outcome.upfront_lines, 0.0
    saved = evaluation.drawn["brief", "money.alike_rigs_save"][0]
    for name in new:
        total += _figure(evaluation, name, evaluation.outcome.upfront)
        if names.count(name) > 1:
            total -= saved * _figure(evaluation, name, lines.accessories)
    return total


def _sold(evaluation, name):
    """Return what a replaced rig brings."""
    for owned in evaluation.brief.owned:
        if name.startswith(f"replace {owned.machine} by ") and owned.resale is not None:
            place = evaluation.brief.owned.index(owned)
            return float(evaluation.drawn["brief", f"owned.{place}.resale"][0])
    return 0.0


def _raw(evaluation, plan, paid):
    """Return a choice's figure for each criterion: its rigs by their booked days."""
    days = np.stack([_booked(rig) for rig in plan.rigs])
    booked = (plan.served * np.nan_to_num(days)).sum(axis=1)
    weight = booked if booked.sum() > 0 else np.ones(len(booked))
    weight = weight / weight.sum()
    jobs = evaluation.figures[1]
    income = revenue(jobs)[0, 0]
    whole = float((jobs.per_month[0, 0] * income).sum())
    own = {
        "upfront": paid,
        "year_result": plan.result,
        "work_served": float((plan.served * income).sum()) / whole if whole else 0.0,
    }
    row = []
    for c, criterion in enumerate(evaluation.criteria):
        figures = np.array([rig.evaluation.raw[rig.k, c] for rig in plan.rigs])
        if criterion.id == "days_lost":
            n_jobs = 12 * plan.served.sum(axis=1)
            row.append(float((n_jobs * [_down(rig) for rig in plan.rigs]).sum()))
        elif criterion.id in own:
            row.append(own[criterion.id])
        else:
            row.append(float((weight * np.nan_to_num(figures)).sum()))
    return np.array(row)


def _ranked(evaluation, found, candidates):
    """Return the Choices ranked by the evaluation's weights and criteria.

    What a change costs and leaves has a scale of its own; the rest keeps the machines'.
    """
    raw = np.stack([choice.raw for choice in found])
    criteria = evaluation.criteria
    flat_above = [criterion.flat_above for criterion in criteria]
    is_benefit = [criterion.is_benefit for criterion in criteria]
    scale = evaluation.scale.copy()
    fresh = decision_criteria.default_scale(raw, is_benefit, flat_above)
    for c, criterion in enumerate(criteria):
        if criterion.id in MONEY and evaluation.brief.owned:
            scale[c] = fresh[c]
    scores = decision_criteria.scores(raw, scale, flat_above)
    weights = evaluation.weights
    sums = ranking.weighted_sum(scores, weights)
    closeness = ranking.topsis(scores, weights, np.ones(len(criteria), bool)).closeness
    out = {
        name: "breaks one of your limits"
        for name in evaluation.names
        if name not in candidates and name not in evaluation.left_out
    }
    return Choices(
        evaluation=evaluation,
        choices=tuple(found),
        left_out=out,
        scale=scale,
        scores=scores,
        weighted_sum=sums,
        topsis=closeness,
        rank_weighted_sum=ranking.ranks(sums),
        rank_topsis=ranking.ranks(closeness),
    )


def verdict(found):
    """Return in one or two sentences which choice comes first, and what it changes."""
    best = found.choices[found.order[0]]
    currency = found.evaluation.brief.currency
    deed, _, what = best.name.partition(" ")
    said = f"{DEEDS[deed]} {what} comes first"
    if best.name == KEEP:
        return f"{said}: no change leaves more for what it costs and what else matters."
    added = figure(best.added_result, f"{currency}/year")
    paid = figure(best.added_upfront, currency)
    months = figure(best.payback_months, "months")
    now = "keeping what you have" if found.evaluation.brief.owned else "buying nothing"
    apart = f", with {best.n_crews} crews out at once" if best.n_crews > 1 else ""
    if not best.added_result > 0:
        return (
            f"{said} among the changes, yet none of them leaves more than {now}: "
            f"{added} for {paid} to pay."
        )
    return (
        f"{said}: {added} more than {now}{apart}, for {paid} to pay; at full work that "
        f"is earned back in {months}."
    )
