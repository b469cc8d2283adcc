"""Cash by the month, a line a machine."""

from scoring.charts.base import INK, MONEY_AXIS, PALETTE, SCHEMA, encoded
from scoring.model.months.worth import payback_month
from scoring.words.figures import about

CURVE = ["machine", "month", "cash", "is_back", "said"]
ADDED, TAKEN, TOTAL = PALETTE[0], PALETTE[5], INK


def curve_rows(found, names):
    """Return a row for each machine and month: the cash so far, and payback."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    rows = []
    for name in names:
        k = found.evaluation.index(name)
        back = found.worth.payback_month[0, k]
        for month, cash in enumerate(found.worth.curve[0, k]):
            said = about(float(cash), currency)
            rows.append((name, month, float(cash), bool(month == back), said))
    return pd.DataFrame(rows, columns=CURVE)


def change_curve_rows(found, choice):
    """Return a row for each month of a change: its cash so far, and payback."""
    import pandas as pd

    currency = found.evaluation.brief.currency
    so_far = choice.flows.cumsum()
    back = float(payback_month(choice.flows))
    rows = [
        (choice.name, month, cash, month == back, about(cash, currency))
        for month, cash in enumerate(so_far.tolist())
    ]
    return pd.DataFrame(rows, columns=CURVE)


def curve_spec(currency, is_single=False):
    """Return the spec of the cash curves: a line a machine, a diamond at payback."""
    legend = {"orient": "bottom", "columns": 2, "labelLimit": 150}
    x = encoded("month", title="months after signing", axis={"format": "d"})
    y = encoded("cash", title=f"cash so far, {currency}", axis=MONEY_AXIS)
    colour = encoded(
        "machine",
        "nominal",
        title=None,
        sort=None,  # the one that is asked about first
        scale={"range": list(PALETTE[:8])},
        legend=None if is_single else legend,
    )
    tip = [
        encoded("machine", "nominal"),
        encoded("month"),
        encoded("said", "nominal", title="cash so far"),
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
        end = about(float(found.worth.curve[0, k, -1]), found.evaluation.brief.currency)
        said.append(f"{name}: earned back {when}; at the end {end}.")
    return said
