"""Cash by the month, a line a machine."""

from scoring.charts.base import INK, MONEY_AXIS, PALETTE, SCHEMA, colours, encoded
from scoring.model.months.worth import payback_month
from scoring.words.figures import about

CURVE = ["machine", "month", "cash", "is_back", "said"]
ADDED, TAKEN, TOTAL = PALETTE[0], PALETTE[5], INK
LEGEND = {"orient": "bottom", "columns": 2, "labelLimit": 150}
# What may go wrong, in words and as the dashes of a line.
CASES = {
    "as_told": ("as it stands", [1, 0]),
    "half_work": ("half the work", [7, 4]),
    "all": ("half the work, delivered and paid late", [2, 3]),
}


def curve_rows(found, names):
    """Return a row for each machine and month: the cash so far, and payback."""
    import pandas as pd

    index = found.evaluation.index
    rows = [row for name in names for row in _rows(found, index(name), name)]
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


def curve_spec(currency, names=(), shown=(), is_single=False):
    """Return the spec of the cash curves: a line a machine, a diamond at payback.

    `names` are all machines, each of which keeps its colour; `shown` those with a line.
    """
    colour = {"value": PALETTE[0]}
    if not is_single:
        colour = encoded(
            "machine",
            "nominal",
            title=None,
            scale={"domain": list(names), "range": [*colours(names).values()]},
            legend={**LEGEND, "values": list(shown)},
        )
    return _curves(currency, "machine", {"color": colour}, height=320)


def case_rows(found_by_case, k):
    """Return a row for each month of machine k in each of CASES that can be told.

    `found_by_case` is {case: Years or None}.
    """
    import pandas as pd

    rows = []
    for case, (words, _) in CASES.items():
        found = found_by_case.get(case)
        if found is not None:
            rows += _rows(found, k, words)
    return pd.DataFrame(rows, columns=["case", *CURVE[1:]])


def case_spec(currency, colour):
    """Return the spec of one machine's cash, a dash for each of CASES."""
    words, dashes = zip(*CASES.values(), strict=True)
    dash = encoded(
        "case",
        "nominal",
        title=None,
        scale={"domain": list(words), "range": list(dashes)},
        legend={"orient": "bottom", "columns": 1, "labelLimit": 300},
    )
    looks = {"strokeDash": dash, "color": {"value": colour}}
    return _curves(currency, "case", looks, height=340)


def cases_in_words(found_by_case, k):
    """Return what the lines of the cases show, a sentence each."""
    return [
        f"{words.capitalize()}: {_said(found_by_case[case], k)}"
        for case, (words, _) in CASES.items()
        if found_by_case.get(case) is not None
    ]


def _curves(currency, of, looks, height):
    """Return the spec of lines of cash over months, with a line at nothing."""
    x = encoded("month", title="months after signing", axis={"format": "d"})
    y = encoded("cash", title=f"cash so far, {currency}", axis=MONEY_AXIS)
    tip = [
        encoded(of, "nominal"),
        encoded("month"),
        encoded("said", "nominal", title="cash so far"),
    ]
    place = {"x": x, "y": y, "tooltip": tip, "detail": encoded(of, "nominal")}
    zero = {
        "mark": {"type": "rule", "aria": False, "color": INK, "strokeDash": [4, 4]},
        "encoding": {"y": {"datum": 0}},
    }
    lines = {
        "mark": {"type": "line", "strokeWidth": 2},
        "encoding": {**place, **looks},
    }
    marks = {
        "transform": [{"filter": "datum.is_back"}],
        "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 120},
        "encoding": {**place, "color": looks["color"]},
    }
    return {
        "$schema": SCHEMA,
        "width": "container",
        "height": height,
        "layer": [zero, lines, marks],
    }


def curves_in_words(found, names):
    """Return what the curves show, a sentence for each machine."""
    index = found.evaluation.index
    return [f"{name}: {_said(found, index(name))}" for name in names]


def _said(found, k):
    back = found.worth.payback_month[0, k]
    when = "never within these years"
    if back == back and back != float("inf"):
        when = f"in month {int(back)}"
    end = about(float(found.worth.curve[0, k, -1]), found.evaluation.brief.currency)
    return f"earned back {when}; at the end {end}."


def _rows(found, k, name):
    """Return a row for each month of a line."""
    currency, back = found.evaluation.brief.currency, found.worth.payback_month[0, k]
    return [
        (name, month, float(cash), bool(month == back), about(float(cash), currency))
        for month, cash in enumerate(found.worth.curve[0, k])
    ]
