"""Many buyers who share kinds of job and machines: the answer of each, in one call.

The same model, decisions and limits as `evaluated` takes for one buyer: what each
carries a machine with, under which plan, within which limits, on a scale of its own.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.buyers_prices import AskedOf, best_up_to, priced
from scoring.answer.evaluation import sure_of
from scoring.answer.expected import HALF, is_out
from scoring.answer.limits import must_limits, own_limits
from scoring.answer.preferences import brief_weights, criteria_of, scales_of
from scoring.answer.run import Run, benefit_a_year, criterion_figures, figures_of
from scoring.answer.ways import n_tried, possible_ways, results_by_draw
from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision.weights import worth_of_point
from scoring.evidence.buyer_arrays import aid_names
from scoring.evidence.buyers_rows import rows_of_buyers
from scoring.evidence.variants import carried_by, variants_of
from scoring.model.months.average_year import months
from scoring.model.outcome import outcome

DIGITS = 6  # of money, in which two ways or plans are alike


@dataclass(frozen=True)
class BuyersAnswers:
    """What each buyer is answered; arrays (buyer, machine) unless stated."""

    points: np.ndarray  # weighted sum of mean scores, 0–1, of all that is ruled out too
    chance_in: np.ndarray  # share of draws within all limits
    is_in_as_told: np.ndarray  # bool
    is_out: np.ndarray  # bool: ruled out
    year_result: np.ndarray  # mean, money a year
    benefit: np.ndarray  # mean net benefit, money a year; buying nothing is 0
    best_up_to: np.ndarray  # times its price; see `buyers_prices`
    plan: np.ndarray  # int, place of the plan chosen
    money_a_point: np.ndarray  # (buyer,) what one point is worth a year, NaN without


def answered(brief, machines, evidence, own, seed, first, n_buyers, n_draws):
    """Return the BuyersAnswers of so many buyers from `first` on.

    Parameters
    ----------
    brief : Brief of their kind
    machines : sequence of Machine, by name
    evidence : the `gather`ed evidence of both
    own : {path: OwnFigures} of these buyers
    seed, first : int; name the draws
    n_draws : int, 0 where nothing is uncertain
    """
    drawn = rows_of_buyers(brief, evidence, own, seed, first, n_buyers, n_draws)
    criteria = criteria_of(brief)
    shape = (n_buyers, 1 + n_draws)
    variants = [variant for machine in machines for variant in variants_of(machine)]
    figures = figures_of(brief, variants, drawn)
    figures = _in_their_ways(brief, variants, figures, drawn, shape)
    lived = outcome(*figures)
    musts = must_limits(brief, [v.features for v in variants], figures.jobs, lived)
    by_month = months(*figures, lived, None, has_trail=True)
    limits = own_limits(brief, figures, lived, by_month) + musts
    is_broken = np.any([limit.is_broken for limit in limits], axis=0)
    raw = criterion_figures(criteria, variants, figures, lived, drawn, by_month)
    again = Run(drawn, figures, lived, (), raw, is_broken, by_month)
    scale = scales_of(brief, criteria, figures, np.arange(n_buyers) * shape[1])
    weights = brief_weights(brief, criteria)
    chosen = _plans(machines, variants, figures, lived, musts, shape)

    def of_plan(of_variants):
        return np.take_along_axis(of_variants, chosen, axis=1)

    inside = of_plan(1 - _mean(is_broken, shape))
    is_in_as_told = of_plan(~_by_buyer(is_broken, shape)[:, 0])
    firsts = np.cumsum([0, *(len(variants_of(m)) for m in machines)])[:-1]
    points = ranking.weighted_sum(_scores(criteria, raw, scale, shape), weights)
    out = is_out(inside, is_in_as_told, sure_of(brief))
    asked = AskedOf(
        brief, criteria, figures, by_month.trail, raw, scale, weights, shape
    )
    points = of_plan(points)
    rivals = _rivals(np.where(out, -np.inf, points))
    line = priced(evidence, variants, figures, lived)
    times = best_up_to(asked, line, limits, points, rivals, chosen)
    return BuyersAnswers(
        points,
        inside,
        is_in_as_told,
        out,
        of_plan(_mean(lived.year.result[..., 0], shape)),
        of_plan(_mean(benefit_a_year(again), shape)),
        times,
        chosen - firsts,
        _money_a_point(criteria, scale, weights),
    )


def _rivals(points):
    """Return the points of the best other machine, (buyer, machine), −inf for none."""
    found = np.full(points.shape, -np.inf)
    for k in range(points.shape[1]):
        others = np.delete(points, k, axis=1)
        found[:, k] = others.max(axis=1, initial=-np.inf)
    return found


def _by_buyer(array, shape):
    """Return rows apart by buyer: (buyer, 1 + draw, …)."""
    return array.reshape(*shape, *array.shape[1:])


def _mean(array, shape):
    """Return the mean over each buyer's draws, without the row as told: (buyer, …)."""
    rows = _by_buyer(array, shape)
    return (rows[:, 1:] if shape[1] > 1 else rows).mean(axis=1)


def _scores(criteria, raw, scale, shape):
    """Return mean scores, (buyer, machine, criterion), on each buyer's own scale."""
    flat_above = [criterion.flat_above for criterion in criteria]
    own = scale[:, None, None]  # one for all draws and machines
    rows = _by_buyer(raw, shape)
    rows = rows[:, 1:] if shape[1] > 1 else rows
    return scales.scores(rows, own, flat_above).mean(axis=1)


def _money_a_point(criteria, scale, weights):
    """Return what one point is worth a year to each buyer, NaN where none counts."""
    ids = [criterion.id for criterion in criteria]
    if "year_result" not in ids:
        return np.full(len(scale), np.nan)
    return worth_of_point(weights, scale, ids.index("year_result"))


def _in_their_ways(brief, variants, figures, drawn, shape):
    """Return the figures with each buyer's best way to carry each variant.

    As `choose_ways` does for one buyer: on a few of each buyer's draws.
    """
    all_ways = possible_ways(brief)
    ways = [way for way, is_allowed in all_ways if is_allowed]
    best = np.zeros((shape[0], len(variants)), int)
    if len(ways) > 1:
        n_few = min(n_tried(len(all_ways)), max(shape[1] - 1, 1))
        few = np.arange(shape[0])[:, None] * shape[1] + np.arange(n_few)
        few = (few + (shape[1] > 1)).ravel()
        tried = [carried_by(variant, way) for variant in variants for way in ways]
        some = {key: rows[few] for key, rows in drawn.items()}
        found = [
            _mean_of(each, (shape[0], n_few, len(variants), len(ways)))
            for each in results_by_draw(figures_of(brief, tried, some))
        ]
        best = _best_way(*found)
    names = aid_names(brief)
    bought = np.array([[name in way.aids for name in names] for way in ways], bool)
    bought = bought.reshape(len(ways), len(names))
    chosen = {"aid_bought": bought}
    for field, name in (
        ("crew_level", "level"),
        ("crew_stairs", "stairs"),
        ("hires_first", "hires_first"),
        ("may_hire", "may_hire"),
    ):
        chosen[field] = np.array([[getattr(way, name)] for way in ways])
    best, n_times = (best[:1], 1) if (best == best[:1]).all() else (best, shape[1])
    chosen = {field: _by_row(each[best], n_times) for field, each in chosen.items()}
    return figures._replace(machines=figures.machines._replace(**chosen))


def _by_row(of_buyers, n_times):
    """Return (buyer, variant, …) for each row, laid out as the draws are."""
    last = np.moveaxis(of_buyers, 0, -1)
    return np.moveaxis(np.repeat(last, n_times, axis=-1), -1, 0)


def _mean_of(by_draw, shape):
    return by_draw.reshape(shape).mean(axis=1)


def _best_way(works, short_kg, year_result, aids_a_year, _):
    """Return the place of the best way, (buyer, variant), as `best_of` takes it."""
    does = works > HALF
    short = np.where(does, 0.0, -short_kg.round(DIGITS))
    return _first_best(does, short, (year_result - aids_a_year).round(DIGITS))


def _first_best(*keys):
    """Return the first place on the last axis that is best by the keys in turn."""
    is_best = np.ones(keys[0].shape, bool)
    for key in keys:
        key = np.where(is_best, key, -np.inf)
        is_best &= key == key.max(axis=-1, keepdims=True)
    return is_best.argmax(axis=-1)


def _plans(machines, variants, figures, lived, musts, shape):
    """Return the variant of each machine's best plan, (buyer, machine).

    As `choose_plans` does for one buyer.
    """
    broken = [_mean(limit.is_broken, shape) for limit in musts]
    broken.append(np.zeros((shape[0], len(variants))))
    meets = np.max(broken, axis=0) <= HALF
    result = _mean(lived.year.result[..., 0], shape).round(DIGITS)
    cheap = -_mean(figures.machines.plan_fee[..., 0], shape)
    places, start = [], 0
    for machine in machines:
        own = slice(start, start + len(variants_of(machine)))
        best = _first_best(meets[:, own], result[:, own], cheap[:, own])
        places.append(start + best)
        start = own.stop
    return np.stack(places, axis=1)
