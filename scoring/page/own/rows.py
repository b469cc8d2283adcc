"""Lists of a sheet as rows of fields: timed prints, pieces, plans, speeds."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.edit import REMOVED, at
from scoring.inputs.case.fields import FIGURE, FormField, change_of, fields_of
from scoring.inputs.dimensions import AREA_SPEED
from scoring.page import text
from scoring.page.own.entry import Edited, entry, place_of
from scoring.page.state.own import WRONG, plain, wrong_at
from scoring.words.keys import WORDS

ACROSS = 4


def rows_form(sheet, key, model, words):
    """Draw each entry of a list with its fields, and the way to add one."""
    text.heading(words)
    fields = fields_of(model)
    entries = at(sheet.data, key, [])
    for k, _ in enumerate(entries):
        columns = []
        for n, field in enumerate(fields):
            with place_of(columns, n, ACROSS):
                entry(sheet, field, _said(field.path), f"{key}.{k}.")
        st.button(
            "Take it away",
            key=f"drop_{sheet.name}_{key}_{k}",
            on_click=_drop,
            args=(sheet.name, key, k),
        )
    needed = [field for field in fields if field.is_required]
    columns = []
    for n, field in enumerate(needed):
        with place_of(columns, n, ACROSS):
            unit = field.unit(sheet.currency)
            label = f"New: {_said(field.path).lower()}"
            label = f"{label}, {unit}" if unit else label
            st.text_input(label, key=f"new_{key}_{field.path}")
    if wrong_at(f"new_{key}"):
        text.wrong(wrong_at(f"new_{key}"))
    st.button("Add", key=f"add_{key}", on_click=_add, args=(sheet.name, key, needed))


def speeds_form(sheet):
    """Draw the speed in each pass mode, and the way to add one."""
    text.heading("Printing speed by passes")
    modes = at(sheet.data, "speed", {})
    columns = []
    for n, mode in enumerate(modes):
        with place_of(columns, n, ACROSS):
            field = FormField(f"speed.{mode}", FIGURE, AREA_SPEED)
            entry(sheet, field, f"{mode}-pass")
    left, middle, _, _ = st.columns(ACROSS)
    with left:
        st.text_input("New: passes", key="new_speed_passes")
    with middle:
        st.text_input("New: speed, m²/h", key="new_speed_value")
    if wrong_at("new_speed"):
        text.wrong(wrong_at("new_speed"))
    st.button("Add", key="add_speed", on_click=_add_speed, args=(sheet.name,))


def _said(path):
    said = WORDS.get(path, path.replace("_", " "))
    return said[:1].upper() + said[1:]


def _drop(name, key, k):
    Edited(name).apply({f"{key}.{k}": REMOVED}, f"new_{key}")


def _add(name, key, fields):
    """Add an entry of what was typed."""
    sheet, made = Edited(name), {}
    try:
        for field in fields:
            typed = st.session_state.get(f"new_{key}_{field.path}", "")
            made |= change_of({}, field, typed, sheet.currency)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[f"new_{key}"] = plain(error)
        return
    held = at(sheet.data, key, [])
    if sheet.apply({key: [*held, made]}, f"new_{key}"):
        for field in fields:
            st.session_state[f"new_{key}_{field.path}"] = ""


def _add_speed(name):
    """Add a pass mode with its speed."""
    sheet = Edited(name)
    passes = st.session_state["new_speed_passes"].strip()
    field = FormField(f"speed.{passes}", FIGURE, AREA_SPEED)
    try:
        typed = st.session_state["new_speed_value"]
        changes = change_of(sheet.data, field, typed, sheet.currency)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})["new_speed"] = plain(error)
        return
    if sheet.apply(changes, "new_speed"):
        st.session_state["new_speed_passes"] = ""
        st.session_state["new_speed_value"] = ""
