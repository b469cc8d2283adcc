"""The plan for a visit to one seller: tests by what they are worth together.

Net benefit of each choice is fitted, on half of the draws, by what the tests would
tell; the choice so made is paid on the other half, and the other way round. So chance
does not flatter: what is told is what acting on the results would really have left.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.run import redrawn
from scoring.decision.visit_plan import VisitPlan, visit_plan
from scoring.evidence.draws import drawn, is_uncertain
from scoring.inputs.visit_tests import trials
from scoring.model.money.finance import annuity_payment
from scoring.questions.firmness import alternatives, net_benefit

DRAWS = 4_000
RIDGE = 1e-3  # of the draws; keeps a fit of figures that move together steady


@dataclass(frozen=True)
class PlannedVisit:
    """What to test at one seller's; worths are present values."""

    evaluation: Evaluation
    name: str
    minutes: float
    visit_cost: float
    tests: tuple  # the Trials that settle something open
    plan: VisitPlan

    @property
    def is_worth_it(self):
        """Whether the visit leaves more than it costs to go there."""
        return self.plan.worth - self.plan.cost > self.visit_cost


def planned_visits(evaluation, settles, minutes, visit_cost, seed=1, n=DRAWS):
    """Return the PlannedVisit to each seller the money may choose, the best first.

    Parameters
    ----------
    settles : {title of a test: keys, or their first parts, that it settles}
    minutes : of a visit
    visit_cost : currency; the way there and the half day
    seed, n : of the draws
    """
    drawn_ = _draws(evaluation, seed, n)
    found = [
        _planned(evaluation, evaluation.names[k], settles, minutes, visit_cost, drawn_)
        for k in alternatives(evaluation)
    ]
    return sorted(found, key=lambda visit: visit.plan.cost - visit.plan.worth)


def planned_visit(evaluation, name, settles, minutes, visit_cost, seed=1, n=DRAWS):
    """Return the PlannedVisit to the seller of one machine; as `planned_visits`."""
    evaluation.index(name)  # says so if there is none
    drawn_ = _draws(evaluation, seed, n)
    return _planned(evaluation, name, settles, minutes, visit_cost, drawn_)


def _draws(evaluation, seed, n):
    """Return (figures, net benefit today (draw, alternative), what chance adds)."""
    figures = drawn(evaluation.evidence, evaluation.brief, seed, 0, n)
    again, _ = redrawn(evaluation, figures)
    business = evaluation.figures.buyer
    rate = float(business.discount_rate[0, 0, 0])
    a_year = float(annuity_payment(1.0, rate, business.horizon_years))
    return figures, net_benefit(evaluation, again) / a_year, seed


def _planned(evaluation, name, settles, minutes, visit_cost, drawn_):
    figures, benefit, seed = drawn_
    rng = np.random.default_rng(np.random.SeedSequence([seed, evaluation.index(name)]))
    told, tests = [], []
    for trial in trials():
        paths = _open_paths(evaluation, name, settles.get(trial.title, ()))
        if paths:
            tests.append(trial)
            told.append(_results(figures, name, paths, trial, rng))
    plan = visit_plan(
        lambda chosen: worth_of_results(benefit, [told[n] for n in sorted(chosen)]),
        [trial.minutes for trial in tests],
        [trial.cost for trial in tests],
        minutes,
    )
    return PlannedVisit(evaluation, name, minutes, visit_cost, tuple(tests), plan)


def _open_paths(evaluation, name, keys):
    """Return the uncertain figures of a machine under some keys."""
    return [
        path
        for (owner, path), figure in evaluation.evidence.items()
        if owner == name
        and is_uncertain(figure)
        and any(path == key or path.startswith(f"{key}.") for key in keys)
    ]


def _results(figures, name, paths, trial, rng):
    """Return what a test would tell in each draw: (draw, figure), in own doubts."""
    columns = []
    for path in paths:
        x = figures[name, path]
        spread = x.std()
        if spread > 0:
            off = rng.standard_normal(len(x)) * trial.spread / np.sqrt(trial.repeats)
            columns.append((x - x.mean()) / spread + off)
    return np.stack(columns, axis=1) if columns else np.zeros((len(x), 0))


def worth_of_results(benefit, results):
    """Return what acting on some results leaves above acting on none, 0 or more.

    Parameters
    ----------
    benefit : shape (draw, alternative)
    results : sequence of shape (draw, figure)

    Source
    ------
    Regression of net benefit on simulated data: Strong, Oakley, Brennan & Breeze
    (2015), Medical Decision Making 35, 570–583. From memory; here fitted on one half of
    the draws and paid on the other.
    """
    x = np.concatenate([np.zeros((len(benefit), 0)), *results], axis=1)
    features = np.concatenate([np.ones((len(x), 1)), x, x**2 - 1], axis=1)
    is_even = np.arange(len(x)) % 2 == 0
    gained = 0.0
    for fit in (is_even, ~is_even):
        coefficients = _fitted(features[fit], benefit[fit])
        choice = (features[~fit] @ coefficients).argmax(axis=1)
        paid = np.take_along_axis(benefit[~fit], choice[:, None], axis=1)[:, 0]
        blind = benefit[~fit][:, benefit[fit].mean(axis=0).argmax()]
        gained += (paid - blind).sum()
    return max(0.0, gained / len(x))


def _fitted(features, benefit):
    """Return the coefficients of a ridge regression, the mean left free."""
    gram = features.T @ features
    ridge = np.eye(len(gram)) * RIDGE * len(features)
    ridge[0, 0] = 0.0
    return np.linalg.solve(gram + ridge, features.T @ benefit)
