"""What a brief says matters: the criteria, their scale and their weights."""

from dataclasses import replace

import numpy as np

from scoring.answer.limits import helps
from scoring.decision import criteria as decision_criteria
from scoring.decision import pairwise
from scoring.decision import weights as decision_weights
from scoring.model.job.lifting import LARGEST_TEAM, team_limit_kg
from scoring.model.money.job_money import revenue


def criteria_of(brief):
    """Return the criteria that the brief asks for: standard, optional, its own."""
    changed = []
    standard = {criterion.id: criterion for criterion in decision_criteria.STANDARD}
    for criterion in decision_criteria.STANDARD:
        change = brief.criteria.get(criterion.id)
        if change is None or change.use is not False:
            changed.append(_changed(criterion, change))
    optional = {criterion.id: criterion for criterion in decision_criteria.OPTIONAL}
    for name, change in brief.criteria.items():
        if name in standard or change.use is False:
            continue
        if name in optional:
            changed.append(_changed(optional[name], change))
        else:
            changed.append(_own_criterion(name, change))
    return tuple(changed)


def _changed(criterion, change):
    if change is None:
        return criterion
    asked = {
        "label": change.label,
        "flat_above": change.flat_above,
        "in_use": change.use,
    }
    return replace(criterion, **{k: v for k, v in asked.items() if v is not None})


def _own_criterion(name, change):
    return decision_criteria.Criterion(
        id=name,
        label=change.label or name,
        term=f"rating {change.rating or name!r} of the machine sheets",
        unit="1–5",
        is_benefit=change.better == "high",
        derived_from=(f"ratings.{change.rating or name}",),
        flat_above=change.flat_above,
    )


def ratings_of(criteria):
    """Return the names of the ratings that the criteria need."""
    paths = [path for criterion in criteria for path in criterion.derived_from]
    return [
        path.removeprefix("ratings.") for path in paths if path.startswith("ratings.")
    ]


def scale_of(brief, criteria, again):
    """Return the anchors [worst, best]: the brief's own, else what is natural to it.

    They come from the brief alone, as it is told, never from the sheets that happen to
    be loaded: adding, dropping or mending a sheet moves no other machine's score.

    Source
    ------
    Global scales: Belton & Stewart (2002), Multiple Criteria Decision Analysis, §5.2;
    from memory.
    """
    return scales_of(brief, criteria, again.figures, slice(0, 1))[0]


def scales_of(brief, criteria, figures, rows):
    """Return `scale_of` several buyers of one kind, (buyer, criterion, 2).

    `rows` are those of the figures in which all is as each buyer tells it.
    """
    natural = natural_ends(brief, figures, rows)
    n_buyers = max(len(np.atleast_1d(end)) for ends in natural.values() for end in ends)
    scale = np.empty((n_buyers, len(criteria), 2))
    for k, criterion in enumerate(criteria):
        if criterion.id in brief.scale:
            scale[:, k] = brief.scale[criterion.id]
        elif criterion.id in natural:
            scale[:, k] = np.stack(np.broadcast_arrays(*natural[criterion.id]), axis=-1)
        else:
            ends = np.array((1, 5) if criterion.is_benefit else (5, 1))
            best = ends.max()
            cap = best if criterion.flat_above is None else criterion.flat_above
            scale[:, k] = np.minimum(ends, cap)
    return scale


def natural_ends(brief, figures, rows):
    """Return {criterion id: (worst, best)} of work, crew and money: (buyer,) each."""
    _, jobs, buyer = figures

    def told(array):
        return array[rows] if len(array) > 1 else array

    def own(array):
        return told(array)[:, 0, 0]

    per_month, paid_a_job = told(jobs.per_month), told(revenue(jobs))
    paid = 12 * (per_month * paid_a_job).sum(axis=(1, 2))
    year = paid - own(buyer.fixed_costs)
    funds = own(buyer.cash) + own(buyer.credit)
    highest = np.nan_to_num(own(buyer.highest_upfront))
    hour = _first_above_0(np.nan_to_num(own(buyer.own_hour)), own(buyer.wage_per_h))
    team = LARGEST_TEAM if helps(brief) else min(brief.crew.people, LARGEST_TEAM)
    may_lift = team_limit_kg(team, own(buyer.lift_limit_kg))
    funds = _first_above_0(funds, highest, paid, 1.0)
    return {
        "upfront": (funds, 0.0),
        "year_result": (0.0, np.where(year > 0, year, _first_above_0(paid, 1.0))),
        "ready_time": (own(buyer.day_min) / 2, 0.0),
        "heaviest_lift": (may_lift, 0.0),
        "odour": (6.0, 0.0),
        "support": (30.0, 0.0),
        "work_served": (0.0, 1.0),
        "site_hours": (1000.0 / _first_above_0(hour, 25.0), 0.0),
        "days_lost": (30.0, 0.0),
        "cash_out": (1.0, 0.0),
        "resale": (0.0, funds),
        "room_to_grow": (0.0, 1.0),
    }


def _first_above_0(first, *others):
    """Return the first of these that is not 0, element by element; else the last."""
    for other in others:
        first = np.where(first != 0, first, other)
    return first


def brief_weights(brief, criteria):
    """Return the brief's weights of these criteria, summing to 1.

    Without any, the criteria in use weigh the same; criteria not named weigh nothing.
    """
    ids = [criterion.id for criterion in criteria]
    written = brief.weights
    if written is None:
        return decision_weights.normalise(np.array([1.0 * c.in_use for c in criteria]))
    named = _named_weights(written)
    return decision_weights.normalise(np.array([named.get(name, 0.0) for name in ids]))


def _named_weights(written):
    """Return {criterion id: weight} from any of the five ways to state weights."""
    if written.swing is not None:
        return _by_name(written.swing, decision_weights.swing)
    if written.order is not None:
        return _by_name(_places(written.order), decision_weights.rank_order_centroid)
    if written.pairwise is not None:
        weights = pairwise.pairwise(np.array(written.pairwise.judgements)).weights
        return dict(zip(written.pairwise.criteria, weights, strict=True))
    if written.priced is not None:
        money = {name: quantity.likely for name, quantity in written.priced.items()}
        return _by_name(money, decision_weights.priced)
    return dict(written.numbers)


def _by_name(figures, method):
    weights = method(np.array(list(figures.values()), float))
    return dict(zip(figures, weights, strict=True))


def _places(order):
    """Return {id: place} of an order whose tied ids stand in a list of their own."""
    places, place = {}, 1
    for entry in order:
        tied = [entry] if isinstance(entry, str) else entry
        places |= dict.fromkeys(tied, place)
        place += len(tied)
    return places
