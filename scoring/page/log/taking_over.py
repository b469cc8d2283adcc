"""What a job log would change, field by field, and the button that takes it over."""

from dataclasses import replace
from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.record import checked
from scoring.inputs.machine_folder import read_machine
from scoring.page import text
from scoring.page.state.own import change, own, wrong_at
from scoring.questions.job_log import BRIEF, SHEET
from scoring.questions.log_taken_over import taken_over
from scoring.words.job_log import CHANGES_HEAD, FILES, change_name, change_rows

USED = "job_log_used"  # (note, what was wrong)
KEY = "job_log_take"


def taking_over(found):
    """Draw the fields, which of them to leave, and the button."""
    note, wrong = st.session_state.get(USED, ("", ""))
    if wrong or wrong_at(KEY):
        text.faults("This cannot be taken over.", wrong or wrong_at(KEY))
    elif note:
        text.say(note)
    if not found.changes:
        text.say("It changes no field.")
        return
    text.heading("What it would change", "Nothing is changed until you take it over.")
    for file in (SHEET, BRIEF):
        rows = change_rows(found, file)
        if rows:
            head = (f"{FILES[file]}: {CHANGES_HEAD[0]}", *CHANGES_HEAD[1:])
            text.table(head, rows, numbers=(3,))
    names = {f"{c.file} {c.path}": change_name(found, c) for c in found.changes}
    st.multiselect(
        "Leave these as they are",
        list(names),
        format_func=names.get,
        key="job_log_leave",
    )
    leave = set(st.session_state["job_log_leave"])
    st.button(
        "Take the others over",
        key=KEY,
        type="primary",
        on_click=_take_over,
        args=(found, leave),
    )
    downloads(found, leave)


def downloads(found, leave):
    """Offer sheet and brief as they would be."""
    columns = st.columns(2)
    for column, file in zip(columns, (SHEET, BRIEF), strict=True):
        record = found.machine if file == SHEET else found.brief
        column.download_button(
            f"The {FILES[file]} with these fields (YAML)",
            _text(found, file, leave),
            Path(record.source).name or f"{file}.yaml",
            "application/yaml",
            key=f"download_job_log_{file}",
            on_click="ignore",
        )


def _text(found, file, leave):
    """Return a file with the changes that are not left out."""
    paths = [c.path for c in found.changes if f"{c.file} {c.path}" in leave]
    return taken_over(found, file, paths)


def _take_over(found, leave):
    """Put the fields into the case that all screens use."""
    sheet, brief = (_text(found, file, leave) for file in (SHEET, BRIEF))
    note = "All screens now use what the log says."
    if own() is not None:
        took = change(lambda case: _changed(case, found, sheet, brief), KEY)
        st.session_state[USED] = (f"{note} Undo takes it back." if took else "", "")
        return
    try:
        machine = read_machine((found.machine.source, sheet.encode()))
        record = load_brief((found.brief.source, brief.encode()))
    except ScoringError as error:
        st.session_state[USED] = ("", str(error))
        return
    sent = st.session_state["sent"]
    name = f"{Path(record.source).name} (with jobs done)"
    sent["machine"][machine.name], sent["brief"][name] = machine, record
    st.session_state["brief"] = name
    st.session_state[USED] = (f"{note} Keep both files.", "")


def _changed(case, found, sheet, brief):
    sheets = case.sheets | {found.machine.source: sheet}
    return checked(replace(case, brief=brief, sheets=sheets))
