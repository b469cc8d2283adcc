"""Good and bad years."""

from scoring.charts.base import MONEY_AXIS, PALETTE, SCHEMA, encoded
from scoring.charts.cash import ADDED
from scoring.words.figures import about


def year_rows(evaluation, chance, names):
    """Return a row for each machine: low, middle and high of its simulated years."""
    import pandas as pd

    rows = []
    for place, name in enumerate(names):
        low, middle, high = map(float, chance.results[:, evaluation.index(name)])
        said = " to ".join(
            about(x, evaluation.brief.currency) for x in (low, middle, high)
        )
        rows.append((name, place, low, middle, high, said))
    columns = ["machine", "place", "low", "middle", "high", "said"]
    return pd.DataFrame(rows, columns=columns)


def years_spec(currency):
    """Return the spec of the years' spread: a bar from P10 to P90, a dot at P50."""
    y = encoded(
        "machine",
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        axis={"labelLimit": 150, "domain": False, "ticks": False},
    )
    tip = [
        encoded("machine", "nominal"),
        encoded("said", "nominal", title="P10, 50, 90"),
    ]
    title = f"{currency} left in a year"
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": {"step": 30},
        "encoding": {"y": y, "tooltip": tip},
        "layer": [
            {
                "mark": {"type": "bar", "size": 10, "color": PALETTE[4]},
                "encoding": {
                    "x": encoded("low", title=title, axis=MONEY_AXIS),
                    "x2": {"field": "high"},
                },
            },
            {
                "mark": {"type": "point", "filled": True, "size": 80, "color": ADDED},
                "encoding": {"x": encoded("middle", title=title)},
            },
        ],
    }
