"""A participant's screen: one question at a time, on a phone."""

import secrets

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import papers, seat
from scoring.page.workshop.others import others
from scoring.page.workshop.outcome import leaders_seen, own_beside, results
from scoring.page.workshop.questions import about_of, ask
from scoring.page.workshop.words import TO_DO, plan_buyer, title_of
from scoring.workshop import reached
from scoring.workshop.answers import give
from scoring.workshop.pack import N_BUYERS
from scoring.workshop.papers import STAGE_WORDS, brief_groups
from scoring.workshop.people import MOST_TEAMS, change_team, rename
from scoring.workshop.rooms import room_of
from scoring.workshop.session import may_see
from scoring.workshop.views import what_is_seen

PULSE_S = 2  # how often a phone asks whether the room has moved on


def participant(view):
    """Draw a participant's screen."""
    reached.note(st.context.ip_address)
    _pulse(_mark(view.room))
    room = view.room
    with st.container(key="where"):
        st.html(
            f'<p class="stage">{STAGE_WORDS[room.stage]}</p>'
            + text.said(TO_DO[room.stage])
        )
    pack = seat.pack()
    if room.closed is not None:
        st.info("The room is closed. Thank you.")
    elif room.is_paused:
        st.info("The trainer has paused the room. What you sent is kept.")
    else:
        _question()
    _to_read(view, pack)
    if room.shown & {"answers", "names"}:
        others()
    _me(view)


def _mark(room):
    return room.stage, room.is_paused, room.shown, room.closed


@st.fragment(run_every=PULSE_S)
def _pulse(known):
    """Run the screen anew once the room has moved on; else nothing is sent."""
    try:
        now = _mark(room_of(seat.store(), seat.token()))
    except ScoringError as error:
        if "did not answer" not in str(error):
            st.rerun()
        st.warning("The room does not answer just now. What you sent is kept.")
        return
    if now != known:
        st.rerun()


@st.fragment
def _question():
    """Draw the question that is next, or the one somebody went back to."""
    pack = seat.pack()
    try:
        view = what_is_seen(seat.store(), seat.token(), pack.plan)
    except ScoringError:
        st.rerun()
    if said := st.session_state.pop("fault_answer", ""):
        with st.container(key="fault_answer_shown"):
            st.error(text.escaped(said))
    if not view.askings:
        return
    stage, n = view.room.stage, len(view.askings)
    at = st.session_state.setdefault(f"at_{stage}", _first_open(view.askings))
    if at >= n:
        _all_sent(stage, n)
        return
    asking = view.askings[at]
    with st.container(key="question"):
        n_said = sum(each.said is not None for each in view.askings)
        st.progress((at + 1) / n, text=f"{at + 1} of {n}, {n_said} sent")
        title = asking.text or title_of(pack.plan, asking.id, plan_buyer(view))
        st.html(f'<p class="question">{_plain(title)}</p>')
        ask(
            asking,
            f"q_{stage}_{asking.id}",
            _saver(stage, asking, at),
            about_of(stage, view.buyer, pack),
        )
    with st.container(key="turn", horizontal=True):
        st.button(
            "Back",
            key="turn_back",
            disabled=at == 0,
            on_click=_turn,
            args=(stage, at - 1),
        )
        st.button(
            "Later" if asking.said is None else "On",
            key="turn_on",
            on_click=_turn,
            args=(stage, at + 1),
        )
    leaders_seen(view, pack)


def _plain(words):
    return text.said(words).removeprefix("<p>").removesuffix("</p>")


def _first_open(askings):
    """Return the place of the first question without an answer."""
    open_ones = [k for k, each in enumerate(askings) if each.said is None]
    return open_ones[0] if open_ones else len(askings)


def _saver(stage, asking, at):
    """Return a function that keeps an answer and turns to the next question."""

    def save(value, is_done):
        if value is not None:
            try:
                give(
                    seat.store(),
                    seat.token(),
                    stage,
                    asking.id,
                    value,
                    secrets.token_urlsafe(16),
                )
            except ScoringError as error:
                st.session_state["fault_answer"] = str(error)
                return
        # Who leads is seen before the next prediction is made.
        if is_done:
            _turn(stage, at + 1)

    return save


def _turn(stage, at):
    st.session_state[f"at_{stage}"] = at


def _all_sent(stage, n):
    with st.container(key="all_sent"):
        st.success("That was all for this stage. What you sent is kept.")
        st.button("Look through it again", key="again", on_click=_turn, args=(stage, 0))
    view = what_is_seen(seat.store(), seat.token(), seat.pack().plan)
    if lacking := sum(each.said is None for each in view.askings):
        word = "question is" if lacking == 1 else "questions are"
        text.say(f"{lacking} {word} without an answer.")
    leaders_seen(view, seat.pack())


def _to_read(view, pack):
    """Draw what the stage asks to be read, and what was found."""
    stage = view.room.stage
    worked = seat.worked(pack)
    if stage == "reveal":
        own_beside(view, pack, worked)
    if view.buyer is not None and stage in ("buyer", "prices", "reveal", "swap"):
        papers.buyer(worked.papers[view.buyer])
    if stage == "visit":
        with st.expander(f"For whom you visit: {text.escaped(pack.visitor.title)}"):
            papers.groups(brief_groups(pack.visitor))
    if "sixth" in may_see(view.room):
        papers.buyer(worked.papers[N_BUYERS], heading="The unseen buyer")
        found = seat.result(view, pack)
        if found is not None:
            results(found)
    papers.sheets(worked)


def _me(view):
    """Draw who one is; the nickname may change at any time, the team until the deal."""
    person = view.person
    with st.expander(
        f"You: {text.escaped(person.nickname)}, team {person.team}", key="me"
    ):
        if said := st.session_state.pop("fault_me", ""):
            st.error(text.escaped(said))
        st.text_input("Nickname", person.nickname, key="me_name", max_chars=200)
        st.button("Change it", key="me_go", on_click=_rename)
        if view.room.place <= 1:
            st.number_input("Team", 1, MOST_TEAMS, person.team, key="me_team")
            st.button("Change the team", key="me_team_go", on_click=_change_team)


def _rename():
    _tried(rename, st.session_state["me_name"])


def _change_team():
    _tried(change_team, int(st.session_state["me_team"]))


def _tried(deed, value):
    try:
        deed(seat.store(), seat.token(), value)
    except ScoringError as error:
        st.session_state["fault_me"] = str(error)
