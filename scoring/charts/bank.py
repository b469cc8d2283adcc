"""The charts of the case for the bank: own cash, and the loan against a forced sale."""

from scoring.charts.base import (
    BLUE,
    INK,
    MONEY_AXIS,
    ORANGE,
    SCHEMA,
    VERMILION,
    encoded,
)

FONT = "Helvetica Neue, Arial, Liberation Sans, DejaVu Sans, sans-serif"
LOOKS = {"font": FONT, "background": "white", "view": {"stroke": "#bbbbbb"}}


def cash_rows(case):
    """Return a row a month: own cash as expected, with all stresses told apart."""
    return [
        {"month": month, "money": money, "line": "own cash"}
        for month, money in enumerate(case.closing.tolist())
    ]


def cover_rows(case):
    """Return two rows a month: what is owed, and what a forced sale would fetch."""
    told = (
        ("still owed", case.months.balance),
        ("forced sale", case.months.forced_sale),
    )
    return [
        {"month": month, "money": money, "line": name}
        for name, line in told
        for month, money in enumerate(line.tolist())
    ]


def cash_spec(case):
    """Return the spec of own cash by the month, whole, with its rows in it."""
    return _lines(case, cash_rows(case), "own cash", {"own cash": BLUE})


def cover_spec(case):
    """Return the spec of the loan against a forced sale, whole."""
    colours = {"still owed": VERMILION, "forced sale": ORANGE}
    return _lines(case, cover_rows(case), "money", colours)


def _lines(case, rows, title, colours):
    currency = case.whole.brief.currency
    scale = {"domain": list(colours), "range": list(colours.values())}
    legend = {"orient": "bottom", "title": None} if len(colours) > 1 else None
    zero = {
        "mark": {"type": "rule", "aria": False, "color": INK, "strokeDash": [4, 4]},
        "encoding": {"y": {"datum": 0}},
    }
    lines = {
        "mark": {"type": "line", "strokeWidth": 2, "interpolate": "step-after"},
        "encoding": {
            "x": encoded("month", title="months after signing", axis={"format": "d"}),
            "y": encoded("money", title=f"{title}, {currency}", axis=MONEY_AXIS),
            "color": encoded("line", "nominal", scale=scale, legend=legend),
        },
    }
    return {
        "$schema": SCHEMA,
        "config": LOOKS,
        "width": 290,
        "height": 130,
        "data": {"values": rows},
        "layer": [zero, lines],
    }
