"""How each machine is carried: of the ways that work, the cheapest over the year.

A way is which aids are bought, once for all jobs, how many go out at least, and whether
the crew's own people or others help. It is the buyer's decision, so it is taken before
the draws, on the mean of a few of them, and kept in all, like a plan.
"""

from dataclasses import dataclass
from itertools import chain, combinations, product

import numpy as np

from scoring.answer.limits import helps
from scoring.answer.run import figures_of
from scoring.evidence.buyer_arrays import aid_names
from scoring.evidence.draws import in_brief_currency
from scoring.evidence.variants import Way, carried_by
from scoring.model.job.lifting import LARGEST_TEAM
from scoring.model.money.finance import equivalent_annual
from scoring.model.outcome import outcome

FEWEST_DRAWS, MOST_DRAWS = 10, 40
ROWS = 200  # ways × draws that a plan is tried on
HALF = 0.5


@dataclass(frozen=True)
class WayResult:
    """What carrying a machine in one way comes to."""

    way: Way
    is_allowed: bool  # by the brief: else what hired help would do
    works: float  # share of draws in which it is carried, to all that must be served
    short_kg: float  # that pieces are too heavy, mean over the kinds of job
    year_result: float  # expected, of a few draws
    aids_a_year: float  # the price of the aids, as an equal sum a year
    help_a_year: float  # paid to carriers from outside

    @property
    def left(self):
        """What a year leaves with the aids paid for."""
        return self.year_result - self.aids_a_year


def possible_ways(brief):
    """Return [(Way, whether the brief allows it)], those that take least first.

    The same for every machine, and the more there are the more the brief offers: so
    more aids, people or help never leave less.
    """
    names, may_hire = aid_names(brief), helps(brief)
    sizes = range(len(names) + 1)
    bought = list(chain.from_iterable(combinations(names, n) for n in sizes))
    people = min(brief.crew.people, LARGEST_TEAM)
    most = LARGEST_TEAM if may_hire else people
    stairs = {job.stairs > 0 for job in brief.work}
    found = []
    for aids, level, up in product(bought, range(1, most + 1), range(1, most + 1)):
        if (level > 1 and False not in stairs) or (up > 1 and True not in stairs):
            continue
        found.append((Way(aids, level, up, False, may_hire), True))
        if may_hire and people > 1:
            found.append((Way(aids, level, up, True, may_hire), True))
    if not may_hire:
        found += [(Way(aids, may_hire=True), False) for aids in bought]
    return found


def choose_ways(brief, variants, drawn):
    """Return (the variants in their best ways, all WayResults of each).

    The way that leaves most in a year, the aids paid for as an equal sum a year, among
    those that work in most draws; ties go to the one that takes least. Where none does,
    that with which least is lacking.

    Parameters
    ----------
    drawn : {(owner, path): (1 + draw,)}, in the brief's currency; first as told
    """
    ways = possible_ways(brief)
    tried = [carried_by(variant, way) for variant in variants for way, _ in ways]
    figures = figures_of(brief, tried, _few(drawn, len(ways)))
    shape = (len(variants), len(ways))
    by_draw = results_by_draw(figures)
    columns = [each.mean(axis=0).reshape(shape) for each in by_draw]
    found, chosen = [], []
    for row, variant in enumerate(variants):
        results = tuple(
            WayResult(way, is_allowed, *(float(each[row, n]) for each in columns))
            for n, (way, is_allowed) in enumerate(ways)
        )
        found.append(results)
        chosen.append(carried_by(variant, best_of(results).way))
    return chosen, found


def in_their_ways(evaluation, variants, brief=None):
    """Return other variants in their best ways, say of a plan or a crew not chosen."""
    brief = evaluation.brief if brief is None else brief
    rows = {key: each[: 1 + MOST_DRAWS] for key, each in evaluation.rows.items()}
    drawn = in_brief_currency(rows, evaluation.evidence, brief)
    return choose_ways(brief, variants, drawn)[0]


def best_of(results):
    """Return the WayResult that is taken; of those that the brief allows."""
    allowed = [each for each in results if each.is_allowed]

    def key(each):
        does = each.works > HALF
        return does, 0.0 if does else -round(each.short_kg, 6), round(each.left, 6)

    return max(allowed, key=key)


def _few(drawn, n_ways):
    """Return the first draws, as many whatever machines there are; told if no other."""
    n_rows = len(next(iter(drawn.values())))
    rows = slice(1, 1 + n_tried(n_ways)) if n_rows > 1 else slice(0, 1)
    return {key: each[rows] for key, each in drawn.items()}


def n_tried(n_ways):
    """Return on how many draws so many ways are tried."""
    return int(np.clip(ROWS // n_ways, FEWEST_DRAWS, MOST_DRAWS))


def results_by_draw(figures):
    """Return what WayResult holds of each variant, in its order: (draw, variant) each.

    Whether it works, the kilograms lacking, the year, what aids and help cost a year.
    """
    _, jobs, business = figures
    lived = outcome(*figures)
    is_carried = (lived.carried.short_kg <= 0).any(axis=-1)
    is_done = is_carried & (lived.can_do | ~jobs.is_must).all(axis=-1)
    aids = lived.upfront_lines.aids[..., 0]
    rate = np.broadcast_to(business.discount_rate[..., 0], aids.shape)
    a_year = equivalent_annual(aids, rate, business.horizon_years)
    served = 12 * lived.year.served_per_month
    help_ = np.where(served > 0, -served * lived.contribution_lines.hired_help, 0.0)
    short_kg = lived.carried.short_kg.mean(axis=-1)
    found = is_done, short_kg, lived.year.result[..., 0], a_year, help_.sum(axis=-1)
    return [np.broadcast_to(each, aids.shape) for each in found]
