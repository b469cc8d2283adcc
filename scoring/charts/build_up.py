"""A sum from its lines, a bar a line."""

from scoring.charts.base import MONEY_AXIS, SCHEMA, encoded
from scoring.charts.cash import ADDED, TAKEN, TOTAL
from scoring.words.figures import figure


def build_up_rows(lines, total, currency):
    """Return the steps of a build-up: each line from where the last one ended.

    `lines` are (name, amount) pairs, `total` the name of their sum.
    """
    import pandas as pd

    rows, at = [], 0.0
    for place, (name, amount) in enumerate(lines):
        kind = "adds" if amount >= 0 else "takes"
        rows.append((name, place, at, at + amount, kind, figure(amount, currency)))
        at += amount
    rows.append((total, len(rows), 0.0, at, "sum", figure(at, currency)))
    columns = ["what", "place", "from", "to", "kind", "said"]
    return pd.DataFrame(rows, columns=columns)


def build_up_spec():
    """Return the spec of a build-up: a bar a line, the sum from zero."""
    y = encoded(
        "what",
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        axis={"labelLimit": 150, "domain": False, "ticks": False},
    )
    colour = encoded(
        "kind",
        "nominal",
        title=None,
        scale={"domain": ["adds", "takes", "sum"], "range": [ADDED, TAKEN, TOTAL]},
        legend=None,
    )
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": {"step": 24},
        "mark": {"type": "bar", "size": 14},
        "encoding": {
            "y": y,
            "x": encoded("from", title=None, axis=MONEY_AXIS),
            "x2": {"field": "to"},
            "color": colour,
            "tooltip": [
                encoded("what", "nominal", title="line"),
                encoded("said", "nominal", title="amount"),
            ],
        },
    }
