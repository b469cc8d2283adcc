"""Choices of rigs as text and as rows."""

from dataclasses import fields
from textwrap import fill

from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.choices import KEEP
from scoring.text.layout import WIDTH, cautions_text, columns, safe_rows
from scoring.words.figures import about, joined, number
from scoring.words.fleet import (
    SPREAD_HEAD,
    break_evens_in_words,
    how_sure,
    not_chosen,
    payback_in_words,
    spread_rows,
    which_choice,
)


def fleet_text(found, spread):
    """Return the choices of rigs as text: places, money, which rig does which work."""
    evaluation = found.evaluation
    currency = evaluation.brief.currency
    head = ["place", "choice", "score", "nearness", "year", "more than now", "to pay"]
    head += ["earned back", "present value"]
    rows, plans = [], []
    for c in found.order:
        choice = found.choices[c]
        is_change = choice.name != KEEP
        rows.append(
            [
                found.rank_weighted_sum[c],
                choice.name,
                f"{found.weighted_sum[c]:.3f}",
                f"{found.topsis[c]:.3f}",
                about(choice.year_result, currency),
                about(choice.added_result, currency),
                about(choice.added_upfront, currency),
                payback_in_words(choice, found) if is_change else "–",
                about(choice.npv, currency) if is_change else "–",
            ]
        )
        plans.append(_assignment(choice))
    parts = [evaluation.brief.title, fill(which_choice(found), WIDTH)]
    parts += [columns([head, *rows], "><"), fill(how_sure(found, spread), WIDTH)]
    parts += [
        columns([SPREAD_HEAD, *spread_rows(found, spread)], "<"),
        "\n".join(plans),
    ]
    parts.append(_break_evens(found))
    parts += [fill(text, WIDTH) for text in not_chosen(found)]
    return "\n\n".join(filter(None, [*parts, cautions_text(("money", "lifting"))]))


def _break_evens(found):
    """Return when the first choice pays, a line each; "" where nothing changes."""
    best = found.choices[found.order[0]]
    if not best.deed.new:
        return ""
    even = break_even(found, best)
    said = [
        fill(f"{what}: {sentence}", WIDTH, subsequent_indent="  ")
        for what, sentence in break_evens_in_words(found, best, even)
    ]
    return "\n".join([f"From when it pays to {best.name}:", *said])


def _assignment(choice):
    """Return which rig does how many jobs a month, in a line or two."""
    said = [
        f"{job}: "
        + joined(f"{rig} {number(n_jobs, 1)}" for rig, n_jobs in rigs.items())
        for job, rigs in choice.assignment.items()
        if rigs
    ]
    n_crews = choice.plan.n_crews
    crews = "one crew" if n_crews == 1 else f"{n_crews} crews"
    text = f"{choice.name} ({crews}), jobs a month: {'; '.join(said) or 'none'}"
    return fill(text, WIDTH, subsequent_indent="  ")


def fleet_rows(record):
    """Return the choices as rows for a spreadsheet."""
    every = [field.name for field in fields(record.choices[0])]
    keys = [key for key in every if key not in ("rigs", "assignment")]
    rows = [
        [*(getattr(choice, key) for key in keys), " + ".join(choice.rigs)]
        for choice in record.choices
    ]
    return safe_rows([[*keys, "rigs"], *rows])
