"""The form's figures put into the sheet that all screens use."""

from datetime import date
from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.visit import (
    N_NOSES,
    N_RUNS,
    SMELLED,
    TAKEN,
    TIMED,
    Print,
    later_smells,
    with_measured,
    with_unit,
)
from scoring.page import text
from scoring.page.state.files import put_sheet
from scoring.page.visit.form import WHEN, key_of


def use(form, machine, is_us):
    """Draw the button that makes the form's figures count, and what came of it."""
    text.heading("Use what you measured")
    st.button(
        "Use these figures",
        key="visit_use",
        type="primary",
        on_click=_use,
        args=(form, machine, is_us),
    )
    note, wrong = st.session_state.get(f"visit_{form}_used", ("", ""))
    if wrong:
        text.faults("These figures cannot be used; the sheet stays as it was.", wrong)
    elif note:
        text.say(note)
    made = st.session_state.get(f"visit_{form}_made")
    if made is not None and made[1] is machine:
        st.download_button(
            "The sheet with these figures (YAML)",
            machine.text,
            f"{Path(machine.source).stem}.yaml",
            "application/yaml",
            key="download_visit",
            on_click="ignore",
        )


def _use(form, machine, is_us):
    """Put the form's figures into the machine that all screens use.

    They are put into the sheet as it was before the visit, so that a figure which is
    changed or emptied, and used again, leaves nothing behind.
    """
    before, made = st.session_state.get(f"visit_{form}_made", (machine, None))
    if made is not machine:
        before = machine
    typed, notes = _typed(form, is_us)
    print_ = _print(form, is_us)
    if not any(map(_is_typed, (*typed.values(), print_.times))):
        if made is machine:
            put_sheet(before)
        note = "There is no figure to use; the sheet is as it was before the visit."
        st.session_state[f"visit_{form}_used"] = (note, "")
        return
    try:
        sheet = with_measured(
            before.text,
            typed,
            [print_],
            notes,
            date.today().isoformat(),
        )
        changed = read_machine((before.source, sheet.encode()))
    except ScoringError as error:
        st.session_state[f"visit_{form}_used"] = ("", str(error))
        return
    st.session_state[f"visit_{form}_made"] = (before, put_sheet(changed))
    note = "All screens now use these figures, as measured. Keep the sheet as a file."
    st.session_state[f"visit_{form}_used"] = (note, "")


def _typed(form, is_us):
    """Return ({path: figures as typed, with units}, {path: note})."""
    typed, notes = {}, {}
    for figure in (*TIMED, *TAKEN):
        keys = [key_of(form, figure.path, n) for n in range(figure.n_runs)]
        unit = figure.us if is_us else figure.metric
        typed[figure.path] = [with_unit(st.session_state[key], unit) for key in keys]
    for figure in SMELLED:
        at_once, hour, day = (
            _noses(form, f"{figure.path}_{n}") for n in range(len(WHEN))
        )
        typed[figure.path] = at_once
        notes[figure.path] = later_smells(hour, day)
    return typed, notes


def _is_typed(entries):
    return any(entry != "" for entry in entries)


def _noses(form, path):
    steps = (st.session_state.get(key_of(form, path, n)) for n in range(N_NOSES))
    return [step for step in steps if step is not None]


def _print(form, is_us):
    unit = "ft" if is_us else "m"
    width, height = (
        with_unit(st.session_state[key_of(form, side)], unit)
        for side in ("width", "height")
    )
    times = [st.session_state[key_of(form, "print", n)] for n in range(N_RUNS)]
    return Print(
        st.session_state[key_of(form, "passes")],
        *(width, height),
        tuple(with_unit(entry, "min") for entry in times),
    )
