"""The screen "Workshop": the door, or the room as this browser's role sees it."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page.state.memory import echo
from scoring.page.workshop import looks, seat
from scoring.page.workshop.door import door
from scoring.page.workshop.participant import participant
from scoring.page.workshop.projector import projector
from scoring.page.workshop.trainer import trainer
from scoring.workshop.seats import PARTICIPANT, TRAINER
from scoring.workshop.views import what_is_seen

ROLES = {TRAINER: trainer, PARTICIPANT: participant}


def main():
    """Draw the screen."""
    looks.style()
    view = _view() if seat.token() else None
    if view is None:
        door()
        echo(role="", stage="")
        return
    seat.keep_address()
    with st.container(key=f"room_{view.role}"):
        ROLES.get(view.role, projector)(view)
    echo(role=view.role, stage=view.room.stage)


def _view():
    """Return the View of this browser's token; the door says why there is none."""
    try:
        return what_is_seen(seat.store(), seat.token(), seat.pack().plan)
    except ScoringError as error:
        st.session_state["door_fault"] = str(error)
        if "did not answer" not in str(error):
            seat.stand_up()
        return None


main()
