"""Many buyers as pictures: who is best where, and at which price."""

import numpy as np

from scoring.charts.base import GREY, colours, encoded, legend_below, whole_spec
from scoring.population.buyers import share_by_price
from scoring.words.population import (
    NOBODY,
    band_in_words,
    machine_in_words,
    per_cent,
)

STEPS = np.linspace(0.5, 1.5, 41)  # times the price told
DARK = "#444444"  # where nobody is best: no machine has it
LEAST = 0.005  # share of buyers below which a machine has no line
CELL_COLUMNS = ("across", "up", "column", "row", "best", "share", "buyers", "costs")


def cell_rows(shown, is_us=False):
    """Return a data frame with a row for each cell of the map."""
    import pandas as pd

    from scoring.words.figures import about

    population, drawn = shown.population, shown.crowd_map
    sides = [population.difference(name) for name in (drawn.across, drawn.up)]
    rows = []
    for cell in drawn.cells:
        if cell.machine is None:
            continue
        across = band_in_words(sides[0], drawn.columns[cell.across], is_us)
        up = band_in_words(sides[1], drawn.rows[cell.up], is_us)
        name = machine_in_words(population, cell.machine)
        costs = about(cell.lost, population.currency)
        of = across, up, cell.across, cell.up, name, per_cent(cell.share)
        rows.append((*of, cell.n_buyers, costs))
    return pd.DataFrame(rows, columns=CELL_COLUMNS)


def cell_spec(shown):
    """Return the spec of the map, without data: a colour and a share in each cell."""
    drawn = shown.crowd_map
    places = sorted({c.machine for c in drawn.cells if c.machine is not None})
    every = {**colours(shown.population.names), NOBODY: DARK}
    names = [machine_in_words(shown.population, k) for k in places]
    every = {name: every[name] for name in names}
    x = encoded(
        "across", "ordinal", title=drawn.across, sort={"field": "column", "op": "min"}
    )
    x["axis"] = {"labelAngle": 0, "labelLimit": 150}
    y = encoded("up", "ordinal", title=drawn.up)
    y["sort"] = {"field": "row", "op": "min", "order": "descending"}
    scale = {"domain": list(every), "range": list(every.values())}
    legend = legend_below(columns=2, symbolType="square")
    told = [
        encoded("best", "nominal", title="best"),
        encoded("share", "nominal", title="for"),
        encoded("buyers", title="buyers here"),
        encoded("costs", "nominal", title="costs a year if all buy it"),
    ]
    cells = {
        "mark": {"type": "rect", "stroke": "white", "strokeWidth": 1},
        "encoding": {
            "x": x,
            "y": y,
            "color": encoded("best", "nominal", title=None, scale=scale, legend=legend),
            "tooltip": told,
        },
    }
    shares = {
        "mark": {"type": "text", "color": "white", "fontSize": 13},
        "encoding": {"x": x, "y": y, "text": encoded("share", "nominal")},
    }
    return whole_spec([cells, shares])


def price_rows(shown):
    """Return a data frame of the share for whom each machine is best, by its price."""
    import pandas as pd

    population, rows = shown.population, []
    for k, name in enumerate(population.names):
        shares = share_by_price(population, k, STEPS)
        if shares.max() >= LEAST:
            pairs = zip(STEPS.tolist(), shares.tolist(), strict=True)
            rows += [(name, 100 * (times - 1), share) for times, share in pairs]
    return pd.DataFrame(rows, columns=("machine", "change", "share"))


def price_spec(shown, names):
    """Return the spec of the lines of some machines by price, without data."""
    every = {k: v for k, v in colours(shown.population.names).items() if k in names}
    scale = {"domain": list(every), "range": list(every.values())}
    x = encoded("change", title="its price against the one told, %")
    y = encoded("share", title="best for", axis={"format": "%"})
    told = [
        encoded("machine", "nominal"),
        encoded("change", title="price, %", format="+.0f"),
        encoded("share", title="best for", format=".0%"),
    ]
    lines = {
        "mark": {"type": "line", "strokeWidth": 2.5},
        "encoding": {
            "x": x,
            "y": y,
            "color": encoded(
                "machine",
                "nominal",
                title=None,
                scale=scale,
                legend=legend_below(columns=2),
            ),
            "tooltip": told,
        },
    }
    now = {
        "mark": {"type": "rule", "aria": False, "strokeDash": [4, 4], "color": GREY},
        "encoding": {"x": {"datum": 0}},
    }
    return whole_spec([lines, now], height=360)
