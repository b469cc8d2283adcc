"""How sure each choice of rigs is: its money a year over the draws, and how often best.

One model: the rigs of all choices are its machines, each with its part of the work and
of the crews' days as the choice's plan shares them out, in every draw at once. In a
thin or a full year each rig takes what its diary holds, best first, and what is left
undone is offered to the rigs that have days left.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.expected import of_places
from scoring.answer.run import figures_of
from scoring.decision.acceptability import acceptability_of, rank_counts
from scoring.evidence.draws import in_brief_currency
from scoring.model.figures import (
    BusinessFigures,
    Figures,
    JobFigures,
    MachineFigures,
)
from scoring.model.money import finance
from scoring.model.money.served import bookable_days, days_down_per_job
from scoring.model.money.worth_serving import worth_serving
from scoring.model.money.year_lines import JobUse, job_use, year_lines
from scoring.model.numbers import over_jobs
from scoring.model.outcome import Outcome, outcome
from scoring.questions.fleet.change_money import (
    end_by_draw,
    sold_by_draw,
    upfront_by_draw,
)
from scoring.questions.fleet.rigs import day_wage, with_people

MOST_DRAWS = 400
PERCENTILES = (10, 50, 90)


@dataclass(frozen=True)
class Ranges:
    """The choices over the draws, in their order; money in the brief's currency.

    Money a year is what is left with what the change costs, less what its rigs fetch in
    the end, spread over the years as a level sum: so that choices compare.
    """

    n_draws: int  # 1 where nothing is uncertain
    worth: np.ndarray  # (draw, choice), money a year
    first: np.ndarray  # (choice,), share of draws in which it leaves most

    @property
    def mean(self):
        """What to expect of a year, (choice,)."""
        return self.worth.mean(axis=0)

    @property
    def percentiles(self):
        """P10, P50 and P90 of a year, (choice, 3)."""
        return np.percentile(self.worth, PERCENTILES, axis=0).T

    @property
    def best(self):
        """The choice that is to be expected to leave most."""
        return int(self.mean.argmax())


@dataclass(frozen=True)
class _Drawn:
    """What `change_money` asks of an Evaluation, in many draws."""

    evaluation: Evaluation
    drawn: dict
    figures: Figures
    outcome: Outcome

    @property
    def brief(self):
        return self.evaluation.brief

    @property
    def machines(self):
        return self.evaluation.machines

    def index(self, name):
        return self.evaluation.index(name)


def ranges(found):
    """Return the Ranges of Choices.

    The draws are the first of those behind the answer. What they say of a choice is
    moved so that its mean is what the choice is told to leave: few draws and shared
    diaries tell how it spreads, not where it lies.
    """
    evaluation = found.evaluation
    drawn = _few(evaluation)
    whole = _drawn(evaluation, evaluation.brief, evaluation.variants, drawn)
    years = _years(found, drawn)
    worth = np.stack(
        [
            years[c] - _cost_a_year(whole, choice.deed)
            for c, choice in enumerate(found.choices)
        ],
        axis=1,
    )
    expected = [expected_worth(found, choice) for choice in found.choices]
    worth += expected - worth.mean(axis=0)
    n_draws = len(worth)
    first = acceptability_of(rank_counts(worth), n_draws)[:, 0]
    return Ranges(n_draws, worth, first)


def expected_worth(found, choice):
    """Return what a choice is told to leave a year, what it costs spread over years."""
    buyer = found.evaluation.figures.buyer
    rate, years = buyer.discount_rate.item(), buyer.horizon_years
    before = choice.year_result - choice.added_result
    return float(before + finance.equivalent_annual(choice.npv, rate, years))


def _few(evaluation):
    """Return the first rows of the draws behind the answer, those as told left out."""
    first = 1 if evaluation.n_draws else 0
    return {k: x[first : first + MOST_DRAWS] for k, x in evaluation.rows.items()}


def _drawn(evaluation, brief, variants, rows):
    """Return the model in some draws, vehicles as they are."""
    drawn = in_brief_currency(rows, evaluation.evidence, brief)
    figures = figures_of(brief, variants, drawn)
    loaded = evaluation.outcome.loaded
    return _Drawn(evaluation, drawn, figures, outcome(*figures, loaded))


def _cost_a_year(whole, deed):
    """Return what a change costs as a level sum a year, (draw,)."""
    buyer = whole.figures.buyer
    rate = buyer.discount_rate[:, 0, 0]
    paid = upfront_by_draw(whole, deed) - sold_by_draw(whole, deed)[0]
    fetched = end_by_draw(whole, deed) / (1 + rate) ** buyer.horizon_years
    return finance.equivalent_annual(paid - fetched, rate, buyer.horizon_years)


def _years(found, rows):
    """Return the year's result of each choice in each draw, a list of (draw,)."""
    groups = _groups(found, rows)
    planned = [_served(each, each.jobs.per_month * each.shares) for each in groups]
    offered = _offered_again(groups, planned)
    lines, days = {}, {}
    for group, per_month in zip(groups, offered, strict=True):
        served = _served(group, per_month)
        year = year_lines(
            group.machines, group.buyer, group.use, 12 * served, group.left
        )
        booked = over_jobs(served, group.booked)
        for n, place in enumerate(group.places):
            lines[place] = type(year)(*(_of(each, n) for each in year))
            days[place] = _of(booked, n)
    return [
        _choice_year(
            choice,
            [lines[c, r] for r in range(_n(choice))],
            sum(days[c, r] for r in range(_n(choice))),
            groups[0],
        )
        for c, choice in enumerate(found.choices)
    ]


def _n(choice):
    return len(choice.rigs)


def _of(array, n):
    """Return a rig's row of (draw, rig, 1)."""
    return array[:, min(n, array.shape[1] - 1), 0]


class _Group(NamedTuple):
    """The rigs, of whatever choice, that a crew of one size takes out: its machines."""

    places: list  # (choice, rig) of each
    shares: np.ndarray  # (rig, job), of the work
    machines: MachineFigures
    jobs: JobFigures
    buyer: BusinessFigures
    diary: BusinessFigures  # the same with each rig's part of the crews' days
    can_do: np.ndarray
    left: np.ndarray  # by a job
    booked: np.ndarray  # days
    load: np.ndarray  # days, with those of breakdowns
    use: JobUse
    upkeep_saved: np.ndarray  # (draw,), share


def _groups(found, rows):
    """Return the _Groups of all rigs of all choices."""
    by_people = {}
    for c, choice in enumerate(found.choices):
        for r, rig in enumerate(choice.rigs):
            by_people.setdefault(rig.people, []).append((c, r))
    return [_group(found, rows, *each) for each in by_people.items()]


def _group(found, rows, people, places):
    brief, variants = with_people(found.evaluation, people)
    of_crew = _drawn(found.evaluation, brief, variants, rows)
    ks = [found.choices[c].rigs[r].k for c, r in places]
    machines, jobs, buyer = of_crew.figures
    n_machines = len(found.evaluation.machines)
    machines, lived = (
        of_places(each, ks, n_machines) for each in (machines, of_crew.outcome)
    )
    part = np.array([_days_shares(found.choices[c])[r] for c, r in places])
    booked = np.where(lived.can_do, lived.booked_days, 0.0)
    return _Group(
        places,
        np.stack([_work_shares(found.choices[c])[r] for c, r in places]),
        machines,
        jobs,
        buyer,
        buyer._replace(bookable_share=buyer.bookable_share * part[:, None]),
        lived.can_do,
        np.where(lived.can_do, lived.contribution, 0.0),
        booked,
        booked + days_down_per_job(machines, buyer),
        job_use(machines, jobs, lived.site),
        of_crew.drawn["brief", "money.alike_rigs_save"],
    )


def _served(group, per_month):
    """Return the jobs a month that each rig serves of those offered."""
    jobs = group.jobs._replace(per_month=per_month)
    return worth_serving(
        *(group.machines, jobs, group.diary, group.use),
        *(group.can_do, group.left, group.load),
    )[0]


def _offered_again(groups, planned):
    """Return what each rig is offered: what it serves, and of what the rigs of its
    choice leave undone a part in proportion to the days that it has left.
    """
    undone, free = {}, {}
    for group, served in zip(groups, planned, strict=True):
        wanted = group.jobs.per_month * group.shares
        load = np.where(group.can_do, group.load, 0.0)
        left_over = bookable_days(group.diary) - over_jobs(served, load)
        for n, (c, r) in enumerate(group.places):
            undone[c] = undone.get(c, 0.0) + (wanted - served)[:, n]
            free[c, r] = np.maximum(_of(left_over, n), 0.0)
    again = []
    for group, served in zip(groups, planned, strict=True):
        more = []
        for c, r in group.places:
            total = sum(days for (other, _), days in free.items() if other == c)
            part = np.divide(
                free[c, r], total, out=np.zeros(total.shape), where=total > 0
            )
            more.append(undone[c] * part[:, None])
        again.append(served + np.stack(more, axis=1))
    return again


def _work_shares(choice):
    """Return which share of each kind of job each rig takes, (rig, job); 1 in all.

    As the plan shares them; what it leaves undone is offered to all alike.
    """
    served = choice.plan.served
    total = served.sum(axis=0)
    alike = np.full(served.shape, 1 / len(served))
    return np.divide(served, total, out=alike, where=total > 1e-9)


def _days_shares(choice):
    """Return which share of a diary each rig has of the crews' days, (rig,); 1 at most.

    Crews as many as rigs: all of it; else as the plan books them.
    """
    n_rigs, n_crews = _n(choice), choice.plan.n_crews
    if n_crews >= n_rigs:
        return np.ones(n_rigs)
    booked = np.stack([rig.of(rig.crew.lived.booked_days) for rig in choice.rigs])
    days = (choice.plan.served * np.nan_to_num(booked)).sum(axis=1)
    parts = days / days.sum() if days.sum() > 0 else np.full(n_rigs, 1 / n_rigs)
    return np.minimum(1.0, n_crews * parts)


def _choice_year(choice, lines, days, group):
    """Return a choice's year in each draw, from the YearResults of its rigs.

    As `year_money` of the plan: fixed costs and pay by the month once, crews beyond the
    owner's their wages, and of rigs that are alike each further one a share of its
    upkeep less.
    """
    total = sum(sum(each) for each in lines)
    total = total - (len(lines) - 1) * (lines[0].fixed_costs + lines[0].crew_pay)
    kinds = [rig.machine for rig in choice.rigs]
    for n, kind in enumerate(kinds):
        if kind in kinds[:n]:
            total = total - group.upkeep_saved * lines[n].upkeep
    free = bookable_days(group.buyer)[:, 0, 0]
    wages = 12 * np.maximum(0.0, days - free) * day_wage(group.buyer)[:, 0, 0]
    return total - wages
