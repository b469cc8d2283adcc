"""The plan for a visit to one seller, and the order of sellers.

Tests are worth what acting on their results together leaves (`evsi`); a seller's visit
is a box that costs something to open (`search`).
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.one_machine import of_place
from scoring.answer.run import redrawn
from scoring.decision import ranking
from scoring.decision.sample_information import FEWEST, Samples
from scoring.decision.search import Search, search
from scoring.decision.visit_plan import VisitPlan, visit_plan
from scoring.evidence.draws import drawn, is_uncertain
from scoring.inputs.visit_tests import trials
from scoring.model.money.finance import annuity_payment
from scoring.questions.firmness import alternatives, net_benefit
from scoring.questions.weights_in_money import point_in_money

DRAWS = 4_000
MINUTES, VISIT_COST = 90.0, 120.0  # of a visit, where nobody says otherwise
STEPS = 12  # places of a figure at which leaving is looked at
SURE = 5.0  # standard errors by which a figure must move the worth of its machine
STEPPED = "odour."  # figures of whole steps


class Leave(NamedTuple):
    """From where on one figure says to leave: another choice is then the better one."""

    path: str
    value: float  # in the figure's unit
    is_above: bool  # leave at this or more; else at this or less


@dataclass(frozen=True)
class PlannedVisit:
    """What to test at one seller's; worths are present values in currency."""

    evaluation: Evaluation
    name: str
    minutes: float
    visit_cost: float
    own_hour: float  # what an hour of the buyer's is worth; in the tests' costs
    tests: tuple  # the Trials that settle something open and are not done
    plan: VisitPlan
    leave: dict  # {test of the plan: Leave}
    prize: np.ndarray  # (draw,) the machine's worth as believed after the plan's tests
    by_score: float | None  # the plan's worth where the score decides; None: not money

    @property
    def is_worth_it(self):
        """Whether the visit leaves more than it costs to go there."""
        return self.plan.worth - self.plan.cost > self.visit_cost

    @property
    def titles(self):
        """The titles of the plan's tests, in order."""
        return tuple(self.tests[step.test].title for step in self.plan.steps)


@dataclass(frozen=True)
class Round:
    """Visits to sellers, the one to begin with first, and when to stop."""

    visits: tuple[PlannedVisit, ...]  # in the order of their reservation values
    search: Search  # boxes in the order of the visits


def planned_round(evaluation, minutes, visit_cost, seed=1, n=DRAWS):
    """Return the Round of the sellers that the money may choose.

    Only a machine that was visited may be bought; buying nothing is worth 0.

    Parameters
    ----------
    minutes : of a visit
    visit_cost : currency; the way there and the half day
    seed, n : of the draws
    """
    lived = _lived(evaluation, seed, n)
    visits = [
        _planned(evaluation, evaluation.names[k], minutes, visit_cost, lived)
        for k in alternatives(evaluation)
    ]
    if not visits:
        return Round((), Search((), np.zeros(0), 0.0, np.zeros(0)))
    costs = np.array([visit_cost + visit.plan.cost for visit in visits])
    prizes = np.stack([visit.prize for visit in visits], axis=1)
    values = search(costs, prizes).values
    order = np.argsort(-values, kind="stable")
    found = search(costs[order], prizes[:, order])
    return Round(tuple(visits[box] for box in order), found)


def planned_visit(
    evaluation, name, minutes=MINUTES, visit_cost=VISIT_COST, done=(), seed=1, n=DRAWS
):
    """Return the PlannedVisit to the seller of one machine.

    Parameters
    ----------
    done : titles of tests whose results are known, and stand in the sheet, already
    """
    evaluation.index(name)  # says so if there is none
    lived = _lived(evaluation, seed, n)
    return _planned(evaluation, name, minutes, visit_cost, lived, done)


class _Lived(NamedTuple):
    """Draws of all figures, and what each choice is worth in them."""

    figures: dict  # {(owner, path): (draw,)}
    benefit: np.ndarray  # (draw, alternative), present value; the last buys nothing
    seed: int
    scored: np.ndarray | None  # (draw, alternative) scores as present values, if any


def _lived(evaluation, seed, n):
    figures = drawn(evaluation.evidence, evaluation.brief, seed, 0, n)
    again, scores = redrawn(evaluation, figures)
    business = evaluation.figures.buyer
    rate = float(business.discount_rate[0, 0, 0])
    a_year = float(annuity_payment(1.0, rate, business.horizon_years))
    benefit = net_benefit(evaluation, again) / a_year
    return _Lived(figures, benefit, seed, _scored(evaluation, scores, a_year))


def _scored(evaluation, scores, a_year):
    """Return the scores of the machines as present values; None where none is money.

    Where limits rule a machine out in a draw its score is 0.
    """
    point, among = point_in_money(evaluation), list(alternatives(evaluation))
    if point is None or not among:
        return None
    filled = np.nan_to_num(scores)[:, among]
    return ranking.weighted_sum(filled, evaluation.weights) * point / a_year


class _Test(NamedTuple):
    """A Trial at one seller's: what it would show in each draw."""

    trial: object
    paths: tuple[str, ...]
    readings: np.ndarray  # (draw, figure), each in its own unit
    columns: range  # of the Samples
    cost: float  # with what the buyer's own minutes are worth


def _planned(evaluation, name, minutes, visit_cost, lived, done=()):
    hour = _own_hour(evaluation, name)
    tests = list(_tests(evaluation, name, lived, hour, done))
    none = np.zeros((len(lived.benefit), 0))
    readings = np.concatenate([none, *(test.readings for test in tests)], axis=1)
    samples = Samples(lived.benefit, readings)
    plan = visit_plan(
        lambda chosen: samples.worth(_columns(tests[n] for n in chosen)),
        [test.trial.estimate.minutes for test in tests],
        [test.cost for test in tests],
        minutes,
    )
    steps = [tests[n] for n in plan.tests]
    by_score = None
    if lived.scored is not None:
        by_score = Samples(lived.scored, readings).worth(_columns(steps))
    place = _place(evaluation, name)
    prize = np.zeros(len(lived.benefit))
    if place is not None:
        prize = samples.believed(_columns(steps))[:, place]
    return PlannedVisit(
        evaluation,
        name,
        minutes,
        visit_cost,
        hour,
        tuple(test.trial for test in tests),
        plan,
        _leaves(evaluation, name, lived, plan, tests),
        prize,
        by_score,
    )


def _own_hour(evaluation, name):
    buyer = of_place(evaluation.figures.buyer, evaluation.index(name))
    return float(np.nan_to_num(buyer.own_hour))


def _place(evaluation, name):
    """Return a machine's place among the alternatives; None if it is none."""
    chosen = alternatives(evaluation)
    k = evaluation.index(name)
    return chosen.index(k) if k in chosen else None


def _columns(tests):
    return [column for test in tests for column in test.columns]


def _tests(evaluation, name, lived, hour, done):
    """Yield the _Tests that settle something open of a machine and are not done.

    Each has chance of its own, whatever else is done.
    """
    found = 0
    for n, trial in enumerate(trials()):
        paths = _open_paths(evaluation, lived.figures, name, trial)
        if trial.estimate is None or trial.title in done or not paths:
            continue
        k = evaluation.index(name)
        rng = np.random.default_rng(np.random.SeedSequence([lived.seed, k, n]))
        x = np.stack([lived.figures[name, path] for path in paths], axis=1)
        off = rng.standard_normal(x.shape) * x.std(axis=0) * trial.estimate.spread
        readings = x + off / np.sqrt(trial.estimate.repeats)
        columns = range(found, found + len(paths))
        found = columns.stop
        cost = trial.estimate.cost + hour * trial.estimate.minutes / 60
        yield _Test(trial, paths, readings, columns, cost)


def _open_paths(evaluation, figures, name, trial):
    """Return the uncertain figures of a machine that a test settles."""
    return tuple(
        path
        for (owner, path), figure in evaluation.evidence.items()
        if owner == name
        and is_uncertain(figure)
        and trial.is_settled(path)
        and figures[name, path].std() > 0
    )


def _leaves(evaluation, name, lived, plan, tests):
    """Return {test of the plan: Leave}, where some reading of it says to leave."""
    place, found = _place(evaluation, name), {}
    if place is None:
        return found
    for n, test_place in enumerate(plan.tests):
        rest = [tests[later] for later in plan.tests[n + 1 :]]
        test = tests[test_place]
        ways = [
            _leave(lived.benefit, place, path, readings, rest)
            for path, readings in zip(test.paths, test.readings.T, strict=True)
        ]
        ways = [way for way in ways if way is not None]
        if ways:  # the reading that most often says so
            found[test_place] = max(ways, key=lambda way: way[1])[0]
    return found


def _leave(benefit, place, path, readings, rest):
    """Return (Leave, share of draws) by one figure; None where no reading says so.

    Where readings are as bad, the machine is worth less than the best other choice, and
    the tests that are left are worth less than they cost; where they are better, one of
    the two is not so.
    """
    own, others = benefit[:, place], np.delete(benefit, place, axis=1)
    moves = np.corrcoef(readings, own)[0, 1] if own.std() > 0 else 0.0
    if abs(moves) * np.sqrt(len(own)) < SURE:
        return None  # by chance, as far as one sees
    worse = readings if moves < 0 else -readings
    if path.startswith(STEPPED):
        worse = np.rint(worse)
    other = others.mean(axis=0).max()
    found = _first_bad(worse, own, other, path.startswith(STEPPED))
    if found is None:
        return None
    beyond = worse >= found
    stays = own[~beyond].mean() > other or _is_worth_more(benefit, rest, ~beyond)
    if not stays or _is_worth_more(benefit, rest, beyond):
        return None
    leave = Leave(path, float(found if moves < 0 else -found), bool(moves < 0))
    return leave, float(beyond.mean())


def _first_bad(worse, own, other, is_stepped):
    """Return from where on the machine is worth less than the other choice, or None.

    None where it is nowhere so, everywhere, or where too few draws tell.
    """
    places = np.unique(worse) if is_stepped else _quantiles(worse)
    places = [low for low in places if (worse >= low).sum() >= FEWEST]
    found = None
    for low, high in zip(places[::-1], [np.inf, *places[:0:-1]], strict=True):
        here = (worse >= low) & (worse < high)
        if own[here].mean() >= other:
            break
        found = low
    if found is None:
        return None
    return found if (worse < found).sum() >= FEWEST else None


def _quantiles(worse):
    return np.unique(np.quantile(worse, np.arange(1, STEPS) / STEPS))


def _is_worth_more(benefit, rest, where):
    """Return whether the tests that are left are worth more than they cost there."""
    if not rest:
        return False
    readings = np.concatenate([test.readings[where] for test in rest], axis=1)
    worth = Samples(benefit[where], readings).worth(range(readings.shape[1]))
    return worth > sum(test.cost for test in rest)
