"""What is kept of a room: hand-outs, workbook, notice board; closing and deleting."""

import io
import zipfile

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import seat
from scoring.workshop.pack_check import checked
from scoring.workshop.rooms import close, delete_room

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def after(view, pack):
    """Draw what the trainer can keep, and how the room ends."""
    code = view.room.code
    st.subheader("Keep")
    with st.container(horizontal=True):
        st.download_button(
            "Hand-outs and key (HTML, zipped)",
            lambda: _handouts(pack),
            f"handouts-{code}.zip",
            "application/zip",
            key="get_handouts",
            on_click="ignore",
        )
        st.download_button(
            "Workbook of the room",
            lambda: _workbook(pack),
            f"room-{code}.xlsx",
            XLSX,
            key="get_workbook",
            on_click="ignore",
        )
        st.download_button(
            "Page for the notice board",
            lambda: _notice(pack),
            f"notice-{code}.html",
            "text/html",
            key="get_notice",
            on_click="ignore",
        )
    text.note(
        "The key is for you alone. The workbook holds nicknames; the page for the "
        "notice board holds none."
    )
    st.subheader("End")
    with st.container(horizontal=True):
        st.button(
            "Close the room",
            key="close_go",
            disabled=view.room.closed is not None,
            on_click=_tried,
            args=(close,),
        )
        st.button("Leave this screen", key="leave_go", on_click=_leave)
    text.note("Closed, a room takes nothing more and can still be read.")
    st.checkbox(f"Delete room {code} with all answers, for ever", key="delete_sure")
    st.button(
        "Delete",
        key="delete_go",
        disabled=not st.session_state.get("delete_sure"),
        on_click=_delete,
    )


def _handouts(pack):
    from scoring.workshop.handouts import handouts  # needed by this button alone

    found, firm = checked(pack)
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, page in handouts(pack, found, firm).items():
            archive.writestr(name, page)
    return buffer.getvalue()


def _workbook(pack):
    from scoring.workshop.results_of import room_workbook  # as above

    return room_workbook(seat.store(), seat.token(), seat.worked(pack).found)


def _notice(pack):
    from scoring.workshop.notice import notice_board  # as above
    from scoring.workshop.shared_results import result_seen

    found = seat.worked(pack).found
    return notice_board(
        pack, found, result_seen(seat.store(), seat.token(), pack, found)
    )


def _tried(deed):
    try:
        deed(seat.store(), seat.token())
    except ScoringError as error:
        st.session_state["fault_room"] = str(error)


def _leave():
    from scoring.workshop.rooms import leave

    _tried(leave)
    seat.stand_up()


def _delete():
    _tried(delete_room)
    seat.stand_up()
