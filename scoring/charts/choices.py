"""What each choice of rigs leaves a year, as a bar of its range."""

from scoring.charts.base import (
    INK,
    MONEY_AXIS,
    PALETTE,
    bars_named,
    encoded,
    whole_spec,
)
from scoring.charts.cash import ADDED
from scoring.words.fleet import spread_rows


def choice_rows(found, spread):
    """Return a row for each choice: P10, mean and P90, what leaves most first."""
    import pandas as pd

    said = spread_rows(found, spread)
    by_name = {choice.name: c for c, choice in enumerate(found.choices)}
    rows = []
    for place, (name, expected, between, often) in enumerate(said):
        c = by_name[name]
        low, _, high = spread.percentiles[c].tolist()
        line = f"{name} · best in {often}"
        rows.append((line, place, low, float(spread.mean[c]), high, expected, between))
    columns = ["choice", "place", "low", "mean", "high", "expected", "between"]
    return pd.DataFrame(rows, columns=columns)


def choices_spec(currency):
    """Return the spec: a bar from P10 to P90 with its name above it, a dot in it."""
    title, y = f"{currency} left in a year", bars_named("choice")
    tip = [
        encoded("choice", "nominal"),
        encoded("expected", "nominal", title="to expect"),
        encoded("between", "nominal", title="8 of 10 draws"),
    ]
    x = encoded("low", title=title, axis={**MONEY_AXIS, "tickCount": 6})
    bar = {
        "mark": {"type": "bar", "size": 10, "color": PALETTE[4], "yOffset": 8},
        "encoding": {"y": y, "x": x, "x2": {"field": "high"}, "tooltip": tip},
    }
    dot = {
        "mark": {"type": "point", "filled": True, "size": 80, "yOffset": 8},
        "encoding": {"y": y, "x": encoded("mean", title=title), "tooltip": tip},
    }
    dot["mark"]["color"] = ADDED
    nothing = {
        "mark": {"type": "rule", "color": INK, "strokeDash": [4, 4]},
        "encoding": {"x": {"datum": 0}},
    }
    return whole_spec([nothing, bar, dot])
