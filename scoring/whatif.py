"""What would turn the answer: one figure at a time through the whole model.

Every question is a handful of draws of the same model, each with some figures changed.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.run import redrawn
from scoring.decision import ranking, stability
from scoring.evidence.draws import central, drawn, is_uncertain, stream_of
from scoring.evidence.job_arrays import job_figures
from scoring.evidence.sheet_figures import is_high_better

N_STEPS = 25  # of the map, each way
REACH = 3.0  # the map goes to this many times the buyer's own position
RANGE_DRAWS = 2_000  # for the buyer's own position
OWN_RANGE = (10, 90)  # percentiles
MOST_PRICE = 3.0  # times the present price: where no talk with a seller goes


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


def totals(evaluation, changes):
    """Return weighted sums, (change, machine), NaN where ruled out; and the Run."""
    figures = central(evaluation.evidence, evaluation.brief, changes)
    again, scores = redrawn(evaluation, figures)
    is_out = np.isnan(scores[..., 0])
    sums = ranking.weighted_sum(np.nan_to_num(scores), evaluation.weights)
    return np.where(is_out, np.nan, sums), again


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
    sums, _ = totals(evaluation, [{}])
    return float(leads(sums, first)[0])


def swings(evaluation):
    """Return a Swing for each uncertain figure that moves the lead, widest first."""
    first = leader(evaluation)
    if first is None:
        return ()
    groups = _uncertain(evaluation)
    changes = []
    for keys in groups:
        changes += [
            {key: getattr(evaluation.evidence[key], end) for key in keys}
            for end in ("low", "high")
        ]
    if not changes:
        return ()
    sums, _ = totals(evaluation, changes)
    lead = leads(sums, first)
    names = _leaders(evaluation, sums)
    found = [
        _swing(evaluation, keys[0], lead[2 * n : 2 * n + 2], names[2 * n : 2 * n + 2])
        for n, keys in enumerate(groups)
    ]
    moving = [swing for swing in found if swing.width > 1e-9]
    return tuple(sorted(moving, key=lambda swing: -swing.width))


def _uncertain(evaluation):
    """Return the uncertain figures as groups of keys that move together."""
    groups = {}
    for key, figure in evaluation.evidence.items():
        if is_uncertain(figure):
            groups.setdefault(stream_of(*key), []).append(key)
    return list(groups.values())


def _leaders(evaluation, sums):
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
        sums, _ = totals(evaluation, [{key: at(share, key) for key in keys}])
        return float(leads(sums, first)[0])

    share = stability.draws_level(lead, 0.0, 1.0)
    return None if share is None else float(at(share, (owner, path)))


def best_buy_price(evaluation, name):
    """Return the highest price at which a machine is the best buy, None if at none.

    In the brief's currency, everything else as it is. First place by weighted sum and
    within cash and upfront limit; one that breaks another limit has no such price.
    """
    k = evaluation.index(name)
    if name in evaluation.left_out or _is_out_for_good(evaluation, k):
        return None
    rate, most = _rate(evaluation, name), _most_price(evaluation, name)

    def is_best(price):
        sums, _ = totals(evaluation, [{(name, "price"): price}])
        return np.isfinite(sums[0, k]) and leads(sums, k)[0] >= -ranking.TIE

    def lead(price):
        sums, _ = totals(evaluation, [{(name, "price"): price}])
        own = sums[0, k]
        return -1.0 if np.isnan(own) else float(leads(sums, k)[0]) + ranking.TIE

    if not is_best(0.0):
        return None
    if is_best(most):
        return float(most * rate)
    price = stability.draws_level(lead, 0.0, most)
    return None if price is None else float(price * rate)


def present_price(evaluation, name):
    """Return a machine's price as told, in the brief's currency: the PERT mean."""
    return float(evaluation.drawn[name, "price"][0])


def is_beyond_talk(evaluation, name, price):
    """Return whether a price is the highest that `best_buy_price` looks at."""
    most = _most_price(evaluation, name) * _rate(evaluation, name)
    return price >= most * (1 - 1e-9)


def _rate(evaluation, name):
    """Return what one unit of a price's currency is in the brief's."""
    currency = evaluation.evidence[name, "price"].currency
    if currency in (None, evaluation.brief.currency):
        return 1.0
    return float(evaluation.drawn["brief", f"exchange.{currency}"][0])


def _most_price(evaluation, name):
    """Return the highest price looked at, in its own currency; above 0."""
    own = evaluation.evidence[name, "price"].high
    dearest = max(
        float(evaluation.drawn[other, "price"][0]) for other in evaluation.names
    )
    fallback = dearest / _rate(evaluation, name) or 1.0
    return MOST_PRICE * (own or fallback)


def _is_out_for_good(evaluation, k):
    """Return whether a machine breaks a limit that no price mends."""
    return any(x.name not in ("cash", "highest_upfront") for x in evaluation.broken(k))


def ranks_if_unknowns_turn_out_bad(evaluation):
    """Return each machine's rank if all that it leaves unknown is at the worse end.

    0 where it is ruled out then, or already is.
    """
    changes = []
    for name in evaluation.names:
        worst = {}
        for key, figure in evaluation.evidence.items():
            if key[0] == name and figure.is_unknown:
                is_high = is_high_better(figure.path)
                worst[key] = figure.low if is_high else figure.high
        changes.append(worst)
    sums, _ = totals(evaluation, changes)
    ranks = []
    for k, row in enumerate(sums):
        is_in = np.isfinite(row)
        found = ranking.ranks(row[is_in]) if is_in.any() else []
        place = int(np.flatnonzero(is_in).tolist().index(k)) if is_in[k] else None
        ranks.append(0 if place is None else int(found[place]))
    return ranks


@dataclass(frozen=True)
class BestMap:
    """The best machine over jobs a month and wall area; "" where none is left."""

    jobs_per_month: np.ndarray  # (step,)
    wall_m2: np.ndarray  # (step,)
    by_score: tuple[tuple[str, ...], ...]  # [area][jobs]
    by_money: tuple[tuple[str, ...], ...]  # "" where buying nothing is better
    own_jobs: float
    own_wall_m2: float


def best_map(evaluation, n_steps=N_STEPS):
    """Return who is best as all the work grows or shrinks, in number and in size."""
    factors = np.linspace(REACH / n_steps, REACH, n_steps)
    jobs, area = np.meshgrid(factors, factors)
    changes = [
        _scaled_work(evaluation, a, b)
        for a, b in zip(jobs.ravel(), area.ravel(), strict=True)
    ]
    sums, again = totals(evaluation, changes)
    own_jobs, own_area = own_position(evaluation)
    npv = np.where(np.isnan(sums), np.nan, again.outcome.npv[..., 0])
    worth = np.where(npv > 0, npv, np.nan)

    def grid(values):
        names = _leaders(evaluation, values)
        return tuple(
            tuple(names[n * n_steps : (n + 1) * n_steps]) for n in range(n_steps)
        )

    return BestMap(
        own_jobs * factors,
        own_area * factors,
        grid(sums),
        grid(worth),
        own_jobs,
        own_area,
    )


def _scaled_work(evaluation, jobs, area):
    """Return the changes that scale every kind of job in number and in area."""
    changes = {}
    for j, _ in enumerate(evaluation.brief.work):
        for field, factor in (
            ("per_month", jobs),
            ("width", area**0.5),
            ("height", area**0.5),
        ):
            key = ("brief", f"work.{j}.{field}")
            changes[key] = factor * evaluation.drawn[key][0]
    return changes


def own_position(evaluation):
    """Return (jobs a month, mean area of a wall in m²) of the brief."""
    total, area = _positions(evaluation.figures[1])
    return float(total[0]), float(area[0])


def own_range(evaluation, n_draws=RANGE_DRAWS, seed=1):
    """Return where the buyer's own position may be: (2, 2).

    Rows are jobs a month and mean area of a wall in m², each with its P10 and P90 over
    the ranges of the brief.
    """
    own = {key: it for key, it in evaluation.evidence.items() if key[0] == "brief"}
    figures = drawn(own, evaluation.brief, seed, 0, n_draws)
    jobs = job_figures(evaluation.brief, evaluation.variants, figures)
    places = np.stack(_positions(jobs))
    return np.percentile(places, OWN_RANGE, axis=1).T


def _positions(jobs):
    """Return (jobs a month, mean area of a wall in m²), each of shape (draw,).

    The mean is over jobs; where there are none, over the kinds of job.
    """
    per_month = jobs.per_month[:, 0]
    total = per_month.sum(axis=1)
    is_any = total[:, None] > 0
    weight = np.where(is_any, per_month, 1.0)
    weight = weight / weight.sum(axis=1, keepdims=True)
    return total, (weight * (jobs.width_m * jobs.height_m)[:, 0]).sum(axis=1)
