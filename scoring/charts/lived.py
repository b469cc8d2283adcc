"""Predicted against lived: a range for each figure, and a mark for what came."""

from scoring.charts.base import BLUE, INK, SCHEMA, SKY, VERMILION, encoded, legend_below
from scoring.words.lived import INSIDE, OUTSIDE, name_of

COLUMNS = ("what", "place", "low", "high", "middle", "lived", "standing")
X = {
    "title": "as a share of the middle that was predicted",
    "scale": {"zero": False, "nice": True},
    "axis": {"format": ".0%", "tickCount": 6},
}
MOST = 3.0  # times the middle; beyond it a mark stands at the edge


def lived_rows_data(found):
    """Return [{column: value}], a row a figure, each as a share of its middle."""
    rows = []
    for place, one in enumerate(found.figures):
        if not one.p50 > 0:
            continue  # no share of nothing
        standing = INSIDE if one.is_inside else OUTSIDE
        shares = [x / one.p50 for x in (one.p10, one.p90, one.p50, one.lived)]
        shares = [min(share, MOST) for share in shares]
        row = (name_of(one), place, *shares, standing)
        rows.append(dict(zip(COLUMNS, row, strict=True)))
    return rows


def lived_spec(found):
    """Return the spec of a prediction and what came of it, with its data."""
    y = encoded(
        "what",
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        axis={"labelLimit": 260},
    )
    colour = encoded(
        "standing",
        "nominal",
        scale={"domain": [INSIDE, OUTSIDE], "range": [BLUE, VERMILION]},
        title=None,
        legend=legend_below(),
    )
    shape = encoded(
        "standing",
        "nominal",
        scale={"domain": [INSIDE, OUTSIDE], "range": ["circle", "diamond"]},
        title=None,
        legend=legend_below(),
    )
    tips = [
        encoded("what", "nominal"),
        encoded("lived", title="lived", format=".0%"),
        encoded("low", title="8 of 10 from", format=".0%"),
        encoded("high", title="to", format=".0%"),
    ]
    layers = [
        {
            "mark": {"type": "bar", "size": 10, "color": SKY, "opacity": 0.6},
            "encoding": {"x": encoded("low", **X), "x2": {"field": "high"}, "y": y},
        },
        {
            "mark": {"type": "tick", "size": 18, "thickness": 2, "color": INK},
            "encoding": {"x": encoded("middle", **X), "y": y},
        },
        {
            "mark": {"type": "point", "filled": True, "size": 90, "opacity": 1}
            | {"stroke": INK, "strokeWidth": 0.6},
            "encoding": {
                "x": encoded("lived", **X),
                "y": y,
                "color": colour,
                "shape": shape,
                "tooltip": tips,
            },
        },
    ]
    return {
        "$schema": SCHEMA,
        "data": {"values": lived_rows_data(found)},
        "layer": layers,
        "width": 520,
        "height": {"step": 24},
    }
