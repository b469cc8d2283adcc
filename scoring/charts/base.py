"""What all charts share: colours, encodings, whole specs."""

# Okabe & Ito's palette for all kinds of colour vision, grey in place of its black,
# which a dark page would hide; criteria beyond the seventh are greys.
PALETTE = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00", "#F0E442")
PALETTE += ("#999999", "#C8C8C8", "#606060", "#E4E4E4", "#444444")
# What a whole is made of: shades of one colour, dark beside light, then greys, so that
# no part looks like a machine.
SHADES = ("#0B4F7A", "#7FB3D5", "#2B7BB9", "#C3DDEE", "#15638F", "#5B9CC9")
SHADES += ("#555555", "#B5B5B5", "#7A7A7A", "#D6D6D6", "#333333", "#9A9A9A")
# Machines: the same, with a yellow and greys that are seen as lines on white and black.
MACHINES = (
    *PALETTE[:6],
    "#A89600",
    "#8C8C8C",
    "#6A3D9A",
    "#B15928",
    "#7A7A52",
    "#5F5F5F",
)
INK = "#808080"  # readable on white and on the dark ground alike
# The name stands above the bar, so that a telephone's width is left to the bar.
NAME_ABOVE = {
    "domain": False,
    "ticks": False,
    "labelAlign": "left",
    "labelPadding": 0,
    "labelOffset": -19,
    "labelLimit": 310,
    "labelFontSize": 13,
    "labelFlush": False,  # or the first name is pushed down onto its bar
    "zindex": 1,
}
# Thousands as k; nothing is 0, not 0k.
MONEY_AXIS = {"format": "~s", "labelExpr": "datum.value === 0 ? '0' : datum.label"}
SCHEMA = "https://vega.github.io/schema/vega-lite/v6.4.1.json"
DOWN = 8  # pixels from the middle of a band to its bar
BAND = 44  # pixels for each bar with its name above it
BLUE, ORANGE, SKY, VERMILION = PALETTE[0], PALETTE[1], PALETTE[4], PALETTE[5]
# From the first place on paler and paler, the last ones light grey, so that they do not
# outshine the first on a dark page; what is ruled out is dark grey.
GREY = "#777777"


def colours(names):
    """Return {machine: its colour}: the same on every screen, by its place."""
    return {name: MACHINES[n % len(MACHINES)] for n, name in enumerate(names)}


def encoded(name, kind="quantitative", **more):
    """Return an encoding of a column of the rows."""
    return {"field": name, "type": kind, **more}


def bars_named(column):
    """Return the y of bars with their names above them, in the order of the rows."""
    return encoded(
        column,
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        scale={"paddingInner": 0, "paddingOuter": 0},
        axis={**NAME_ABOVE, "labelOffset": -11, "labelFontSize": 12},
    )


def whole_spec(layer, height=None):
    """Return a whole spec of some layers, as wide as there is room."""
    return {
        "$schema": SCHEMA,
        "layer": layer,
        "width": "container",
        "height": height or {"step": BAND},
    }


def legend_below(**more):
    return {"orient": "bottom", "labelLimit": 200, "symbolStrokeWidth": 0.6, **more}
