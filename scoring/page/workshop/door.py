"""The door: join with a code, come back as the trainer, open a room."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.opening import opening
from scoring.workshop import reached
from scoring.workshop.names import LONGEST
from scoring.workshop.people import MOST_TEAMS, join
from scoring.workshop.rooms import enter_as_trainer

SHOWN_TEAMS = 6  # as large buttons; more by number
MOST_TYPED = 200


def door():
    """Draw what somebody meets who is in no room."""
    reached.note(st.context.ip_address)
    if fault := st.session_state.pop("door_fault", ""):
        with st.container(key="door_fault"):
            st.warning(text.escaped(fault))
    code = st.query_params.get("room", "")
    if code:
        joining(code)
        return
    st.subheader("The same machines, other buyers")
    text.say("An exercise for 5 to 60 people with telephones, led by a trainer.")
    join_tab, open_tab, back_tab = st.tabs(
        ["Join a room", "Open a room", "Back to my room"], key="door_tabs"
    )
    with join_tab:
        joining("")
    with open_tab:
        opening()
    with back_tab:
        coming_back()


def joining(code):
    """Draw the form of somebody who joins."""
    with st.container(key="join"):
        st.subheader("Join the room")
        fault("join")
        st.text_input(
            "Code, six letters", value=code[:20], key="join_code", max_chars=20
        )
        st.text_input(
            "A nickname; others in the room may see it",
            key="join_name",
            max_chars=MOST_TYPED,
        )
        st.segmented_control(
            "Team",
            [*range(1, SHOWN_TEAMS + 1), 0],
            default=1,
            required=True,
            format_func=lambda team: str(team or "other"),
            key="join_team",
        )
        if st.session_state["join_team"] == 0:
            st.number_input(
                "Number of the team", 1, MOST_TEAMS, SHOWN_TEAMS + 1, key="join_other"
            )
        st.button(
            "Join", key="join_go", type="primary", width="stretch", on_click=_join
        )
        text.note(
            "Kept in this room: nickname, team and answers, nothing else about you. "
            "All of it goes when the trainer deletes it, at the latest after 30 days."
        )


def _join():
    state = st.session_state
    team = state["join_team"] or int(state.get("join_other", SHOWN_TEAMS + 1))
    try:
        if len(state["join_name"].strip()) > LONGEST:
            n = len(state["join_name"].strip())
            raise ScoringError(f"nickname: {n} characters; {LONGEST} or fewer")
        found = join(
            seat.store(), state["join_code"], state["join_name"], team, seat.caller()
        )
    except ScoringError as error:
        state["fault_join"] = str(error)
        return
    seat.take(found.token)


def coming_back():
    """Draw the form of a trainer who comes back, or takes another device."""
    st.subheader("Back to my room")
    fault("back")
    st.text_input("Code, six letters", key="back_code", max_chars=20)
    st.text_input("The trainer's key", key="back_key", max_chars=60, type="password")
    st.button("Go in", key="back_go", type="primary", on_click=_come_back)


def _come_back():
    state = st.session_state
    try:
        token = enter_as_trainer(
            seat.store(), state["back_code"], state["back_key"], seat.caller()
        )
    except ScoringError as error:
        state["fault_back"] = str(error)
        return
    state["back_key"] = ""
    seat.take(token)


def fault(name):
    """Show, once, why something was refused."""
    if said := st.session_state.pop(f"fault_{name}", ""):
        with st.container(key=f"shown_fault_{name}"):
            st.error(text.escaped(said))
