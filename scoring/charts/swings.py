"""What would turn the answer, a bar a figure."""

from scoring.charts.base import (
    BLUE,
    DOWN,
    INK,
    SKY,
    VERMILION,
    bars_named,
    encoded,
    legend_below,
    whole_spec,
)
from scoring.questions.swings import leader
from scoring.words.figures import figure, joined
from scoring.words.keys import what_swings
from scoring.words.turning import value_of

TOP_SWINGS, TOP_TOLD = 8, 12  # drawn; told in words
STAYS, TURNS = "the same machine leads", "another leads, or none"
NOBODY = "none within your limits"
SWING_COLUMNS = ("what", "place", "side", "at", "lead", "other", "leader", "standing")
SWING_COLUMNS += ("now",)


def swing_rows(evaluation, swings, now, is_us=False):
    """Return a data frame with a row for each end of the widest swings.

    Left is the end of a figure's range at which the lead is smaller; `other` is the
    lead at the other end, `now` that of `whatif.present_lead`.
    """
    import pandas as pd

    rows = [
        (what_swings(evaluation, swing), place, *end, now)
        for place, swing in enumerate(swings[:TOP_SWINGS])
        for end in _ends(swing, is_us)
    ]
    return pd.DataFrame(rows, columns=SWING_COLUMNS)


def _ends(swing, is_us):
    """Return the columns of both ends, the smaller lead first."""
    ends = [
        (swing.lead_low, value_of(swing, swing.low, is_us), swing.leader_low),
        (swing.lead_high, value_of(swing, swing.high, is_us), swing.leader_high),
    ]
    ends.sort(key=lambda end: end[0])
    others = [end[0] for end in reversed(ends)]
    return [
        (side, at, lead, other, then or NOBODY, STAYS if then and lead >= 0 else TURNS)
        for side, (lead, at, then), other in zip(
            ("left", "right"), ends, others, strict=True
        )
    ]


SWING_X = {
    "title": "points ahead of the best other; left of 0 another leads",
    "scale": {"padding": 62, "nice": False, "zero": True},
    "axis": {"format": ".2f", "tickCount": 5, "grid": False},
}
# As high as a bar: a line from top to bottom would cross the names above the bars.
SHORT_LINE = {"type": "tick", "size": 22, "thickness": 2, "yOffset": DOWN}


def swings_spec():
    """Return the spec of what moves the lead how far, without data."""
    bars = {
        "transform": [{"filter": "datum.side == 'left'"}],
        "mark": {"type": "bar", "size": 10, "yOffset": DOWN, "color": SKY}
        | {"opacity": 0.6},
        "encoding": {
            "x": encoded("lead", **SWING_X),
            "x2": {"field": "other"},
            "y": bars_named("what"),
        },
    }
    level = {
        "transform": [{"filter": "datum.lead < 0 || datum.other < 0"}],
        "mark": {"color": VERMILION, **SHORT_LINE},
        "encoding": {"x": {"datum": 0}, "y": bars_named("what")},
    }
    now = {
        "mark": {"color": INK, **SHORT_LINE},
        "encoding": {"x": encoded("now", **SWING_X), "y": bars_named("what")},
    }
    by_standing = {"title": None, "legend": legend_below(columns=2)}
    points = {
        "mark": {"type": "point", "filled": True, "size": 80, "opacity": 1}
        | {"yOffset": DOWN, "stroke": INK, "strokeWidth": 0.6},
        "encoding": {
            "x": encoded("lead", **SWING_X),
            "y": bars_named("what"),
            "color": encoded(
                "standing",
                "nominal",
                scale={"domain": [STAYS, TURNS], "range": [BLUE, VERMILION]},
                **by_standing,
            ),
            "shape": encoded(
                "standing",
                "nominal",
                scale={"domain": [STAYS, TURNS], "range": ["circle", "diamond"]},
                **by_standing,
            ),
            "tooltip": [
                encoded("what", "nominal"),
                encoded("at", "nominal"),
                encoded("lead", title="lead in points", format=".3f"),
                encoded("leader", "nominal", title="then first"),
            ],
        },
    }
    return whole_spec(
        [level, now, bars, points, *values("lead", "at", SWING_X, "what")]
    )


def values(x, words, axis, y):
    """Return the layers that write the value beside either end of the bars."""
    return [
        {
            "transform": [{"filter": f"datum.side == '{side}'"}],
            "mark": {"type": "text", "align": align, "dx": dx, "color": INK}
            | {"yOffset": DOWN, "fontSize": 11},
            "encoding": {
                "x": encoded(x, **axis),
                "y": bars_named(y),
                "text": encoded(words, "nominal"),
            },
        }
        for side, align, dx in (("left", "right", -9), ("right", "left", 9))
    ]


def swings_in_words(evaluation, swings, is_us=False):
    """Return what the swings show, a line for each of the widest."""
    first = evaluation.names[leader(evaluation)] if swings else ""
    lines = []
    for swing in swings[:TOP_TOLD]:
        said = [_end_in_words(*end) for end in _ends(swing, is_us)]
        what = what_swings(evaluation, swing)
        lines.append(f"{what}: lead of {first} {joined(said)}.")
    return "\n".join(lines)


def _end_in_words(_, at, lead, __, then, standing):
    is_lost = standing == TURNS
    return f"{figure(lead)} points at {at}{f' ({then})' if is_lost else ''}"
