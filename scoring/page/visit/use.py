"""The form's figures put into the sheet that all screens use."""

from datetime import date
from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.visit import (
    JUDGED,
    N_NOSES,
    N_RUNS,
    SMELLED,
    TAKEN,
    TIMED,
    TOLD,
    Print,
    later_smells,
    with_measured,
    with_unit,
)
from scoring.page import text
from scoring.page.state.files import put_sheet
from scoring.page.visit.form import WHEN, key_of


def use(form, machine, is_us, base):
    """Draw the button that makes the form's figures count, and what came of it."""
    text.heading("Use what you measured")
    st.button(
        "Use these figures",
        key="visit_use",
        type="primary",
        on_click=save,
        args=(form, machine, is_us, base),
    )
    note, wrong = (st.session_state.get(key(form, x), "") for x in ("note", "wrong"))
    if wrong:
        text.faults("These figures cannot be used; the sheet stays as it was.", wrong)
    elif note:
        text.say(note)
    if is_made(form, machine):
        st.download_button(
            "The sheet with these figures (YAML)",
            machine.text,
            f"{Path(machine.source).stem}.yaml",
            "application/yaml",
            key="download_visit",
            on_click="ignore",
        )


def key(form, what):
    """Return the key under which something of a form is kept, as plain text."""
    return f"visit_{form}_{what}"


def is_made(form, machine):
    """Return whether a machine's sheet is the one that the form's figures made."""
    return st.session_state.get(key(form, "after")) == machine.text


def save(form, machine, is_us, base):
    """Put the form's figures into the machine that all screens use; whether it took.

    They are put into the sheet as it was before the visit, so that a figure which is
    changed or emptied, and used again, leaves nothing behind. Both sheets are kept as
    texts: a reload knows them again.
    """
    state = st.session_state
    before = _before(form, machine)
    typed, notes = _typed(form, is_us)
    print_ = _print(form, is_us)
    state[key(form, "wrong")] = ""
    if base is not None:
        state["visit_compared"] = base  # with the answer that the next run finds
    if not any(map(_is_typed, (*typed.values(), print_.times))):
        if is_made(form, machine):
            put_sheet(before)
        note = "There is no figure to use; the sheet is as it was before the visit."
        state[key(form, "note")] = note
        return True
    try:
        today = date.today().isoformat()
        sheet = with_measured(before.text, typed, [print_], notes, today)
        changed = put_sheet(read_machine((before.source, sheet.encode())))
    except ScoringError as error:
        state[key(form, "wrong")] = str(error)
        return False
    state[key(form, "before")], state[key(form, "source")] = before.text, before.source
    state[key(form, "after")] = changed.text
    note = "All screens now use these figures, as measured. Keep the sheet as a file."
    state[key(form, "note")] = note
    return True


def _before(form, machine):
    """Return the Machine as it was before the visit."""
    if not is_made(form, machine):
        return machine
    source, sheet = (st.session_state[key(form, x)] for x in ("source", "before"))
    return read_machine((source, sheet.encode()))


def _typed(form, is_us):
    """Return ({path: figures as typed, with units}, {path: note})."""
    typed, notes = {}, {}
    for figure in (*TIMED, *TAKEN, *JUDGED, *TOLD):
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
