"""Many buyers in words."""

import math

from scoring.population.buyers import NONE
from scoring.population.shown import TIMES
from scoring.population.tree import Leaf
from scoring.words.figures import MINUS, about, figure, number

NOBODY = "none within limits"


def machine_in_words(population, k):
    """Return a machine's name, or that none is within limits."""
    return NOBODY if k == NONE else population.names[k]


def per_cent(share):
    """Return a share in whole per cent; – where there is none."""
    return figure(float(share), "share")


def value_in_words(differs, value, is_us=False):
    """Return what a buyer has of a difference."""
    if differs.choices:
        return differs.choices[int(value)]
    if differs.unit == "times":
        return f"{number(value, 2)} ×"
    return about(value, differs.unit, is_us)


def middle_in_words(differs, middle, is_us=False):
    """Return the middle of some buyers: of choices how many have the first."""
    if math.isnan(middle):
        return "–"
    if differs.choices:
        return f"{per_cent(middle)} {differs.choices[0]}"
    return value_in_words(differs, middle, is_us)


def band_in_words(differs, band, is_us=False):
    """Return a stretch of a figure, or a choice."""
    if band.choice:
        return band.choice
    low, high = (value_in_words(differs, x, is_us) for x in (band.low, band.high))
    first, _, unit = low.rpartition(" ")
    return f"{first if high.endswith(f' {unit}') else low}–{high}"


def head_in_words(shown):
    """Return how many buyers, and at which price."""
    population = shown.population
    n_done, n_asked = len(population), population.n_asked
    said = f"{number(n_done)} buyers, {number(population.n_draws)} draws each"
    if n_done < n_asked:
        said += f"; {number(n_asked - n_done)} more are not worked out yet"
    said += "."
    if shown.machine is not None:
        name = population.names[shown.machine]
        said += f" {name} at {price_in_words(population, shown.machine, shown.times)}."
    return said


def price_in_words(population, k, times):
    """Return so many times a machine's price; in per cent where none is told."""
    price, currency = population.prices[k]
    if price is None:
        return f"{per_cent(times)} of what is reckoned as its price"
    return about(times * price, currency)


def leaders_in_words(shown):
    """Return for whom which machine is best, in a sentence or two."""
    population, first = shown.population, shown.for_whom[0]
    name = population.names[first.machine]
    said = f"{name} is best for {per_cent(first.share)} of them"
    others = [
        f"{population.names[each.machine]} for {per_cent(each.share)}"
        for each in shown.for_whom[1:]
        if each.share >= 0.005
    ]
    if others:
        said += f", {', '.join(others)}"
    if shown.none >= 0.005:
        said += f"; for {per_cent(shown.none)} no machine is within their limits"
    return f"{said}."


def tree_in_words(shown, is_us=False):
    """Return the lines of the tree, deeper ones indented by two spaces each."""
    return list(_lines(shown.population, shown.advice.root, 0, is_us))


def _lines(population, node, depth, is_us):
    if isinstance(node, Leaf):
        yield "  " * depth + leaf_in_words(population, node)
        return
    differs = population.differs[node.differs]
    if node.choice is None:
        at = value_in_words(differs, node.threshold, is_us)
        yes, no = f"{differs.name} below {at}", f"{differs.name} {at} or more"
    else:
        yes = f"{differs.name}: {differs.choices[node.choice]}"
        others = [c for k, c in enumerate(differs.choices) if k != node.choice]
        no = f"{differs.name}: {' or '.join(others)}"
    for said, branch in ((yes, node.yes), (no, node.no)):
        if isinstance(branch, Leaf):
            yield f"{'  ' * depth}{said} → {leaf_in_words(population, branch)}"
        else:
            yield f"{'  ' * depth}{said}"
            yield from _lines(population, branch, depth + 1, is_us)


def leaf_in_words(population, leaf):
    """Return what is named at the end of the questions, and how often it is best."""
    name = machine_in_words(population, leaf.machine)
    if not leaf.n_buyers:
        return f"{name} (nobody new came here)"
    return f"{name} (right for {per_cent(leaf.share)} of {number(leaf.n_buyers)})"


def advice_in_words(shown):
    """Return how the tree does with buyers that it has not seen."""
    told, population = shown.advice, shown.population
    common = machine_in_words(population, told.commonest)
    said = (
        f"Of {number(told.n_unseen)} buyers that these questions have not seen, they "
        f"name the best machine to {per_cent(told.hit)}; naming {common} to all would "
        f"to {per_cent(told.commonest_hit)}."
    )
    if math.isfinite(told.lost):
        currency = population.currency
        said += (
            f" Following them costs {about(told.lost, currency)} a year on average, "
            f"against the best for each; naming {common} to all "
            f"{about(told.commonest_lost, currency)}."
        )
    if told.out > 0:
        said += (
            f" To {per_cent(told.out)} they name a machine that the buyer's limits "
            "rule out."
        )
    return said


def times_in_words():
    """Return the prices at which shares are told, by how much they are another."""
    changes = [number(100 * (times - 1)) for times in TIMES]
    return [
        "as told"
        if change == "0"
        else f"{change if change[0] == MINUS else f'+{change}'} %"
        for change in changes
    ]


MAP = (
    "In each cell the machine that is best for most, for how many of them, and what it "
    "costs a year on average if all of them buy it."
)
COST = (
    "What a choice costs: points less than the best machine's, at what a point of the "
    "year's money is worth to that buyer. A machine that limits rule out has no points."
)
