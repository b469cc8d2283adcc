"""Years and choices → charts of money: specs written out, and the rows they draw."""

from scoring.charts import INK, PALETTE
from scoring.model.months.worth import payback_month
from scoring.words.figures import figure

SCHEMA = "https://vega.github.io/schema/vega-lite/v6.4.1.json"
CURVE = ["machine", "month", "cash", "is_back", "said"]
UP, DOWN, SUM = PALETTE[0], PALETTE[5], INK


def _field(name, kind="quantitative", **more):
    return {"field": name, "type": kind, **more}


def curve_rows(found, names):
    """Return a row for each machine and month: the cash so far, and payback."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    rows = []
    for name in names:
        k = found.evaluation.index(name)
        back = found.worth.payback_month[0, k]
        for month, cash in enumerate(found.worth.curve[0, k]):
            said = figure(float(cash), currency)
            rows.append((name, month, float(cash), bool(month == back), said))
    return pd.DataFrame(rows, columns=CURVE)


def change_curve_rows(found, choice):
    """Return a row for each month of a change: its cash so far, and payback."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    so_far = choice.flows.cumsum()
    back = float(payback_month(choice.flows))
    rows = [
        (choice.name, month, cash, month == back, figure(cash, currency))
        for month, cash in enumerate(so_far.tolist())
    ]
    return pd.DataFrame(rows, columns=CURVE)


def curve_spec(currency, is_single=False):
    """Return the spec of the cash curves: a line a machine, a diamond at payback."""
    legend = {"orient": "bottom", "columns": 2, "labelLimit": 150}
    x = _field("month", title="months after signing", axis={"format": "d"})
    y = _field("cash", title=f"cash so far, {currency}", axis={"format": "~s"})
    colour = _field(
        "machine",
        "nominal",
        title=None,
        sort=None,  # the one that is asked about first
        scale={"range": list(PALETTE[:8])},
        legend=None if is_single else legend,
    )
    tip = [
        _field("machine", "nominal"),
        _field("month"),
        _field("said", "nominal", title="cash so far"),
    ]
    zero = {
        "mark": {"type": "rule", "color": INK, "strokeDash": [4, 4]},
        "encoding": {"y": {"datum": 0}},
    }
    lines = {
        "mark": {"type": "line", "strokeWidth": 2},
        "encoding": {"x": x, "y": y, "color": colour, "tooltip": tip},
    }
    marks = {
        "transform": [{"filter": "datum.is_back"}],
        "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 120},
        "encoding": {"x": x, "y": y, "color": colour, "tooltip": tip},
    }
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": 320,
        "layer": [zero, lines, marks],
    }


def curves_in_words(found, names):
    """Return what the curves show, a sentence for each machine."""
    said = []
    for name in names:
        k = found.evaluation.index(name)
        back = found.worth.payback_month[0, k]
        when = "never within these years"
        if back == back and back != float("inf"):
            when = f"in month {int(back)}"
        end = figure(
            float(found.worth.curve[0, k, -1]), found.evaluation.brief.currency
        )
        said.append(f"{name}: earned back {when}; at the end {end}.")
    return said


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
    y = _field(
        "what",
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        axis={"labelLimit": 150, "domain": False, "ticks": False},
    )
    colour = _field(
        "kind",
        "nominal",
        title=None,
        scale={"domain": ["adds", "takes", "sum"], "range": [UP, DOWN, SUM]},
        legend=None,
    )
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": {"step": 24},
        "mark": {"type": "bar", "size": 14},
        "encoding": {
            "y": y,
            "x": _field("from", title=None, axis={"format": "~s"}),
            "x2": {"field": "to"},
            "color": colour,
            "tooltip": [
                _field("what", "nominal", title="line"),
                _field("said", "nominal", title="amount"),
            ],
        },
    }


def year_rows(evaluation, chance, names):
    """Return a row for each machine: low, middle and high of its simulated years."""
    import pandas as pd

    rows = []
    for place, name in enumerate(names):
        low, middle, high = map(float, chance.results[:, evaluation.index(name)])
        said = " to ".join(
            figure(x, evaluation.brief.currency) for x in (low, middle, high)
        )
        rows.append((name, place, low, middle, high, said))
    columns = ["machine", "place", "low", "middle", "high", "said"]
    return pd.DataFrame(rows, columns=columns)


def years_spec(currency):
    """Return the spec of the years' spread: a bar from P10 to P90, a dot at P50."""
    y = _field(
        "machine",
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        axis={"labelLimit": 150, "domain": False, "ticks": False},
    )
    tip = [_field("machine", "nominal"), _field("said", "nominal", title="P10, 50, 90")]
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
                    "x": _field("low", title=title, axis={"format": "~s"}),
                    "x2": {"field": "high"},
                },
            },
            {
                "mark": {"type": "point", "filled": True, "size": 80, "color": UP},
                "encoding": {"x": _field("middle", title=title)},
            },
        ],
    }


def change_rows(found, even):
    """Return a row for each multiple of today's work: what a change is then worth."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    today = float(found.evaluation.figures[1].per_month.sum())
    rows = [
        (at * today, npv, today, figure(npv, currency), figure(added, currency))
        for at, npv, added in zip(
            even.multiples.tolist(), even.npv.tolist(), even.added.tolist(), strict=True
        )
    ]
    columns = ["jobs", "npv", "today", "said", "added"]
    return pd.DataFrame(rows, columns=columns)


def change_spec(currency):
    """Return the spec of a change's worth by the work there is."""
    axis, title = {"format": "~g", "tickCount": 8}, f"present value, {currency}"
    x = _field("jobs", title="jobs a month, all kinds", axis=axis)
    tip = [
        _field("jobs", format=".1f", title="jobs a month"),
        _field("said", "nominal", title="present value"),
        _field("added", "nominal", title="added in a year"),
    ]
    zero = {
        "mark": {"type": "rule", "color": INK, "strokeDash": [4, 4]},
        "encoding": {"y": {"datum": 0}},
    }
    now = {
        "mark": {"type": "rule", "color": INK, "strokeDash": [1, 4]},
        "encoding": {"x": _field("today", aggregate="max")},
    }
    line = {
        "mark": {"type": "line", "strokeWidth": 2, "point": True, "color": UP},
        "encoding": {
            "x": x,
            "y": _field("npv", title=title, axis={"format": "~s"}),
            "tooltip": tip,
        },
    }
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": 260,
        "layer": [zero, now, line],
    }
