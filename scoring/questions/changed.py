"""One door for “the same model, something changed”.

Every what-if – a slider, a root that is looked for, a map, a crew of fewer people –
says what it changes as Changes of figures, and gets what to expect then.
"""

from dataclasses import dataclass, replace

import numpy as np

from scoring.answer.evaluation import evaluated, sure_of
from scoring.answer.expected import (
    Expected,
    Gist,
    expected,
    gist,
    gist_of,
    is_out,
    mapped,
    of_places,
)
from scoring.answer.run import run
from scoring.decision import ranking
from scoring.evidence.draws import in_brief_currency
from scoring.evidence.ranges import Evidence
from scoring.evidence.unknowns import OF_PRICE
from scoring.inputs.quantity import STATED

FEW = 50  # draws of a what-if that has many alternatives
MOST_ROWS = 4_000  # of the model in one call: alternatives × draws


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
    """Return the Expected, of one alternative, with some figures changed.

    On all the draws of the evaluation.

    Parameters
    ----------
    changes : sequence of Change, of different figures
    keep_plan : whether each machine keeps its plan; else the best one is chosen anew
    """
    if keep_plan:
        return each_changed(evaluation, [changes], n_draws=evaluation.n_draws)
    return supposed(evaluation, changes).expected


def gist_changed(evaluation, changes):
    """Return the Gist of `changed`, plans as they are, in less time."""
    return each_gist(evaluation, [changes], n_draws=evaluation.n_draws)


def each_gist(evaluation, alternatives, variants=None, n_draws=FEW):
    """Return the Gist of `each_changed`, in less time."""
    return _each(evaluation, alternatives, None, variants, None, n_draws, gist)


def each_changed(
    evaluation, alternatives, people=None, variants=None, loaded=None, n_draws=FEW
):
    """Return the Expected of each alternative, in few calls of the model.

    Without cash by the month, but what it comes to.

    With fewer draws than the evaluation has, what an alternative changes is told by
    these draws and added to what the evaluation expects: the same draws on both sides,
    so that no change is no difference.

    Parameters
    ----------
    alternatives : sequence of sequences of Change
    people : of the crew, where it is another
    variants : where they are not each machine under its plan
    loaded : the vehicles, where they stay as they are (`Outcome.loaded`)
    """
    return _each(evaluation, alternatives, people, variants, loaded, n_draws, expected)


def _each(evaluation, alternatives, people, variants, loaded, n_draws, summed):
    """Return what `summed`, `expected` or `gist`, says of each alternative."""
    n_draws = min(n_draws, evaluation.n_draws)
    alternatives = [_with_shares(evaluation, changes) for changes in alternatives]
    is_rough = n_draws < evaluation.n_draws
    if is_rough:
        alternatives.append([])  # what is compared with
    alone = None if variants or people else _owner_alone(evaluation, alternatives)
    own = evaluation.variants if variants is None else variants
    chosen = own if alone is None else [own[alone]]
    few = {key: rows[: 1 + n_draws] for key, rows in evaluation.rows.items()}
    size = max(1, MOST_ROWS // (1 + n_draws))
    flat_above = [criterion.flat_above for criterion in evaluation.criteria]
    parts = []
    for n in range(0, len(alternatives), size):
        some = alternatives[n : n + size]
        again = _run(evaluation, few, some, people, chosen, loaded, alone)
        parts.append(
            summed(again, evaluation.scale, flat_above, len(some), 1 + n_draws)
        )
    found = _joined(parts)
    if is_rough:
        full = _full(evaluation, alone, people, variants, loaded)
        full = full if summed is expected else gist_of(full)
        found = _added_to(full, found)
    if alone is None:
        return found
    whole = evaluation.expected
    return _spliced(whole if summed is expected else gist_of(whole), found, alone)


def supposed(evaluation, changes=(), people=None):
    """Return the Evaluation with some figures or the crew changed.

    Plans are chosen anew; the scale, the weights of the brief and what is left out
    stay.

    Raises
    ------
    ScoringError
        As `evaluate`.
    """
    changes = _with_shares(evaluation, changes)
    rows = dict(evaluation.rows)
    n_rows = 1 + evaluation.n_draws
    for change in changes:
        rows[change.key] = _moved_rows(evaluation, change, rows.get(change.key), n_rows)
    return evaluated(
        _with_people(evaluation.brief, people),
        evaluation.machines,
        changed_evidence(evaluation, changes),
        rows,
        evaluation.seed,
        scale=evaluation.scale,
        left_out=evaluation.left_out,
    )


def sums_of(evaluation, found: Expected | Gist):
    """Return the weighted sums, (alternative, machine), NaN where ruled out."""
    sums = ranking.weighted_sum(found.scores, evaluation.weights)
    out = is_out(found.chance_in, found.is_in_as_told, sure_of(evaluation.brief))
    out = out | np.isin(evaluation.names, list(evaluation.left_out))
    return np.where(out, np.nan, sums)


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


def _with_shares(evaluation, changes):
    """Return the changes, with what is guessed as a share of a price that changes."""
    again = list(changes)
    for change in changes:
        owner, path = change.key
        if path != "price" or owner == "brief":
            continue
        times, _, known = _terms(evaluation, change)
        told = evaluation.evidence[change.key].told
        factor = times if known is None else known / told if told else 1.0
        again += [
            Change(key, times=factor)
            for key, figure in evaluation.evidence.items()
            if key[0] == owner and figure.is_unknown and OF_PRICE in figure.note
        ]
    return again


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
    times, later, known = _terms(evaluation, change)
    if known is not None:
        return replace(figure, low=known, likely=known, high=known, told=known)
    ends = ("low", "likely", "high", "told")
    return replace(figure, **{e: times * getattr(figure, e) + later for e in ends})


def _terms(evaluation, change):
    """Return (times, later, known) of a Change, `known` None where it is not exact."""
    if change.known is not None:
        return 1.0, 0.0, change.known
    if change.likely is None:
        return change.times, change.later, None
    now = evaluation.evidence[change.key].told
    if now == 0:
        return 1.0, 0.0, change.likely
    return change.likely / now, change.later, None


def _moved_rows(evaluation, change, rows, n_rows):
    """Return the rows of a figure after a Change."""
    times, later, known = _terms(evaluation, change)
    if known is not None:
        return np.full(n_rows, float(known))
    return times * rows + later


def _written(change, currency):
    """Return a figure that the brief did not hold, in its currency."""
    value = change.known
    ends = (value, value, value)
    return Evidence(*change.key, *ends, currency, STATED, "", currency, told=value)


def _owner_alone(evaluation, alternatives):
    """Return the place of the one machine whose figures change; None if not one."""
    owners = {change.key[0] for changes in alternatives for change in changes}
    (owner,) = owners if len(owners) == 1 else ("brief",)
    return None if owner == "brief" else evaluation.index(owner)


def _run(evaluation, rows, alternatives, people, variants, loaded, alone):
    """Return the Run of some alternatives, in one call of the model."""
    n_rows = len(next(iter(rows.values())))
    by_key = {}
    for n, changes in enumerate(alternatives):
        for change in changes:
            moved = _moved_rows(evaluation, change, rows.get(change.key), n_rows)
            by_key.setdefault(change.key, {})[n] = moved
    wanted = rows if alone is None else _of_owners(rows, evaluation.names[alone])
    tiled = {}
    for key in [*wanted, *(key for key in by_key if key not in wanted)]:
        again = np.tile(rows[key], len(alternatives)) if key in rows else None
        if again is None:
            again = np.empty(n_rows * len(alternatives))
        for n, moved in by_key.get(key, {}).items():
            again[n * n_rows : (n + 1) * n_rows] = moved
        tiled[key] = again
    evidence = evaluation.evidence | {
        change.key: _moved(evaluation, change)
        for changes in alternatives
        for change in changes
        if change.key not in evaluation.evidence
    }
    brief = _with_people(evaluation.brief, people)
    if alone is not None and loaded is not None:
        loaded = of_places(loaded, [alone], len(evaluation.names))
    drawn = in_brief_currency(tiled, evidence, brief)
    return run(brief, evaluation.criteria, variants, drawn, loaded)


def _of_owners(rows, name):
    """Return the rows of the brief and of one machine."""
    return {key: own for key, own in rows.items() if key[0] in ("brief", name)}


def _full(evaluation, alone, people, variants, loaded):
    """Return what is expected without a change on all the draws of the evaluation."""
    if people is not None or variants is not None or loaded is not None:
        n_draws = evaluation.n_draws
        return each_changed(evaluation, [[]], people, variants, loaded, n_draws)
    if alone is None:
        return evaluation.expected
    return of_places(evaluation.expected, [alone], len(evaluation.names))


def _joined(parts):
    """Return the Expected of all alternatives from those of some each."""
    if len(parts) == 1:
        return parts[0]
    sizes = [len(part.scores) for part in parts]

    def join(*arrays):
        if all(len(a) == 1 for a in arrays) and max(sizes) > 1:
            return arrays[0]
        return np.concatenate(arrays)

    return mapped(join, *parts)


def _added_to(full, found):
    """Return what alternatives change, told against the last, added to the full."""
    n = len(found.scores)

    def added(rough, whole):
        if len(rough) != n:
            return whole
        if rough.dtype.kind != "f" or rough.shape[1:] != whole.shape[1:]:
            return rough[:-1]
        known = [np.isfinite(each) for each in (rough[:-1], rough[-1:], whole)]
        is_known = known[0] & known[1] & known[2]
        then, now, at_full = (
            np.where(is_known, x, 0.0) for x in (rough[:-1], rough[-1:], whole)
        )
        moved = then - now + at_full
        if (then >= 0).all():  # what is never below 0 is not so by chance of draws
            moved = np.maximum(moved, 0.0)
        return np.where(is_known, moved, rough[:-1])

    again = mapped(added, found, full)
    return again._replace(
        scores=again.scores.clip(0.0, 1.0), chance_in=again.chance_in.clip(0.0, 1.0)
    )


def _spliced(whole, found, k):
    """Return what is expected of all machines, of which machine k is as found."""
    n, n_machines = len(found.scores), whole.scores.shape[1]

    def splice(own, whole):
        if whole.shape[1] != n_machines or own.shape[1] != 1:
            return own
        if own.shape[2:] != whole.shape[2:]:  # modes or pieces of this one alone
            return whole
        again = np.repeat(whole, n, axis=0) if len(whole) == 1 else whole.copy()
        again[:, k : k + 1] = own
        return again

    return mapped(splice, found, whole)
