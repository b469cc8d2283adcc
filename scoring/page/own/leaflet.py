"""A machine from its leaflet: nine fields, each of which may stay “not told”."""

import datetime

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.leaflet import LEAFLET, sheet_of
from scoring.inputs.case.record import with_new_sheet
from scoring.page import text
from scoring.page.own.entry import Edited, place_of
from scoring.page.state.own import WRONG, change, plain, wrong_at

COLUMNS = 3
FEW = 3  # machines, until which the form stays open


def leaflet(brief, n_machines):
    """Draw the nine fields; they keep what is typed until the machine is added."""
    with st.expander("From a leaflet", expanded=n_machines < FEW, key="leaflet_fold"):
        text.note(
            "What it does not tell stays empty: it counts as a wide guess, more likely "
            "on the worse side, and becomes a question to its seller. Other units may "
            "be typed: 52 lb, 14 500 USD."
        )
        columns = []
        for n, field in enumerate(LEAFLET):
            with place_of(columns, n, COLUMNS):
                unit = field.unit(brief.currency)
                hint = "not told" if field.key != "name" else field.example
                st.text_input(
                    f"{field.label}, {unit}" if unit else field.label,
                    key=f"leaflet_{field.key}",
                    placeholder=hint,
                    persist_state="session",
                )
        if wrong_at("leaflet"):
            text.wrong(wrong_at("leaflet"))
        st.button("Add this machine", key="add_leaflet", type="primary", on_click=_add)


def _add():
    """Add the machine, or say what is wrong with what was typed."""
    typed = {
        field.key: st.session_state.get(f"leaflet_{field.key}") or ""
        for field in LEAFLET
    }
    today = datetime.date.today().isoformat()
    try:
        sheet = sheet_of(typed, Edited().currency, today)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})["leaflet"] = plain(error)
        return
    if change(lambda case: with_new_sheet(case, sheet)[0], "leaflet"):
        for field in LEAFLET:
            st.session_state[f"leaflet_{field.key}"] = ""
        st.session_state["own_machine"] = typed["name"].strip()
