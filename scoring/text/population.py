"""Many buyers as text, and rows."""

import math
from textwrap import fill

from scoring.population.buyers import NONE
from scoring.text.layout import WIDTH, cautions_text, columns
from scoring.words.figures import about
from scoring.words.population import (
    COST,
    MAP,
    NOBODY,
    advice_in_words,
    band_in_words,
    head_in_words,
    leaders_in_words,
    machine_in_words,
    middle_in_words,
    per_cent,
    times_in_words,
    tree_in_words,
)

LEAST = 0.005  # share of buyers for whom a machine has a column of its own


def population_text(shown):
    """Return what is Shown as text."""
    population = shown.population
    said = [fill(head_in_words(shown), WIDTH), fill(leaders_in_words(shown), WIDTH)]
    parts = [population.title, "\n".join(said), machines_text(shown)]
    parts += [who_text(shown), map_text(shown)]
    lines = "\n".join(tree_in_words(shown))
    parts.append(f"Which machine, in a few questions:\n{lines}")
    parts.append(fill(advice_in_words(shown), WIDTH))
    parts += [fill(COST, WIDTH), cautions_text(("money",))]
    return "\n\n".join(parts)


def machines_text(shown):
    """Return a row for each machine: for how many, at which price, what it costs."""
    population, currency = shown.population, shown.population.currency
    head = ["best for", *times_in_words(), "costs all", "ruled out for"]
    rows = [
        [
            population.names[each.machine],
            *map(per_cent, each.by_price),
            about(each.lost, currency),
            per_cent(each.out),
        ]
        for each in shown.for_whom
    ]
    below = (
        "For how many it is best, at the price told and at others of its own; what it "
        "costs a year on average if all buy it; for how many limits rule it out."
    )
    return f"{columns([head, *rows], '<')}\n{fill(below, WIDTH)}"


def who_text(shown):
    """Return the middle buyer of each machine that is best for some."""
    population = shown.population
    best = [each for each in shown.for_whom if each.share >= LEAST]
    head = ["", *(population.names[each.machine] for each in best), "all"]
    rows = [
        [
            differs.name,
            *(middle_in_words(differs, each.middles[k]) for each in best),
            middle_in_words(differs, shown.middles[k]),
        ]
        for k, differs in enumerate(population.differs)
    ]
    return f"The middle buyer of each:\n{columns([head, *rows], '<')}"


def map_text(shown):
    """Return the map, the largest of what goes up first."""
    population, drawn = shown.population, shown.crowd_map
    sides = [population.difference(name) for name in (drawn.across, drawn.up)]
    places = {(cell.up, cell.across): cell for cell in drawn.cells}
    head = [
        f"{drawn.up} ↑ {drawn.across} →",
        *(band_in_words(sides[0], band) for band in drawn.columns),
    ]
    rows = [
        [
            band_in_words(sides[1], band),
            *(
                cell_text(population, places[row, column])
                for column in range(len(drawn.columns))
            ),
        ]
        for row, band in reversed(list(enumerate(drawn.rows)))
    ]
    return f"{columns([head, *rows], '<')}\n{fill(MAP, WIDTH)}"


def cell_text(population, cell):
    """Return a cell: the machine's first word, for how many, at which cost."""
    if cell.machine is None:
        return "too few"
    name = NOBODY.split()[0]
    if cell.machine != NONE:
        name = population.names[cell.machine].split()[0]
    said = f"{name} {per_cent(cell.share)}"
    if math.isfinite(cell.lost):
        said += f" {about(cell.lost, '')}"
    return said


def population_rows(shown):
    """Return the map's cells as rows, with a head."""
    population, drawn = shown.population, shown.crowd_map
    head = [drawn.across, "to", drawn.up, "to", "buyers", "best", "share", "costs"]
    sides = [population.difference(name) for name in (drawn.across, drawn.up)]
    rows = []
    for cell in drawn.cells:
        bands = drawn.columns[cell.across], drawn.rows[cell.up]
        ends = [
            end
            for side, band in zip(sides, bands, strict=True)
            for end in ([band.choice] * 2 if side.choices else [band.low, band.high])
        ]
        name = (
            "" if cell.machine is None else machine_in_words(population, cell.machine)
        )
        told = (None if math.isnan(x) else x for x in (cell.share, cell.lost))
        rows.append([*ends, cell.n_buyers, name, *told])
    return [head, *rows]
