"""Evaluation → charts: one constant Vega-Lite spec, and the rows that it draws."""

from functools import cache

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


@cache
def contributions_spec():
    """Return the Vega-Lite spec of the contributions, without data, the same for all.

    A bar for each machine, in order of rank, built from what each criterion
    contributes; below it a diamond at the machine's nearness to the best. Both run from
    0 to 1, so that they share one axis and fit a telephone.
    """
    import altair as alt

    machine = alt.Y(
        "line:N",
        title=None,
        sort=alt.EncodingSortField(field="place", op="min"),
        scale=alt.Scale(paddingInner=0, paddingOuter=0),
        axis=alt.Axis(
            domain=False,
            ticks=False,
            labelAlign="left",
            labelPadding=0,
            labelOffset=-19,
            labelLimit=310,
            labelFontSize=13,
            zindex=1,
        ),
    )
    share = alt.Scale(domain=[0, 1])
    length = alt.X(
        "contribution:Q",
        title="bar: score · diamond: nearness to the best",
        stack="zero",
        scale=share,
        axis=alt.Axis(values=[0, 0.2, 0.4, 0.6, 0.8, 1], format=".1f"),
    )
    colour = alt.Color(
        "criterion:N",
        title=None,
        sort=alt.EncodingSortField(field="criterion_place", op="min"),
        scale=alt.Scale(range=list(PALETTE)),
        legend=alt.Legend(
            orient="bottom",
            columns=2,
            labelLimit=150,
            symbolType="square",
            symbolStrokeWidth=0.6,
            symbolStrokeColor=INK,
        ),
    )
    told = [
        alt.Tooltip("machine:N"),
        alt.Tooltip("criterion:N", title="what matters"),
        alt.Tooltip("figure:N"),
        alt.Tooltip("score:Q", title="its score, 0–1", format=".2f"),
        alt.Tooltip("weight:Q", title="it weighs", format=".1%"),
        alt.Tooltip("contribution:Q", title="adds to the score", format=".3f"),
    ]
    pick = alt.selection_point(name=PICK, fields=["machine"], on="click", toggle=False)
    rows = alt.Chart(alt.NamedData("rows"))
    bars = (
        rows.mark_bar(size=18, yOffset=2, stroke=INK, strokeWidth=0.6, cursor="pointer")
        .encode(
            x=length,
            y=machine,
            color=colour,
            order=alt.Order("criterion_place:Q"),
            tooltip=told,
        )
        .add_params(pick)
    )
    near = alt.X("nearness:Q", aggregate="max", scale=share, stack=None)
    places = [
        alt.Tooltip("machine:N"),
        alt.Tooltip("nearness:Q", aggregate="max", format=".2f"),
        alt.Tooltip("place_by_nearness:Q", aggregate="max", title="place by nearness"),
        alt.Tooltip("total:Q", aggregate="max", title="score", format=".2f"),
    ]
    below = 18  # pixels under the middle of the machine's band
    stems = rows.mark_bar(color=INK, size=1.5, yOffset=below).encode(x=near, y=machine)
    heads = rows.mark_point(
        shape="diamond", filled=True, size=90, color=INK, opacity=1, yOffset=below
    ).encode(x=near, y=machine, tooltip=places)
    chart = alt.layer(bars, stems, heads).properties(
        width="container", height=alt.Step(BAND)
    )
    spec = chart.to_dict()
    return {
        key: value for key, value in spec.items() if key not in ("data", "datasets")
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
        f"score {number(evaluation.weighted_sum[k], 2)}{most}; "
        f"nearness to the best {number(evaluation.topsis[k], 2)}."
    )
