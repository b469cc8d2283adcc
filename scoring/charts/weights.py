"""How far each weight may move."""

from scoring.charts.base import DOWN, INK, ORANGE, SKY, bars_named, encoded, whole_spec
from scoring.charts.swings import values
from scoring.words.figures import figure

WEIGHT_COLUMNS = ("criterion", "place", "side", "end", "other", "at", "now")


def weight_rows(evaluation, stability):
    """Return a data frame with a row for each end of a weight's range, heaviest first.

    `stability` is that of `weight_ranges.stability_of`, (criterion, 2).
    """
    import pandas as pd

    rows = []
    for place, c in enumerate(_by_weight(evaluation)):
        low, high = map(float, stability[c])
        now = float(evaluation.weights[c])
        for side, end, other in (("left", low, high), ("right", high, low)):
            label = evaluation.criteria[c].label
            rows.append((label, place, side, end, other, figure(end, "share"), now))
    return pd.DataFrame(rows, columns=WEIGHT_COLUMNS)


def _by_weight(evaluation):
    criteria = range(len(evaluation.criteria))
    return sorted(criteria, key=lambda c: -evaluation.weights[c])


WEIGHT_X = {
    "title": "weight: bar, where the lead holds; diamond, where it is now",
    "scale": {"domain": [0, 1], "padding": 36, "nice": False},
    "axis": {"format": ".0%", "values": [0, 0.25, 0.5, 0.75, 1], "grid": False},
}


def weights_spec():
    """Return the spec of how far each weight may move, without data."""
    left = [{"filter": "datum.side == 'left'"}]
    shared = {
        "y": bars_named("criterion"),
        "tooltip": [
            encoded("criterion", "nominal", title="what matters"),
            encoded("now", title="it weighs", format=".1%"),
            encoded("end", title="the lead holds from", format=".1%"),
            encoded("other", title="to", format=".1%"),
        ],
    }
    bars = {
        "transform": left,
        "mark": {"type": "bar", "size": 10, "yOffset": DOWN, "color": SKY}
        | {"opacity": 0.6},
        "encoding": {"x": encoded("end", **WEIGHT_X), "x2": {"field": "other"}}
        | shared,
    }
    now = {
        "transform": left,
        "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 90}
        | {"color": ORANGE, "opacity": 1, "yOffset": DOWN}
        | {"stroke": INK, "strokeWidth": 0.6},
        "encoding": {"x": encoded("now", **WEIGHT_X)} | shared,
    }
    return whole_spec([bars, now, *values("end", "at", WEIGHT_X, "criterion")])


def weights_in_words(evaluation, stability):
    """Return how far each weight may move, a line for each criterion."""
    lines = []
    for c in _by_weight(evaluation):
        criterion = evaluation.criteria[c]
        low, high = (figure(end, "share") for end in map(float, stability[c]))
        now = figure(evaluation.weights[c], "share")
        lines.append(
            f"{criterion.label}: now {now}; the lead holds from {low} to {high}."
        )
    return "\n".join(lines)
