"""Two to four machines side by side: which of their differences matter for this work.

A difference matters where the first machine, given the other's figure and nothing else,
would take other hours or days, leave other money, or meet or break a limit.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.expected import is_out
from scoring.answer.limits import SLACK
from scoring.questions.changed import Change, each_changed, rate_of

HOURS, DAYS, MONEY, LIMIT = "hours", "days", "money", "a limit"
LEAST_MINUTES = 1.0  # of a job on site; less nobody notices, own estimate
LEAST_DAYS = 0.01  # booked for a job
LEAST_SHARE = 0.002  # of what the machine costs to the door: a year's result


@dataclass(frozen=True)
class Apart:
    """One figure that some machines tell differently.

    `told` holds a figure for each machine, as it is written, NaN where nobody tells it;
    `changes` what it moves for this work, of HOURS, DAYS, MONEY, LIMIT.
    """

    path: str
    unit: str
    told: tuple[float, ...]
    is_guess: tuple[bool, ...]
    changes: tuple[str, ...]


def differences(evaluation, ks):
    """Return an Apart for each figure in which machines ks differ.

    Those of note come first, of these the ones that somebody tells.

    Parameters
    ----------
    ks : places of two to four machines; the first is given the others' figures
    """
    found = _differing(evaluation, ks)
    if not found:
        return ()
    first = evaluation.names[ks[0]]
    tried = [
        (path, value)
        for path, (_, figures, _) in found.items()
        for value in sorted({x for x in figures[1:] if np.isfinite(x)} - {figures[0]})
        if np.isfinite(figures[0])
    ]
    alternatives = [[_given(evaluation, first, path, value)] for path, value in tried]
    moved = _moved(evaluation, ks[0], alternatives) if tried else []
    changes = {path: set() for path in found}
    for (path, _), kinds in zip(tried, moved, strict=True):
        changes[path] |= kinds
    rows = [
        Apart(
            path,
            unit,
            figures,
            guesses,
            tuple(k for k in (HOURS, DAYS, MONEY, LIMIT) if k in changes[path]),
        )
        for path, (unit, figures, guesses) in found.items()
    ]
    return tuple(sorted(rows, key=lambda row: (not row.changes, all(row.is_guess))))


def _differing(evaluation, ks):
    """Return {path: (unit, figures, is_guess)} where the machines' figures differ."""
    names = [evaluation.names[k] for k in ks]
    paths = dict.fromkeys(p for owner, p in evaluation.evidence if owner in names)
    found = {}
    for path in paths:
        held = [evaluation.evidence.get((name, path)) for name in names]
        known = next(each for each in held if each is not None)
        rates = [
            1.0 if each is None else rate_of(evaluation, (name, path))
            for name, each in zip(names, held, strict=True)
        ]
        figures = tuple(
            np.nan if each is None else _figure(each) * rate
            for each, rate in zip(held, rates, strict=True)
        )
        if len({x for x in figures if np.isfinite(x)}) > 1:
            unit = _unit(known, evaluation.brief.currency)
            guesses = tuple(each is not None and each.is_unknown for each in held)
            found[path] = unit, figures, guesses
    return found


def _figure(evidence):
    """Return a figure as it is told, its likely value where nobody tells it."""
    return float(evidence.told if np.isfinite(evidence.told) else evidence.likely)


def _unit(evidence, currency):
    """Return the unit, sums in the brief's currency."""
    unit = evidence.unit.replace("currency", currency)
    own = evidence.currency
    return unit if own is None else unit.replace(own, currency)


def _given(evaluation, name, path, value):
    key = (name, path)
    return Change(key, likely=value / rate_of(evaluation, key))


def _moved(evaluation, k, alternatives):
    """Return the set of what each alternative moves for machine k."""
    found = each_changed(evaluation, [*alternatives, []])
    outcome = found.outcome

    def moves(array, least):
        own = array[:, k] if array.shape[1] > 1 else array[:, 0]
        gap = np.abs(np.nan_to_num(own) - np.nan_to_num(own[-1:]))
        return (gap.reshape(len(own), -1) > least).any(axis=1)

    money = LEAST_SHARE * float(evaluation.outcome.upfront[0, k].max()) + SLACK
    out = is_out(found.chance_in, found.is_in_as_told)[:, k]
    can_do = found.chances.can_do
    kinds = {
        HOURS: moves(outcome.site.on_site_min, LEAST_MINUTES),
        DAYS: moves(outcome.booked_days, LEAST_DAYS),
        MONEY: moves(outcome.year.result, money)
        | moves(outcome.upfront, money)
        | moves(found.npv, money * evaluation.brief.money.horizon),
        LIMIT: (out != out[-1]) | moves(can_do, 0.02),
    }
    return [
        {kind for kind, is_moved in kinds.items() if is_moved[n]}
        for n in range(len(alternatives))
    ]
