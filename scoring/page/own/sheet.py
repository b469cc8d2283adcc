"""One machine's whole sheet: every figure with its range, basis, date and note."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.evidence.sheet_figures import groups
from scoring.inputs.case.edit import at
from scoring.inputs.case.fields import FIGURE, NAMES, FormField, change_of, fields_of
from scoring.inputs.case.typed import NOT_TOLD
from scoring.inputs.dimensions import RATING
from scoring.inputs.machine import Machine, Piece, PrintTest, YearlyPlan
from scoring.inputs.quantity import BASES, UNKNOWN, Quantity, quantity_at
from scoring.page import text
from scoring.page.own.entry import Edited, entry, place_of
from scoring.page.own.rows import rows_form, speeds_form
from scoring.page.state.memory import keep
from scoring.page.state.own import WRONG, own, plain, wrong_at
from scoring.words.keys import in_words

RATINGS = ("print_quality", "software_ease")
TABS = ("Figures", "Speeds and timed prints", "Pieces and plans", "And also")
HEAD = ("", "as told", "basis, date, note")
CAUTIONS = ("lifting", "lamp", "ink", "mains")
HOW = {"measured": "measured", "quoted": "quoted by the seller"}
HOW |= {"estimated": "estimated"}


def figures_of_sheet():
    """Return {path: FormField} of every single figure, in the order of the screen."""
    fields = {f.path: f for f in fields_of(Machine) if f.kind == FIGURE}
    fields |= {
        f"ratings.{name}": FormField(f"ratings.{name}", FIGURE, RATING)
        for name in RATINGS
    }
    keys = [key for of_group in groups().values() for key in of_group]
    return dict(sorted(fields.items(), key=lambda pair: _place(keys, pair[0])))


def _place(keys, path):
    first = path.partition(".")[0]
    return keys.index(first) if first in keys else len(keys)


def whole_sheet(name, machine):
    """Draw the sheet: its figures, its lists, what is no figure, each under a tab."""
    sheet = Edited(name)
    figures, prints, lists, rest = st.tabs(TABS)
    with figures:
        one_figure(sheet, machine)
        tables(machine)
    with prints:
        speeds_form(sheet)
        rows_form(sheet, "print_tests", PrintTest, "Timed prints")
    with lists:
        rows_form(sheet, "pieces", Piece, "Pieces that are carried")
        rows_form(sheet, "subscription_fees", YearlyPlan, "Plans, their yearly fees")
    with rest:
        also(sheet, machine)
        st.download_button(
            "This sheet (YAML)",
            own().sheets[name],
            name,
            "application/yaml",
            key="download_own_sheet",
            on_click="ignore",
        )
    text.caution(*CAUTIONS)


def tables(machine):
    """Draw all figures as they are told, a group a fold."""
    found = ((group, list(_rows(machine, keys))) for group, keys in groups().items())
    st.html(
        text.folded_html(
            (group, text.table_html(HEAD, rows, label=group))
            for group, rows in found
            if rows
        )
    )


def _rows(machine, keys):
    """Yield (what, as told, what it rests on) of a group's figures."""
    for key in keys:
        for path, value in text.leaves({key: getattr(machine, key)}):
            if isinstance(value, Quantity):
                rests = [text.basis(value.basis), value.as_of, value.note]
                is_untold = value.is_unknown
                told = NOT_TOLD[0] if is_untold else value.text
                rests = rests[1:] if is_untold else rests
                yield [in_words(machine, path), told, "; ".join(filter(None, rests))]


def one_figure(sheet, machine):
    """Draw the choice of a figure, and its value, basis, date and note."""
    fields = figures_of_sheet()
    text.heading("Change a figure")
    keep("own_figure", list(fields), "price")
    st.selectbox(
        "Which figure",
        list(fields),
        key="own_figure",
        format_func=lambda path: _called(machine, path),
        persist_state="session",
    )
    field = fields[st.session_state["own_figure"]]
    held = quantity_at(machine, field.path)
    columns = st.columns(4)
    with columns[0]:
        entry(sheet, field, "Value or range", key="own_figure_value")
    more = {
        "basis": held.basis if held is not None and held.basis != UNKNOWN else "",
        "as_of": held.as_of if held is not None else "",
        "note": held.note if held is not None else "",
    }
    with columns[1]:
        options = [basis for basis in BASES if basis != UNKNOWN]
        st.session_state["own_figure_basis"] = more["basis"] or options[-1]
        st.selectbox(
            "It is",
            options,
            key="own_figure_basis",
            format_func=HOW.get,
            on_change=_take_about,
            args=(sheet.name, field, "basis"),
        )
    for column, about, label in (
        (columns[2], "as_of", "As of, such as 2026-11-20"),
        (columns[3], "note", "Note"),
    ):
        with column:
            if not wrong_at(f"own_figure_{about}"):
                st.session_state[f"own_figure_{about}"] = more[about]
            st.text_input(
                label,
                key=f"own_figure_{about}",
                on_change=_take_about,
                args=(sheet.name, field, about),
            )
            if wrong_at(f"own_figure_{about}"):
                text.wrong(wrong_at(f"own_figure_{about}"))


def _called(machine, path):
    """Return a figure in words, whether or not the sheet holds it."""
    said = in_words(machine, path)
    return said[:1].upper() + said[1:]


def _take_about(name, field, about):
    """Take up basis, date or note of a figure that is told."""
    sheet, key = Edited(name), f"own_figure_{about}"
    if at(sheet.data, field.path) is None:
        return
    from scoring.inputs.case.fields import shown_in

    shown = shown_in(sheet.data, field)
    told = {about: st.session_state[key].strip()}
    try:
        changes = change_of(sheet.data, field, shown, sheet.currency, **told)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[key] = plain(error)
        return
    sheet.apply(changes, key)


def also(sheet, machine):
    """Draw what is no figure: names, choices, yes or no."""
    fields = [f for f in fields_of(Machine) if f.kind != FIGURE]
    if not isinstance(at(sheet.data, "surfaces"), dict):
        fields.append(FormField("surfaces", NAMES))
    columns = []
    for n, field in enumerate(fields):
        with place_of(columns, n, 3):
            entry(sheet, field, _called(machine, field.path))
