"""Evaluation → charts: one constant Vega-Lite spec, and the rows that it draws."""

from scoring.tables import plain
from scoring.wording import figure, joined, number
from scoring.workings import unit_of

# Okabe & Ito's palette for all kinds of colour vision, grey in place of its black,
# which a dark page would hide; criteria beyond the eighth are greys.
PALETTE = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00", "#F0E442")
PALETTE += ("#999999", "#C8C8C8", "#606060", "#E4E4E4", "#444444")
INK = "#808080"  # readable on white and on the dark ground alike
BAND = 58  # pixels for each machine: its name, its bar, its nearness
PICK = "pick"  # the selection that a click on a machine makes
LARGEST = 3  # parts of a score that are put into words


def contribution_rows(evaluation, is_us=False):
    """Return a data frame with a row for each ranked machine and weighted criterion.

    Contribution is score × weight, so that a machine's contributions sum to its score.
    """
    import pandas as pd

    return pd.DataFrame(_rows(evaluation, is_us), columns=COLUMNS)


COLUMNS = ("machine", "line", "place", "criterion", "criterion_place", "contribution")
COLUMNS += ("score", "weight", "figure", "total", "nearness", "place_by_nearness")


def _rows(evaluation, is_us):
    """Return the rows, machines by rank, criteria in use before the others."""
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    columns = sorted(
        (
            c
            for c, w in enumerate(evaluation.weights)
            if w > 0 or _is_in_use(evaluation, c)
        ),
        key=lambda c: not evaluation.criteria[c].in_use,
    )
    return [
        (
            evaluation.names[k],
            f"{evaluation.rank_weighted_sum[k]}. {evaluation.names[k]}",
            place,
            evaluation.criteria[c].label,
            criterion_place,
            plain(evaluation.scores[k, c] * evaluation.weights[c]),
            plain(evaluation.scores[k, c]),
            plain(evaluation.weights[c]),
            figure(evaluation.raw[k, c], unit_of(evaluation, c), is_us),
            plain(evaluation.weighted_sum[k]),
            plain(evaluation.topsis[k]),
            plain(evaluation.rank_topsis[k]),
        )
        for place, k in enumerate(ranked)
        for criterion_place, c in enumerate(columns)
    ]


def _is_in_use(evaluation, c):
    return evaluation.criteria[c].in_use


def _field(name, kind="quantitative", **more):
    """Return an encoding of a column of the rows."""
    return {"field": name, "type": kind, **more}


def _by(column):
    """Return the order of a column's values: by another column, not by the letter."""
    return {"field": column, "op": "min"}


SHARE = {"domain": [0, 1]}
# The name stands above the bar, so that a telephone's width is left to the bar.
NAME_ABOVE = {
    "domain": False,
    "ticks": False,
    "labelAlign": "left",
    "labelPadding": 0,
    "labelOffset": -19,
    "labelLimit": 310,
    "labelFontSize": 13,
    "zindex": 1,
}
MACHINE = _field(
    "line",
    "nominal",
    title=None,
    sort=_by("place"),
    scale={"paddingInner": 0, "paddingOuter": 0},
    axis=NAME_ABOVE,
)
BELOW = 18  # pixels under the middle of the machine's band
NEARNESS = _field("nearness", aggregate="max", scale=SHARE, stack=None)
BARS = {
    "name": "bars",
    "mark": {
        "type": "bar",
        "size": 18,
        "yOffset": 2,
        "stroke": INK,
        "strokeWidth": 0.6,
        "cursor": "pointer",
    },
    "encoding": {
        "x": _field(
            "contribution",
            title="bar: score · diamond: nearness to the best",
            stack="zero",
            scale=SHARE,
            axis={"values": [0, 0.2, 0.4, 0.6, 0.8, 1], "format": ".1f"},
        ),
        "y": MACHINE,
        "color": _field(
            "criterion",
            "nominal",
            title=None,
            sort=_by("criterion_place"),
            scale={"range": list(PALETTE)},
            legend={
                "orient": "bottom",
                "columns": 2,
                "labelLimit": 150,
                "symbolType": "square",
                "symbolStrokeWidth": 0.6,
                "symbolStrokeColor": INK,
            },
        ),
        "order": _field("criterion_place"),
        "tooltip": [
            _field("machine", "nominal"),
            _field("criterion", "nominal", title="what matters"),
            _field("figure", "nominal"),
            _field("score", title="its score, 0–1", format=".2f"),
            _field("weight", title="it weighs", format=".1%"),
            _field("contribution", title="adds to the score", format=".3f"),
        ],
    },
}
STEMS = {
    "mark": {"type": "bar", "color": INK, "size": 1.5, "yOffset": BELOW},
    "encoding": {"x": NEARNESS, "y": MACHINE},
}
HEADS = {
    "mark": {
        "type": "point",
        "shape": "diamond",
        "filled": True,
        "size": 90,
        "color": INK,
        "opacity": 1,
        "yOffset": BELOW,
    },
    "encoding": {
        "x": NEARNESS,
        "y": MACHINE,
        "tooltip": [
            _field("machine", "nominal"),
            _field(
                "nearness", title="nearness to the best", aggregate="max", format=".2f"
            ),
            _field("place_by_nearness", title="place by nearness", aggregate="max"),
            _field("total", title="score", aggregate="max", format=".2f"),
        ],
    },
}


def contributions_spec():
    """Return the Vega-Lite spec of the contributions, without data, the same for all.

    A bar for each machine, in order of rank, built from what each criterion
    contributes; below it a diamond at the machine's nearness to the best. Both run from
    0 to 1, so that they share one axis and fit a telephone. It is written out, since
    the page would otherwise wait for Altair at its start.
    """
    pick = {"type": "point", "fields": ["machine"], "on": "click", "toggle": False}
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v6.4.1.json",
        "layer": [BARS, STEMS, HEADS],
        "params": [{"name": PICK, "select": pick, "views": [BARS["name"]]}],
        "width": "container",
        "height": {"step": BAND},
    }


def contributions(evaluation, is_us=False, width=640):
    """Return the chart of `contributions_spec` with its data, for reports."""
    import altair as alt

    records = contribution_rows(evaluation, is_us).to_dict("records")
    spec = {**contributions_spec(), "data": {"values": records}, "width": width}
    return alt.Chart.from_dict(spec)


def in_words(evaluation):
    """Return what the chart shows as text, a line for each ranked machine."""
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    return "\n".join(_line(evaluation, k) for k in ranked)


def _line(evaluation, k):
    parts = evaluation.scores[k] * evaluation.weights
    largest = [c for c in parts.argsort()[::-1][:LARGEST] if parts[c] > 0]
    made_of = joined(
        f"{evaluation.criteria[c].label} {number(parts[c], 2)}" for c in largest
    )
    most = f", most of it from {made_of}" if largest else ""
    return (
        f"{evaluation.rank_weighted_sum[k]}. {evaluation.names[k]}: "
        f"score {evaluation.weighted_sum[k]:.2f}{most}; "
        f"nearness to the best {number(evaluation.topsis[k], 2)}."
    )
