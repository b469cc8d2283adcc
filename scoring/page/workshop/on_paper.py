"""Answers that came on paper, typed in by the trainer."""

import secrets

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.questions import about_of, ask
from scoring.page.workshop.words import title_of
from scoring.workshop.answers import give_on_paper, room_answers
from scoring.workshop.papers import STAGE_WORDS
from scoring.workshop.people import MOST_TEAMS, add_on_paper
from scoring.workshop.session import Asking, buyer_of


def on_paper(view, pack):
    """Draw the form for answers on paper."""
    with st.expander("Answers on paper", key="on_paper"):
        if fault := st.session_state.pop("fault_paper", ""):
            st.error(text.escaped(fault))
        st.text_input("Nickname on the paper", key="paper_name", max_chars=200)
        st.number_input("Its team", 1, MOST_TEAMS, 1, key="paper_team")
        st.button("Add this person", key="paper_add", on_click=_add)
        people = {p.id: p for p in view.people if p.is_on_paper}
        if not people:
            text.note("Add a person first; then their answers can be typed in.")
            return
        who = st.selectbox(
            "Whose answers",
            list(people),
            format_func=lambda i: people[i].nickname if i in people else "",
            key="paper_who",
        )
        asked = {
            (stage, name): kind
            for stage in view.room.names[: view.room.place + 1]
            for name, kind in view.room.asked[stage].items()
        }
        if not asked:
            text.note("Nothing has been asked yet.")
            return
        buyer = buyer_of(people[who].team)
        stage, name = st.selectbox(
            "Question",
            list(asked),
            format_func=lambda q: (
                f"{STAGE_WORDS[q[0]]}: {title_of(pack.plan, q[1], buyer)}"
            ),
            key="paper_question",
        )
        said = {
            (a.stage, a.question): a.value
            for a in room_answers(seat.store(), seat.token())
            if a.person_id == who
        }
        test = next(
            (
                q
                for q in pack.plan.questions
                if name in (f"before.{q.id}", f"after.{q.id}")
            ),
            None,
        )
        value = said.get((stage, name))
        asking = Asking(
            name,
            asked[stage, name],
            test.text if test else "",
            test.choices if test else (),
            value,
        )
        if value is not None:
            text.note("An answer is kept; what you send takes its place.")
        ask(
            asking,
            f"paper_{who}_{stage}_{name}",
            _saver(who, stage, name),
            about_of(stage, buyer, pack),
        )


def _add():
    state = st.session_state
    try:
        add_on_paper(
            seat.store(), seat.token(), state["paper_name"], int(state["paper_team"])
        )
    except ScoringError as error:
        state["fault_paper"] = str(error)
        return
    state["paper_name"] = ""


def _saver(who, stage, name):
    def save(value, is_done):
        if value is None:
            return
        try:
            give_on_paper(
                seat.store(),
                seat.token(),
                who,
                stage,
                name,
                value,
                secrets.token_urlsafe(16),
            )
        except ScoringError as error:
            st.session_state["fault_paper"] = str(error)

    return save
