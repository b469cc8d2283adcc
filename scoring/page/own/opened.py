"""Files opened in a case of one's own: a whole case, a brief, a machine's sheet."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.record import Case, checked, with_new_sheet, with_sheet_text
from scoring.inputs.case.zipped import MAX_BYTES, unzipped
from scoring.inputs.machine_folder import read_machine
from scoring.page import text
from scoring.page.state.kept import set_page
from scoring.page.state.own import change, open_new, records, wrong_at

WRONG_FILE = "wrong_opened"
MOST_MB = MAX_BYTES // 1_000_000


def open_file():
    """Draw the uploader of a case that was saved: a .zip, or a brief alone."""
    st.file_uploader(
        "Open a case (.zip, or a brief as YAML)",
        type=["zip", "yaml", "yml"],
        key="open_case",
        max_upload_size=MOST_MB,
        on_change=_open,
    )
    if st.session_state.get(WRONG_FILE):
        text.faults("This file cannot be opened.", st.session_state[WRONG_FILE])


def _open():
    sent = st.session_state["open_case"]
    st.session_state.pop(WRONG_FILE, None)
    if sent is None:
        return
    source = (sent.name, sent.getvalue())
    try:
        case, page = _case_of(source)
    except ScoringError as error:
        st.session_state[WRONG_FILE] = str(error)
        return
    open_new(case)
    set_page(records().brief, page)


def _case_of(source):
    """Return (Case, what came with it) of a .zip, or of a brief that stands alone."""
    if not source[0].lower().endswith((".yaml", ".yml")):
        return unzipped(source)
    load_brief(source)  # its faults with the file's own name
    return checked(Case(source[1].decode("utf-8-sig"))), None


def upload_sheet():
    """Draw the uploader of a machine's sheet, which is added to the open Case."""
    st.file_uploader(
        "A machine's sheet (YAML)",
        type=["yaml", "yml"],
        key="upload_own_sheet",
        on_change=_add,
    )
    if wrong_at("own_sheet_file"):
        text.faults("This file cannot be used.", wrong_at("own_sheet_file"))


def _add():
    sent = st.session_state["upload_own_sheet"]
    if sent is None:
        return
    source = (sent.name, sent.getvalue())

    def added(case):
        machine = read_machine(source)
        names = {read_machine((n, t.encode())).name: n for n, t in case.sheets.items()}
        if machine.name in names:  # a sheet that is sent again
            return with_sheet_text(case, names[machine.name], machine.text)
        return with_new_sheet(case, machine.text)[0]

    change(added, "own_sheet_file")
