"""Rigs that share the work: which does what with so many crews, and what a year leaves.

A rig is a machine as a crew of some people runs it. Everything is the evaluation's own
model, once for each size of crew; the work as a multiple of today's is the draw.
"""

from dataclasses import dataclass, replace

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.expected import HALF
from scoring.answer.ways import in_their_ways
from scoring.model import fleet
from scoring.model.figures import BusinessFigures, JobFigures, MachineFigures
from scoring.model.job import crew
from scoring.model.job.site_time import Parts, SiteTime
from scoring.model.money.crew_pay import crew_pay, wage_by_hour
from scoring.model.money.served import days_down_per_job
from scoring.model.money.year_lines import job_use, year_lines
from scoring.model.outcome import Outcome
from scoring.questions.changed import each_changed, times_work


@dataclass(frozen=True)
class RigsCrew:
    """The model run for a crew of so many people; a draw for each multiple of work."""

    people: int
    machines: MachineFigures
    jobs: JobFigures
    business: BusinessFigures
    lived: Outcome
    raw: np.ndarray  # (multiple, machine, criterion)

    @property
    def shape(self):
        """Shape of what is told by multiple, machine and job."""
        return np.broadcast_shapes(self.lived.can_do.shape, self.jobs.per_month.shape)


@dataclass(frozen=True)
class Rig:
    """One rig of a choice."""

    name: str  # the machine's, numbered where a choice has two alike
    machine: str
    k: int  # the machine's place
    crew: RigsCrew
    place: int | None  # among the brief's owned rigs; None for a new one

    @property
    def people(self):
        """People that go out with it."""
        return self.crew.people

    def of(self, array, multiple=0):
        """Return its row in an array of the model: (job,)."""
        return np.broadcast_to(array, self.crew.shape)[multiple, self.k]

    @property
    def days_down_per_job(self):
        """Days of the diary that breakdowns cost, spread over its jobs."""
        down = days_down_per_job(self.crew.machines, self.crew.business)
        return float(down[0, self.k, 0])


@dataclass(frozen=True)
class Plan:
    """What some rigs do in an average month, and what a year of it leaves."""

    rigs: tuple[Rig, ...]
    served: np.ndarray  # (rig, job), jobs a month
    n_crews: int
    crew_days: float  # booked a month, all crews
    left: float  # a year, after job costs and the wages of further crews
    year_result: float

    @property
    def running(self):
        """What a year costs whatever the work, below 0."""
        return self.year_result - self.left


def crews(evaluation: Evaluation, multiples=(1.0,)):
    """Return {people: RigsCrew} for crews of 1 up to all the people of the brief.

    Parameters
    ----------
    multiples : of the jobs a month of every kind
    """
    question = "crews", tuple(multiples)
    if question not in evaluation.found:  # whatever change of rigs is asked about
        evaluation.found[question] = _crews(evaluation, multiples)
    return evaluation.found[question]


def _crews(evaluation, multiples):
    changes = [times_work(evaluation, factor) for factor in multiples]
    loaded = evaluation.outcome.loaded  # a vehicle is bought for the work there is
    found = {}
    for people in range(1, evaluation.brief.crew.people + 1):
        _, variants = with_people(evaluation, people)
        again = each_changed(evaluation, changes, people, variants, loaded)
        found[people] = RigsCrew(people, *again.figures, again.outcome, again.raw)
    return found


def with_people(evaluation, people):
    """Return (the brief with a crew of so many, the machines in their best ways)."""
    crew = evaluation.brief.crew.model_copy(update={"people": people})
    smaller = evaluation.brief.model_copy(update={"crew": crew})
    return smaller, in_their_ways(evaluation, evaluation.variants, smaller)


def rigs(evaluation, by_people, names, places):
    """Return the Rigs of these machines, each with the fewest people to carry it.

    `places` are those among the owned rigs, None for a new one.
    """
    found = []
    for n, (name, place) in enumerate(zip(names, places, strict=True)):
        k, count = evaluation.index(name), names[: n + 1].count(name)
        label = name if count == 1 else f"{name} ({count})"
        fewest = next((c for c in by_people.values() if _carries(c, k)), None)
        found.append(Rig(label, name, k, fewest or by_people[max(by_people)], place))
    return tuple(found)


def _carries(team, k):
    """Return whether a crew carries a machine without help, to all that it can do."""
    carried = team.lived.carried
    is_own = (carried.hired[0, k] < HALF) & (carried.way[0, k] != crew.NOBODY)
    return bool(is_own.any() and (is_own | ~team.lived.can_do[0, k]).all())


def best_plan(evaluation, by_people, shared, multiple=0):
    """Return the Plan of these rigs that leaves most in a year.

    Over the numbers of crews that the people make up, no more than there are rigs; the
    people of the brief go out whatever the number, so that keeping one rig is what that
    rig does by itself.
    """
    people = evaluation.brief.crew.people
    most = max(1, people // max(rig.people for rig in shared))
    plans = (
        plan_with(evaluation, by_people, shared, n, multiple)
        for n in range(1, min(most, len(shared)) + 1)
    )
    return max(plans, key=lambda plan: plan.year_result)


def plan_with(evaluation, by_people, shared, n_crews, multiple=0):
    """Return the Plan of these rigs with so many crews out at once.

    The people are spread over the crews; a rig goes out with no fewer than it needs.
    """
    each = evaluation.brief.crew.people // n_crews
    shared = tuple(
        replace(rig, crew=by_people[max(rig.people, each)]) for rig in shared
    )
    plan, left, result = _on_means(evaluation, shared, n_crews, multiple)
    hidden = np.mean([_hidden(evaluation, rig, multiple) for rig in shared])
    return Plan(
        shared,
        plan.served,
        n_crews,
        plan.crew_days_used,
        left - hidden,
        result - hidden,
    )


def _on_means(evaluation, shared, n_crews, multiple):
    """Return (assignment, left after job costs, the year's result) at mean figures."""
    given = _given(evaluation, shared, n_crews, multiple)
    plan = fleet.assignment(**given)
    extra_days = plan.crew_days_used - given["rig_days"]
    return plan, *year_money(evaluation, shared, plan.served, extra_days, multiple)


def _hidden(evaluation, rig, multiple):
    """Return what mean figures hide of a rig's year: 0 where nothing is uncertain.

    The model at mean figures is not the mean of the model: by so much the assignment is
    too good for a rig by itself, and is taken to be for several.
    """
    *_, result = _on_means(evaluation, (rig,), 1, multiple)
    year = rig.crew.lived.year
    before_pay = rig.of(year.result - year.lines.crew_pay, multiple)[0]
    return result + float(crew_pay(evaluation.figures.buyer).item()) - float(before_pay)


def stand_in_value(evaluation, plan):
    """Return what it is worth a year that a plan's rigs stand in for each other."""
    given = _given(evaluation, plan.rigs, plan.n_crews, 0)
    return float(fleet.stand_in_value(**given).value.sum())


def _given(evaluation, shared, n_crews, multiple):
    """Return the arguments of `fleet.assignment`."""
    business, jobs = evaluation.figures.buyer, shared[0].crew.jobs
    per_month = jobs.per_month[multiple, 0]
    month = float(business.days_per_week[0, 0, 0] * business.weeks_per_year[0, 0, 0])
    month *= float(business.bookable_share[0, 0, 0]) / 12

    def stacked(name):
        rows = [rig.of(getattr(rig.crew.lived, name), multiple) for rig in shared]
        return np.stack(rows)

    return {
        "days": np.where(stacked("can_do"), stacked("booked_days"), np.nan),
        "left": stacked("contribution"),
        "per_month": per_month,
        "rig_days": month,
        "crew_days": n_crews * month,
        "down": np.array([rig.days_down_per_job for rig in shared]),
        "is_must": np.broadcast_to(jobs.is_must[0, 0], per_month.shape),
        "free_days": month,
        "day_cost": day_wage(business).item(),
    }


def day_wage(business):
    """Return what a day of a further crew costs, above what its rig's jobs cost.

    Its rig's jobs count the owner's pay, who is not there; (draw, 1, 1).
    """
    more = wage_by_hour(business) - np.nan_to_num(business.own_hour)
    return business.day_min / 60 * np.maximum(0.0, more)


def year_money(evaluation, shared, served, extra_days, multiple=0):
    """Return (left after job costs, the year's result) of all rigs.

    Fixed costs and pay by the month count once, and the wages of crews beyond the
    owner's as job costs. Of rigs that are alike, each further one saves a share of its
    upkeep.
    """
    business = evaluation.figures.buyer
    saved = float(evaluation.drawn["brief", "money.alike_rigs_save"][0])
    lines = [
        _lines(rig, business, 12 * n_jobs, multiple)
        for rig, n_jobs in zip(shared, served, strict=True)
    ]
    left = sum(line.contributions.item() for line in lines)
    running = sum((sum(line) - line.contributions).item() for line in lines)
    alike = lines[0].fixed_costs + lines[0].crew_pay
    running -= (len(lines) - 1) * alike.item()
    upkeep = np.array([-line.upkeep.item() for line in lines])
    kinds = [rig.machine for rig in shared]
    running += float((upkeep - fleet.after_sharing(upkeep, kinds, saved)).sum())
    wages = 12 * max(0.0, extra_days) * day_wage(business).item()
    return left - wages, left - wages + running


def _lines(rig, business, n_year, multiple):
    """Return the year's lines of one rig that does so many jobs a year."""
    machines, jobs, lived = rig.crew.machines, rig.crew.jobs, rig.crew.lived
    n_multiples, n_machines, _ = rig.crew.shape

    def own(array):
        if np.ndim(array) > 1 and np.shape(array)[1] == n_machines:
            array = array[:, rig.k : rig.k + 1]
        if np.ndim(array) > 1 and np.shape(array)[0] == n_multiples:
            array = array[multiple : multiple + 1]
        return array

    site = SiteTime(Parts(*map(own, lived.site.parts)), *map(own, lived.site[1:]))
    can_do = rig.of(lived.can_do, multiple)
    left = np.where(can_do, rig.of(lived.contribution, multiple), 0.0)
    machine = MachineFigures(*map(own, machines))
    use = job_use(machine, JobFigures(*map(own, jobs)), site)
    return year_lines(
        machine, business, use, n_year[None, None, :], left[None, None, :]
    )
