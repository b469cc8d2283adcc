"""How machines are judged in a case of one's own: scales, trust, guesses."""

import streamlit as st

from scoring.decision.criteria import OPTIONAL, STANDARD, known_ids
from scoring.errors import ScoringError
from scoring.inputs.case.edit import at
from scoring.inputs.case.judging import (
    SPREAD,
    criterion_fields,
    guess_change,
    spread_field,
    together_field,
)
from scoring.inputs.guesses import guesses
from scoring.inputs.quantity import KINDS
from scoring.page import text
from scoring.page.own.entry import Edited, entry, place_of
from scoring.page.state.memory import keep
from scoring.page.state.own import WRONG, plain, records, wrong_at
from scoring.page.text import basis
from scoring.words.keys import in_words

ACROSS = 3
LABELS = {
    "scale": "Worst and best end of its scale",
    "use": "It counts in the score",
    "label": "Called",
    "rating": "The rating of the sheets",
    "better": "Better is",
    "flat_above": "More than this is not better",
}
OFF = (
    "How far a single figure may be off, by who says it: lowest, likely and highest "
    "change, such as -5 % 15 % 60 %. A range that is written counts as it is."
)
UNTOLD = "What counts where nobody tells a figure. Empty: our own wide guess."


def judged(sheet):
    """Draw the fields of scales and criteria, of trust, and of guesses."""
    one_criterion(sheet)
    text.heading("How far figures may be off", OFF)
    trusted(sheet)
    text.heading("Where nobody tells", UNTOLD)
    one_guess(sheet)


def one_criterion(sheet):
    """Draw the choice of a criterion, its fields, and the way to add one's own."""
    own = [name for name in at(sheet.data, "criteria", {}) if name not in known_ids()]
    labels = {each.id: each.label for each in (*STANDARD, *OPTIONAL)}
    names = [*labels, *own]
    keep("own_criterion", names, names[0])
    st.selectbox(
        "What matters",
        names,
        key="own_criterion",
        format_func=lambda name: text.escaped(labels.get(name, name)),
        persist_state="session",
    )
    name, columns = st.session_state["own_criterion"], []
    for n, field in enumerate(criterion_fields(name, name in own)):
        label = LABELS[field.path.split(".")[-1 if field.path[0] == "c" else 0]]
        with place_of(columns, n, ACROSS):
            entry(sheet, field, label)
    ratings = {key for machine in records().machines for key in machine.ratings}
    more = sorted(ratings - set(names))
    if more:
        keep("own_rating", more, more[0])
        st.selectbox("A rating of your sheets", more, key="own_rating")
        st.button("Judge by it, too", key="add_criterion", on_click=_add)


def _add():
    name = st.session_state["own_rating"]
    made = {f"criteria.{name}": {"label": name.replace("_", " ")}}
    if Edited().apply(made, "add_criterion"):
        st.session_state["own_criterion"] = name


def trusted(sheet):
    """Draw how far a kind of figure may be off, and how much sellers err together."""
    columns = st.columns(ACROSS)
    for key, options, label, words in (
        ("own_basis", SPREAD, "Said by", basis),
        ("own_kind", KINDS, "Kind of figure", str),
    ):
        keep(key, options, options[0])
        with columns[0 if key == "own_basis" else 1]:
            st.selectbox(
                label,
                options,
                key=key,
                format_func=words,
                persist_state="session",
            )
    field = spread_field(st.session_state["own_basis"], st.session_state["own_kind"])
    with columns[2]:
        entry(sheet, field, "Lowest, likely, highest change")
    entry(sheet, together_field(), "How much one seller's figures err alike, 0 to 1")


def one_guess(sheet):
    """Draw the choice of a figure that sellers leave untold, and what then counts."""
    known = guesses()
    keep("own_guess_of", list(known), next(iter(known)))
    st.selectbox(
        "Figure",
        list(known),
        key="own_guess_of",
        format_func=lambda key: in_words({}, key),
        persist_state="session",
    )
    name = st.session_state["own_guess_of"]
    key = f"own_guess_{name}"
    if not wrong_at(key):
        st.session_state[key] = at(sheet.data, "guesses", {}).get(name, "")
    st.text_input(
        "Counts as",
        key=key,
        placeholder=known[name],
        on_change=_take_guess,
        args=(name, key),
    )
    if wrong_at(key):
        text.wrong(wrong_at(key))


def _take_guess(name, key):
    from scoring.evidence.unknowns import read_guess

    sheet, typed = Edited(), st.session_state[key]
    try:
        if typed.strip():
            read_guess(name, typed)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[key] = plain(error)
        return
    sheet.apply(guess_change(sheet.data, name, typed), key)
