"""All that a weight changes on the screen "Why", as one piece of HTML.

The browser redraws one piece in a fraction of the time that as many elements take. Its
parts bear the classes of keyed containers, so that who drives the page finds them.
"""

from html import escape

from scoring.charts import contributions
from scoring.charts.base import INK, SHADES
from scoring.page import text
from scoring.words.verdict import agreement, disagreement, double_counting, who_is_first
from scoring.words.weights import weight_warnings, weights_explained

NEARNESS = (
    "Score: the weighted sum of the criteria's scores, 0–1. Nearness: closeness to the "
    "best of each criterion and distance from the worst (TOPSIS), 0–1."
)
AGREEMENT = (
    "Kendall's τ-b between the order by score and the order by nearness: 1 is the same "
    "order, 0 no relation, −1 the reverse."
)
HOW_TO_READ = "Bar: score; diamond: nearness to the best."
APART = "Points of the score; right: for the first, left: against."
MOST_APART = 5  # differences before a fold
APART_THERE = "they part ways"
IN_MONEY = "What your weights say in money"
TO_CHECK = ": a weight to check"
FRONT = "Not on the Pareto front of the criteria with a weight above 0."
OUTDONE = (
    "Outdone: another machine is at least as good on everything that weighs anything, "
    "and better on something."
)
ASSUMED = (
    "* rests on a figure that the seller has not told; a wide guess, more likely on "
    "the worse side, stands in for it."
)


def block(evaluation, is_us):
    """Return who is first, bars, differences, and folded below them the figures.

    What to do, and what the first cannot do, stands above in the answer's bar.
    """
    first = text.said(who_is_first(evaluation))
    parts = [f'<div class="st-key-verdict">{first}</div>']
    folded = []
    if evaluation.is_ranked.any():
        parts += [bars(evaluation, is_us), differences(evaluation)]
        folded = [
            ("Scores and their figures", table(evaluation, is_us)),
            ("Two ways of ranking", methods(evaluation)),
        ]
        if disagreement(evaluation):
            folded[1] = (f"Two ways of ranking: {APART_THERE}", methods(evaluation))
    parts.append(text.said(double_counting(evaluation)))
    warned = weight_warnings(evaluation)
    explained = text.said(*warned, *weights_explained(evaluation))
    folded.append((f"{IN_MONEY}{TO_CHECK if warned else ''}", explained))
    parts.append(text.folded_html([each for each in folded if each[1]]))
    return "".join(parts) + text.caution_html("money")


def differences(evaluation):
    """Return in what the first is ahead of the second, and in what behind, as bars."""
    found = contributions.between(evaluation)
    if found is None or not found[2]:
        return ""
    first, second, parts = found
    most = max(abs(points) for _, points in parts)
    drawn = [_difference(*part, most) for part in parts]
    shown, rest = drawn[:MOST_APART], drawn[MOST_APART:]
    return (
        text.heading_html(f"{first} against {second}")
        + _listed(shown)
        + text.note_html(APART)
        + text.folded_html([("Smaller differences", _listed(rest))] if rest else [])
    )


def _listed(drawn):
    about = "points by which the first is ahead"
    return f'<ul class="apart" aria-label="{about}">{"".join(drawn)}</ul>'


def _difference(label, points, most):
    side = "ahead" if points > 0 else "behind"
    sign = "+" if points > 0 else "−"
    size = f"--size:{50 * abs(points) / most:.1f}%"
    return (
        f'<li class="{side}" style="{size}"><span>{escape(label)}</span>'
        f"<b>{sign}{abs(points):.3f}</b></li>"
    )


def bars(evaluation, is_us):
    """Return a bar for each ranked machine, its nearness below it, and the legend."""
    drawn = "".join(map(_bar, contributions.bars(evaluation, is_us)))
    axis = "".join(f"<span>{tick / 2:.1f}</span>" for tick in range(3))
    legend = "".join(
        f'<li style="--part:{_colour(n)}">{text.with_terms(escape(label))} '
        f"<b>{weight}</b></li>"
        for n, (label, weight) in enumerate(contributions.legend(evaluation))
    )
    return (
        f'<div class="st-key-ranking_chart bars" style="--ink:{INK}">'
        f'{drawn}<div class="axis" aria-hidden="true">{axis}</div>'
        f'<ul class="legend" aria-label="what it weighs">{legend}</ul></div>'
        f"{text.note_html(HOW_TO_READ)}"
    )


def _bar(bar):
    """Return one machine's bar and diamond; its words are read in their place."""
    told = "\n".join([*(part.words for part in bar.parts), bar.nearness_words])
    drawn = f"--parts:{_gradient(bar.parts)};--near:{100 * bar.nearness:.2f}%"
    return (
        f'<div class="bar" role="img" aria-label="{escape(bar.words)}" '
        f'title="{escape(told)}" style="{drawn}"><span>{escape(bar.line)}</span>'
        f"<b>{bar.score:.2f}</b></div>"
    )


def _gradient(parts):
    """Return parts side by side as a CSS gradient, a thin line after each."""
    end, stops = 0.0, []
    for part in parts:
        start, end = end, end + 100 * part.contribution
        if part.contribution > 0:
            line = f"calc({end:.2f}% - 1px)"
            stops.append(f"{_colour(part.column)} {start:.2f}% {line}")
            stops.append(f"{INK} {line} {end:.2f}%")
    return f"linear-gradient(90deg,{','.join([*stops, 'transparent 0'])})"


def _colour(column):
    """Return a part's colour; they begin anew where they run out."""
    return SHADES[column % len(SHADES)]


def table(evaluation, is_us):
    """Return places, scores and raw figures as a table, with what its marks mean."""
    head, rows = contributions.table(evaluation, is_us)
    drawn = text.table_html(head, rows, label="ranking with the figures behind it")
    is_outdone = not all(evaluation.is_on_pareto_front[evaluation.is_ranked])
    is_assumed = any(cell.endswith("*") for row in rows for cell in row[1:])
    return (
        f'<div class="st-key-ranking">{drawn}</div>'
        + (text.note_html(ASSUMED) if is_assumed else "")
        + (text.note_html(OUTDONE, FRONT) if is_outdone else "")
        + text.caution_html("lifting", "odour")
    )


def methods(evaluation):
    """Return how far the orders by score and by nearness agree, and what they are."""
    agree = agreement(evaluation)
    parted = disagreement(evaluation)
    return text.said(agree, parted, AGREEMENT, NEARNESS) if agree else ""
