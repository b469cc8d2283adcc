"""Evaluation → what the ranking's bars, legend and table show, as plain rows."""

from typing import NamedTuple

from scoring.words.evidence import assumed
from scoring.words.figures import about, joined, number
from scoring.words.workings.criteria import unit_of

LARGEST = 3  # parts of a score that are put into words
HEAD = ("machine", "place", "score", "nearness", "place by nearness")


class Part(NamedTuple):
    """What one criterion adds to a machine's score."""

    column: int  # its place in the legend
    contribution: float  # score × weight, 0–1
    words: str


class Bar(NamedTuple):
    """A ranked machine's score, in parts that sum to it, and its nearness."""

    line: str  # its place and name
    score: float  # 0–1
    nearness: float  # 0–1
    parts: tuple[Part, ...]
    words: str  # what the bar shows, for those who do not see it
    nearness_words: str


def columns(evaluation):
    """Return the criteria that bars and legend show, those in use first."""
    criteria = evaluation.criteria
    shown = (c for c, w in enumerate(evaluation.weights) if w > 0 or criteria[c].in_use)
    return sorted(shown, key=lambda c: not criteria[c].in_use)


def legend(evaluation):
    """Return (criterion, what it weighs) in words, in the order of the bars' parts."""
    return [
        (evaluation.criteria[c].label, figure_of_weight(evaluation, c))
        for c in columns(evaluation)
    ]


def figure_of_weight(evaluation, c):
    """Return what a criterion weighs, in per cent."""
    return f"{number(100 * evaluation.weights[c], 1)} %"


def bars(evaluation, is_us=False):
    """Return a Bar for each ranked machine, best first."""
    shown = columns(evaluation)
    return [_bar(evaluation, k, shown, is_us) for k in ranked(evaluation)]


def ranked(evaluation):
    """Return the machines within the limits, best first."""
    return [k for k in evaluation.order if evaluation.is_ranked[k]]


def _bar(evaluation, k, shown, is_us):
    score, nearness = evaluation.weighted_sum[k], evaluation.topsis[k]
    return Bar(
        f"{evaluation.rank_weighted_sum[k]}. {evaluation.names[k]}",
        float(score),
        float(nearness),
        tuple(_part(evaluation, k, c, n, is_us) for n, c in enumerate(shown)),
        in_words(evaluation, k),
        f"nearness to the best {nearness:.2f}, place {evaluation.rank_topsis[k]} by it",
    )


def _part(evaluation, k, c, column, is_us):
    score = evaluation.scores[k, c]
    adds = score * evaluation.weights[c]
    words = (
        f"{evaluation.criteria[c].label}: "
        f"{about(evaluation.raw[k, c], unit_of(evaluation, c), is_us)}; "
        f"score {score:.2f} × weight {figure_of_weight(evaluation, c)} adds {adds:.3f}"
    )
    return Part(column, float(adds), words)


def in_words(evaluation, k):
    """Return what a machine's bar shows, as a sentence."""
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


TELLING = 0.0005  # points; smaller differences read as none


def between(evaluation):
    """Return (first, second, [(criterion, points ahead)]), what decides most first.

    The points add up to the first one's lead; None where fewer than two are ranked.
    """
    order = ranked(evaluation)
    if len(order) < 2:
        return None
    first, second = order[:2]
    points = evaluation.weights * (evaluation.scores[first] - evaluation.scores[second])
    told = [c for c in abs(points).argsort()[::-1] if abs(points[c]) >= TELLING]
    found = [(evaluation.criteria[c].label, float(points[c])) for c in told]
    return evaluation.names[first], evaluation.names[second], found


def table(evaluation, is_us=False):
    """Return (head, rows) of places, scores and raw figures, best machine first.

    A star marks a figure that rests on what the seller has not told.
    """
    weighed = [c for c, weight in enumerate(evaluation.weights) if weight > 0]
    stars = assumed(evaluation)
    head = [*HEAD, *(evaluation.criteria[c].label for c in weighed)]
    rows = [_row(evaluation, k, weighed, stars, is_us) for k in ranked(evaluation)]
    return head, rows


def _row(evaluation, k, weighed, stars, is_us):
    remarks = [
        "in doubt" if evaluation.status(k) == "in_doubt" else "",
        "" if evaluation.is_on_pareto_front[k] else "outdone",
    ]
    said = ", ".join(filter(None, remarks))
    return [
        evaluation.names[k] + (f" ({said})" if said else ""),
        str(evaluation.rank_weighted_sum[k]),
        f"{evaluation.weighted_sum[k]:.3f}",
        f"{evaluation.topsis[k]:.3f}",
        str(evaluation.rank_topsis[k]),
        *(
            about(evaluation.raw[k, c], unit_of(evaluation, c), is_us)
            + ("*" if (k, c) in stars else "")
            for c in weighed
        ),
    ]
