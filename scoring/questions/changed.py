"""One door for “the same model, something changed”.

Every what-if – a slider, a root that is looked for, a map, a crew of fewer people –
says what it changes as Changes of figures, and gets the model run on them.
"""

from dataclasses import dataclass, replace

import numpy as np

from scoring.answer.evaluation import evaluated
from scoring.answer.plans import choose_plans
from scoring.answer.run import Run, run, scores_of
from scoring.decision import ranking
from scoring.evidence.draws import central
from scoring.evidence.ranges import Evidence
from scoring.inputs.quantity import STATED, pert_mean, quantity_at


@dataclass(frozen=True)
class Change:
    """One figure that becomes another, in its own unit and currency.

    A figure nobody wrote can only become `known`, in the brief's currency.
    """

    key: tuple[str, str]  # (owner, path), as in the evidence
    likely: float | None = None  # as it would be written: its range moves in proportion
    known: float | None = None  # exactly this, without a range
    times: float = 1.0  # the whole range
    later: float = 0.0  # the whole range moves up by so much


def changed(evaluation, changes, keep_plan=True):
    """Return the Run, of one draw, with some figures changed.

    Parameters
    ----------
    changes : sequence of Change, of different figures
    keep_plan : whether each machine keeps its plan; else the best one is chosen anew
    """
    if keep_plan:
        return each_changed(evaluation, [changes])
    brief, evidence = evaluation.brief, changed_evidence(evaluation, changes)
    drawn = central(evidence, brief)
    variants, _ = choose_plans(brief, evaluation.machines, drawn)
    return run(brief, evaluation.criteria, variants, drawn)


def each_changed(evaluation, alternatives, people=None, variants=None, loaded=None):
    """Return the Run with a draw for each alternative, in one call of the model.

    Parameters
    ----------
    alternatives : sequence of sequences of Change
    people : of the crew, where it is another
    variants : where they are not each machine under its central plan
    loaded : the vehicles, where they stay as they are (`Outcome.loaded`)
    """
    moved = [
        {change.key: _mean(_moved(evaluation, change)) for change in changes}
        for changes in alternatives
    ]
    drawn = central(evaluation.evidence, evaluation.brief, moved)
    brief = _with_people(evaluation.brief, people)
    chosen = evaluation.variants if variants is None else variants
    return run(brief, evaluation.criteria, chosen, drawn, loaded)


def supposed(evaluation, changes=(), people=None):
    """Return the Evaluation with some figures or the crew changed.

    Plans are chosen anew; the scale, the weights of the brief and what is left out
    stay.

    Raises
    ------
    ScoringError
        As `evaluate`.
    """
    return evaluated(
        _with_people(evaluation.brief, people),
        evaluation.machines,
        changed_evidence(evaluation, changes),
        scale=evaluation.scale,
        left_out=evaluation.left_out,
    )


def sums_of(evaluation, again: Run):
    """Return the weighted sums of a Run, (draw, machine), NaN where ruled out."""
    scores = scores_of(evaluation, again)
    sums = ranking.weighted_sum(np.nan_to_num(scores), evaluation.weights)
    return np.where(np.isnan(scores[..., 0]), np.nan, sums)


def changed_evidence(evaluation, changes):
    """Return the evidence with some figures changed."""
    moved = {change.key: _moved(evaluation, change) for change in changes}
    return evaluation.evidence | moved


def times_work(evaluation, factor):
    """Return the Changes that multiply the jobs a month of every kind."""
    return [
        Change(("brief", f"work.{j}.per_month"), times=factor)
        for j, _ in enumerate(evaluation.brief.work)
    ]


def rate_of(evaluation, key):
    """Return what one unit of a figure's currency is in the brief's; 1 if unwritten."""
    figure = evaluation.evidence.get(key)
    if figure is None or figure.currency in (None, evaluation.brief.currency):
        return 1.0
    return float(evaluation.drawn["brief", f"exchange.{figure.currency}"][0])


def written(evaluation, key):
    """Return a figure's likely value as it is written, in its own currency.

    What is reckoned with may lie beside it: a seller's price counts as one that rises.
    """
    owner, path = key
    return quantity_at(evaluation.record_of(owner), path).likely


def _with_people(brief, people):
    if people in (None, brief.crew.people):
        return brief
    crew = brief.crew.model_copy(update={"people": people})
    return brief.model_copy(update={"crew": crew})


def _moved(evaluation, change):
    """Return the Evidence that a Change makes of a figure."""
    figure = evaluation.evidence.get(change.key)
    if figure is None:
        return _written(change, evaluation.brief.currency)
    if change.known is not None:
        return _between(figure, change.known, change.known, change.known)
    ends, times = (figure.low, figure.likely, figure.high), change.times
    if change.likely is not None:
        now = written(evaluation, change.key)
        if now == 0:
            return _between(figure, *[change.likely] * 3)
        times = change.likely / now
    return _between(figure, *(times * end + change.later for end in ends))


def _written(change, currency):
    """Return a figure that the brief did not hold, in its currency."""
    value = change.known
    return Evidence(*change.key, value, value, value, currency, STATED, "", currency)


def _between(figure, low, likely, high):
    return replace(figure, low=low, likely=likely, high=high)


def _mean(figure):
    return pert_mean(figure.low, figure.likely, figure.high)
