"""A field of a form on the page: typed, checked at once, kept, or refused in words."""

import streamlit as st

from scoring.inputs.case import fields
from scoring.inputs.case.edit import data_of
from scoring.inputs.case.fields import CHOICE, NAMES, YES_NO, change_of, shown_in
from scoring.page import text
from scoring.page.state.moved import rename_machine
from scoring.page.state.own import WRONG, change, own, plain, wrong_at

NOT_SAID = "–"  # among choices: what nobody says


BASIS = {"enquiries": "asked for", "guess": "hoped for"}


class Edited:
    """What a form changes: the brief, or one machine's sheet, of the open Case."""

    def __init__(self, name=None):
        self.name = name
        self.data = data_of(self.text)
        self.currency = data_of(own().brief).get("currency", "EUR")

    @property
    def text(self):
        return own().brief if self.name is None else own().sheets[self.name]

    def apply(self, changes, key):
        """Take up {path: value}; return whether it took."""
        from scoring.inputs.case.record import with_brief, with_sheet

        if self.name is None:
            return change(lambda case: with_brief(case, changes), key)
        took = change(lambda case: with_sheet(case, self.name, changes), key)
        if took and "name" in changes:
            rename_machine(self.data.get("name"), changes["name"])
        return took


def entry(sheet, field, label, path="", key=None, choices=None, help=None):
    """Draw one field; what is typed is taken up at once, or a sentence says why not.

    Parameters
    ----------
    sheet : Edited
    field : FormField
    label : in words, without its unit
    path : where the record stands, with a dot at its end
    choices : for a list of names: those that may be picked
    """
    key = key or f"own_{sheet.name or 'brief'}_{path}{field.path}"
    shown = shown_in(sheet.data, field, path)
    unit = field.unit(sheet.currency)
    said = text.escaped(f"{label}, {unit}" if unit else label)
    more = {"key": key, "help": help, "on_change": _take}
    more["args"] = (key, sheet.name, field, path)
    if field.kind == NAMES and choices is not None:
        held = [name for name in _list(sheet.data, f"{path}{field.path}")]
        st.session_state[key] = [name for name in held if name in choices]
        st.multiselect(said, choices, **more)
    elif field.kind in (CHOICE, YES_NO):
        options = [*field.choices, NOT_SAID]
        st.session_state[key] = shown if shown in options else NOT_SAID
        unsaid = "as usual" if sheet.name is None else "not told"
        st.selectbox(said, options, format_func=_spoken(unsaid), **more)
    else:
        if not wrong_at(key):
            st.session_state[key] = shown
        st.text_input(said, placeholder=_placeholder(field), **more)
    if wrong_at(key):
        text.wrong(wrong_at(key))


def place_of(columns, n, across):
    """Return the place of the n-th field, a row of places for each so many.

    `columns` are those of the last row, which a phone stacks in this order.
    """
    if n % across == 0:
        columns[:] = st.columns(across)
    return columns[n % across]


def _list(data, path):
    from scoring.inputs.case.edit import at

    found = at(data, path, [])
    return found if isinstance(found, list) else []


def _spoken(unsaid):
    return lambda choice: ({NOT_SAID: unsaid} | BASIS).get(
        choice, choice.replace("_", " ")
    )


def _placeholder(field):
    if field.is_required:
        return "not told"
    return "" if field.kind in (fields.TEXT, NAMES) else "as usual"


def _take(key, name, field, path):
    """Take up what was typed or picked."""
    from scoring.errors import ScoringError

    sheet = Edited(name)
    typed = st.session_state[key]
    if typed == NOT_SAID and field.kind in (CHOICE, YES_NO):
        typed = ""
    note = {"note": ""} if _is_assumed(sheet.data, f"{path}{field.path}") else {}
    try:
        changes = change_of(sheet.data, field, typed, sheet.currency, path, **note)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[key] = plain(error)
        return
    if field.is_required and not str(typed).strip() and name is not None:
        changes = {f"{path}{field.path}": "unknown"}
    sheet.apply(changes, key)


def _is_assumed(data, path):
    from scoring.inputs.case.edit import at
    from scoring.inputs.case.starter import ASSUMED

    held = at(data, path)
    return isinstance(held, dict) and held.get("note") == ASSUMED
