"""Two to four machines side by side: what differs, and what of it matters here."""

import math

import streamlit as st

from scoring.page import text
from scoring.page.state.shared import shared
from scoring.questions.differences import differences
from scoring.words.figures import figure, joined
from scoring.words.keys import in_words

MOST, USUAL = 4, 3
SPACE = " "  # before a unit; thousands are parted by another one
FEW = 8  # rows before the fold


def side_by_side(evaluation, is_us):
    """Draw the choice of machines, and their differences, those of note first."""
    text.heading("Side by side")
    names = list(evaluation.names)
    held = st.session_state.get("beside_chosen") or []
    held = [name for name in held if name in names][:MOST]
    if len(held) < 2:
        held = [evaluation.names[k] for k in evaluation.order][:USUAL]
    st.session_state["own_beside"] = held
    st.multiselect(
        "Machines",
        names,
        key="own_beside",
        max_selections=MOST,
        label_visibility="collapsed",
        on_change=_choose,
    )
    chosen = tuple(st.session_state["own_beside"])
    if len(chosen) < 2:
        text.note("Choose two at least.")
        return
    ks = [evaluation.index(name) for name in chosen]
    rows = shared(
        "differences", (evaluation,), chosen, lambda: differences(evaluation, ks)
    )
    of_note = [row for row in rows if row.changes and not all(row.is_guess)]
    if not of_note:
        text.say("Nothing in which they differ changes hours, days, money or a limit.")
    else:
        table(evaluation, ks, of_note[:FEW], is_us)
    rest = [*of_note[FEW:], *(row for row in rows if row not in of_note)]
    if rest:
        with st.expander(f"{len(rest)} more differences; the pale ones change nothing"):
            table(evaluation, ks, rest, is_us)
    text.note(
        f"Marked: what {chosen[0]} would change for your work with the other's figure. "
        "(?) nobody tells it: a wide guess."
    )


def _choose():
    """Keep the choice; until then it follows the ranking."""
    st.session_state["beside_chosen"] = list(st.session_state["own_beside"])


def table(evaluation, ks, rows, is_us):
    """Draw a row for each difference, marked where it matters."""
    machine = evaluation.machines[ks[0]]
    head = ["", *(evaluation.names[k] for k in ks)]
    cells, looks = [], []
    for row in rows:
        what = _words(evaluation, ks, row.path) or in_words(machine, row.path)
        unit, figures = _figures(row, is_us)
        what = f"{what}, {unit}" if unit else what
        said = f"{what} – {joined(row.changes)}" if row.changes else what
        cells.append([said, *figures])
        looks.append("matters" if row.changes else "pale")
    text.marked_table(head, cells, looks, "machines side by side")


def _words(evaluation, ks, path):
    """Return a figure in words by the first machine whose sheet holds it."""
    for k in ks:
        try:
            return in_words(evaluation.machines[k], path)
        except (IndexError, KeyError, AttributeError):
            continue
    return ""


def _figures(row, is_us):
    """Return (unit, figures without it), or ("", figures) where units differ."""
    said = [
        figure(value, row.unit, is_us) if math.isfinite(value) else ""
        for value in row.told
    ]
    parts = [each.rpartition(SPACE) for each in said if each]
    units = {unit if number else "" for number, _, unit in parts}
    unit = units.pop() if len(units) == 1 else ""
    bare = [each.removesuffix(f"{SPACE}{unit}") if unit else each for each in said]
    return unit, [
        f"{each or '–'} (?)" if is_guess else each or "–"
        for each, is_guess in zip(bare, row.is_guess, strict=True)
    ]
