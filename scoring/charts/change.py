"""What a change of rigs is worth by the work there is."""

from scoring.charts.base import INK, MONEY_AXIS, SCHEMA, encoded
from scoring.charts.cash import ADDED
from scoring.words.figures import about


def change_rows(found, even):
    """Return a row for each multiple of today's work: what a change is then worth."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    today = float(found.evaluation.figures.jobs.per_month.sum())
    rows = [
        (at * today, npv, today, about(npv, currency), about(added, currency))
        for at, npv, added in zip(
            even.multiples.tolist(), even.npv.tolist(), even.added.tolist(), strict=True
        )
    ]
    columns = ["jobs", "npv", "today", "said", "added"]
    return pd.DataFrame(rows, columns=columns)


def change_spec(currency):
    """Return the spec of a change's worth by the work there is."""
    axis, title = {"format": "~g", "tickCount": 8}, f"present value, {currency}"
    x = encoded("jobs", title="jobs a month, all kinds", axis=axis)
    tip = [
        encoded("jobs", format=".1f", title="jobs a month"),
        encoded("said", "nominal", title="present value"),
        encoded("added", "nominal", title="added in a year"),
    ]
    zero = {
        "mark": {"type": "rule", "aria": False, "color": INK, "strokeDash": [4, 4]},
        "encoding": {"y": {"datum": 0}},
    }
    now = {
        "mark": {"type": "rule", "aria": False, "color": INK, "strokeDash": [1, 4]},
        "encoding": {"x": encoded("today", aggregate="max")},
    }
    line = {
        "mark": {"type": "line", "strokeWidth": 2, "point": True, "color": ADDED},
        "encoding": {
            "x": x,
            "y": encoded("npv", title=title, axis=MONEY_AXIS),
            "tooltip": tip,
        },
    }
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": 260,
        "layer": [zero, now, line],
    }
