"""What would turn the answer: one uncertain figure at a time, at its two ends."""

from dataclasses import dataclass
from itertools import groupby

import numpy as np

from scoring.decision import stability
from scoring.evidence.draws import is_uncertain, stream_of
from scoring.questions.changed import Change, each_gist, gist_changed, sums_of

VERY_FEW = 10  # draws, of a machine that is out in all of them


@dataclass(frozen=True)
class Swing:
    """One uncertain figure at its two ends: how far the leader then leads, and who."""

    owner: str
    path: str
    unit: str
    low: float
    high: float
    lead_low: float  # points; below 0 where another leads
    lead_high: float
    leader_low: str
    leader_high: str

    @property
    def width(self):
        return abs(self.lead_high - self.lead_low)

    @property
    def turns(self):
        """Whether the lead is lost at one end and not at the other."""
        return (self.lead_low < 0) != (self.lead_high < 0)


def leader(evaluation):
    """Return the index of the machine that is first, None where none is ranked."""
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    return order[0] if order else None


def leads(sums, k):
    """Return how far machine k is ahead of the best other: (change,), points.

    A machine that is ruled out has 0 points; so has a field without any other.
    """
    filled = np.nan_to_num(sums)
    others = np.delete(filled, k, axis=-1)
    best = others.max(axis=-1) if others.shape[-1] else np.zeros(len(filled))
    return filled[..., k] - best


def present_lead(evaluation):
    """Return how far the leader is ahead of the best other now, None without one."""
    first = leader(evaluation)
    if first is None:
        return None
    sums = sums_of(evaluation, gist_changed(evaluation, []))
    return float(leads(sums, first)[0])


def all_swings(evaluation):
    """Return a Swing for each uncertain figure that moves the lead, widest first."""
    first = leader(evaluation)
    if first is None:
        return ()
    groups = _uncertain(evaluation)
    if not groups:
        return ()
    ends = _at_all_ends(evaluation, groups)
    sums = np.concatenate([sums_of(evaluation, found) for found in ends])
    lead = leads(sums, first)
    names = leaders(evaluation, sums)
    found = [
        _swing(evaluation, keys[0], lead[2 * n : 2 * n + 2], names[2 * n : 2 * n + 2])
        for n, keys in enumerate(groups)
    ]
    moving = [swing for swing in found if swing.width > 1e-9]
    return tuple(sorted(moving, key=lambda swing: -swing.width))


def _at_all_ends(evaluation, groups):
    """Return the Gists at the ends of all groups; once for all weights."""
    if "ends" not in evaluation.found:
        evaluation.found["ends"] = [
            _at_ends(evaluation, list(own))
            for _, own in groupby(groups, key=lambda keys: keys[0][0])
        ]
    return evaluation.found["ends"]


def _at_ends(evaluation, groups):
    """Return the Gist at the low and the high end of each group of keys.

    Groups of one owner at a time: where that is a machine, no other has to be run.
    """
    changes = [
        [Change(key, known=getattr(evaluation.evidence[key], end)) for key in keys]
        for keys in groups
        for end in ("low", "high")
    ]
    owner = groups[0][0][0]
    if owner != "brief":
        k = evaluation.index(owner)
        if not evaluation.expected.chance_in[0, k]:  # few show that no end brings it in
            found = each_gist(evaluation, changes, n_draws=VERY_FEW)
            if np.isnan(sums_of(evaluation, found)[:, k]).all():
                return found
    return each_gist(evaluation, changes)


def _uncertain(evaluation):
    """Return the uncertain figures as groups of keys that move together, by owner."""
    groups = {}
    for key, figure in evaluation.evidence.items():
        if is_uncertain(figure):
            groups.setdefault(stream_of(*key), []).append(key)
    return sorted(groups.values(), key=lambda keys: keys[0][0])


def leaders(evaluation, sums):
    """Return who leads after each change, "" where nobody is left."""
    is_any = np.isfinite(sums).any(axis=1)
    best = np.where(np.isnan(sums), -np.inf, sums).argmax(axis=1)
    return [
        evaluation.names[k] if is_left else ""
        for k, is_left in zip(best, is_any, strict=True)
    ]


def _swing(evaluation, key, lead, names):
    figure = evaluation.evidence[key]
    ends = (figure.low, figure.high)
    return Swing(*key, figure.unit, *ends, *map(float, lead), *names)


def level_value(evaluation, owner, path):
    """Return the value of a figure at which a rival draws level, None if at none.

    Looked for between the ends of its range; in its own unit and currency. Figures that
    move together, as a machine's speeds do, are taken to move through their ranges in
    step.
    """
    first = leader(evaluation)
    figure = evaluation.evidence[owner, path]
    if first is None or not is_uncertain(figure):
        return None
    (keys,) = (keys for keys in _uncertain(evaluation) if (owner, path) in keys)

    def at(share, key):
        ends = evaluation.evidence[key]
        return ends.low + share * (ends.high - ends.low)

    def lead(share):
        moved = [Change(key, known=at(share, key)) for key in keys]
        sums = sums_of(evaluation, gist_changed(evaluation, moved))
        return float(leads(sums, first)[0])

    share = stability.draws_level(lead, 0.0, 1.0)
    return None if share is None else float(at(share, (owner, path)))
