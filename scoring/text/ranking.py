"""A ranking as text and as rows."""

from textwrap import fill, indent

from scoring.questions.other_ways import other_ways
from scoring.records.ranking import RANK_CAUTIONS
from scoring.text.layout import WIDTH, cautions_text, columns, safe_rows
from scoring.text.other_ways import ways_text
from scoring.words.doubt import why_not_in
from scoring.words.evidence import counted_as_nothing
from scoring.words.figures import about, figure
from scoring.words.verdict import (
    agreement,
    disagreement,
    double_counting,
    who_leads,
)
from scoring.words.weights import weight_warnings, weights_explained
from scoring.words.workings.criteria import unit_of


def ranking_text(evaluation, explains_weights=False):
    """Return the ranking as text: verdict, places, raw figures, ruled out, cautions.

    With what one step of each thing that matters is worth in money, where asked.
    """
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    out = [k for k in evaluation.order if not evaluation.is_ranked[k]]
    parts = [evaluation.brief.title, fill(who_leads(evaluation), WIDTH)]
    parts.append(fill(counted_as_nothing(evaluation.brief), WIDTH))
    if ranked:
        parts += [_places(evaluation, ranked), _figures(evaluation, ranked)]
    agreed = filter(None, (agreement(evaluation), disagreement(evaluation)))
    parts.append(fill(" ".join(agreed), WIDTH))
    parts.append(fill(double_counting(evaluation), WIDTH))
    said = weights_explained(evaluation) if explains_weights else []
    said = [*said, *weight_warnings(evaluation)]
    parts.append("\n".join(fill(one, WIDTH, subsequent_indent="  ") for one in said))
    doubtful = [k for k in ranked if evaluation.status(k) == "in_doubt"]
    for heading, some in (
        ("In doubt, yet ranked:", doubtful),
        ("Ruled out by your limits:", out),
    ):
        if some:
            lines = [_why(evaluation, k) for k in some]
            parts.append("\n".join([heading, *lines]))
    parts.append(ways_text(evaluation, other_ways(evaluation)))
    parts.append(cautions_text(RANK_CAUTIONS))
    return "\n\n".join(filter(None, parts))


def _places(evaluation, ranked):
    head = ["place", "machine", "score", "nearness to best", "place by nearness", ""]
    rows = [
        [
            evaluation.rank_weighted_sum[k],
            evaluation.names[k],
            f"{evaluation.weighted_sum[k]:.3f}",
            f"{evaluation.topsis[k]:.3f}",
            evaluation.rank_topsis[k],
            _remarks(evaluation, k),
        ]
        for k in ranked
    ]
    return columns([head, *rows], "><>>><")


def _remarks(evaluation, k):
    said = "in doubt" if evaluation.status(k) == "in_doubt" else ""
    outdone = "" if evaluation.is_on_pareto_front[k] else "outdone"
    return ", ".join(filter(None, (said, outdone)))


def _figures(evaluation, ranked):
    head = ["what matters", "weight", *(evaluation.names[k] for k in ranked)]
    rows = [
        [
            criterion.label,
            figure(evaluation.weights[c], "share"),
            *(about(evaluation.raw[k, c], unit_of(evaluation, c)) for k in ranked),
        ]
        for c, criterion in enumerate(evaluation.criteria)
    ]
    return columns([head, *rows], "<>")


def _why(evaluation, k):
    text = f"{evaluation.names[k]}: {' '.join(why_not_in(evaluation, k))}"
    return indent(fill(text, WIDTH - 2), "  ")


def ranking_rows(record):
    """Return the ranking as rows for a spreadsheet, safe from formulas."""
    machines = record.machines
    ids = list(machines[0].criteria)
    units = {name: machines[0].criteria[name].unit for name in ids}
    head = ["place", "place by nearness", "machine", "status", "score", "nearness"]
    head += [f"{name} ({units[name]})" if units[name] else name for name in ids]
    rows = [
        [
            machine.rank_weighted_sum,
            machine.rank_topsis,
            machine.name,
            machine.status.replace("_", " "),
            machine.weighted_sum,
            machine.topsis,
            *(machine.criteria[name].value for name in ids),
            " ".join(machine.reasons),
        ]
        for machine in machines
    ]
    rows += [_way_row(way, ids) for way in record.other_ways]
    return safe_rows([[*head, "reasons"], *rows])


def _way_row(way, ids):
    """Return the row of another way than buying: without places, its year's result."""
    figures = [way.year_result if name == "year_result" else None for name in ids]
    return [None, None, way.name, "other way", None, None, *figures, ""]
