"""The trainer's screen: who is in, who has answered, moves on, shows, closes."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.after import after
from scoring.page.workshop.bars import bars_html, rows_of
from scoring.page.workshop.invite import invite
from scoring.page.workshop.on_paper import on_paper
from scoring.page.workshop.others import names_html
from scoring.page.workshop.outcome import results, teams_html
from scoring.page.workshop.words import (
    FOR_TRAINER,
    SHOW_WORDS,
    clock,
    title_of,
)
from scoring.workshop.papers import STAGE_WORDS
from scoring.workshop.people import remove
from scoring.workshop.rooms import move, pause, show
from scoring.workshop.shared_results import teams_seen
from scoring.workshop.views import what_is_seen

EVERY_S = 2


def trainer(view):
    """Draw the trainer's screen."""
    if key := st.session_state.get("room_key"):
        _key_once(view.room.code, key)
    pack = seat.pack()
    seat.worked(pack)  # so that nobody waits for it at the reveal
    _steering(view)
    now, inviting, paper, end = st.tabs(
        ["Now", "Code and wall", "People and paper", "Keep and end"], key="trainer_tabs"
    )
    with now:
        _shows(view)
        _now()
    with inviting:
        invite(view)
    with paper:
        _removing(view)
        on_paper(view, pack)
    with end:
        after(view, pack)


def _key_once(code, key):
    """Show the key of a room that was just opened."""
    with st.container(key="room_key_shown", border=True):
        st.subheader("Write this key down now")
        st.code(key, language=None)
        text.say(
            f"With the code {code} it brings you back on any device; it is shown only "
            "now. Do not project this screen; the wall has one of its own."
        )
        st.button("I have it", key="key_seen", type="primary", on_click=_forget_key)


def _forget_key():
    st.session_state.pop("room_key", None)


def _steering(view):
    """Draw where the room is, and the buttons that move it."""
    room, at = view.room, view.room.place
    is_shut = room.closed is not None
    with st.container(key="steering"):
        st.html(
            f'<p class="stage">{STAGE_WORDS[room.stage]} '
            f"<small>stage {at + 1} of {len(room.names)}, room {room.code}</small></p>"
        )
        if fault := st.session_state.pop("fault_room", ""):
            st.error(text.escaped(fault))
        if is_shut:
            st.info("The room is closed; it takes nothing more.")
        text.say(FOR_TRAINER[room.stage])
        with st.container(horizontal=True, key="moves"):
            before = room.names[at - 1] if at else None
            following = room.names[at + 1] if at + 1 < len(room.names) else None
            st.button(
                f"Back: {STAGE_WORDS[before]}" if before else "Back",
                key="move_back",
                disabled=is_shut or before is None,
                on_click=_tried,
                args=(move, before),
            )
            st.button(
                "Go on" if room.is_paused else "Pause",
                key="pause",
                disabled=is_shut,
                on_click=_tried,
                args=(pause, not room.is_paused),
            )
            st.button(
                f"Next: {STAGE_WORDS[following]}" if following else "Last stage",
                key="move_on",
                type="primary",
                disabled=is_shut or following is None,
                on_click=_tried,
                args=(move, following),
            )


def _tried(deed, *args):
    """Do something to the room; what is refused is told in a sentence."""
    try:
        deed(seat.store(), seat.token(), *args)
    except ScoringError as error:
        st.session_state["fault_room"] = str(error)


def _shows(view):
    """Draw what the trainer may show to the room."""
    with st.container(horizontal=True, key="shows"):
        for what, words in SHOW_WORDS.items():
            if what == "results" and view.room.stage != "debrief":
                continue
            key = f"show_{what}"
            st.session_state[key] = what in view.room.shown
            st.toggle(
                words,
                key=key,
                disabled=view.room.closed is not None,
                on_change=_show,
                args=(what,),
            )


def _show(what):
    _tried(show, what, bool(st.session_state[f"show_{what}"]))


@st.fragment(run_every=EVERY_S)
def _now():
    """Draw who is in and what was answered, anew every two seconds."""
    pack = seat.pack()
    try:
        view = what_is_seen(seat.store(), seat.token(), pack.plan)
    except ScoringError as error:
        if "did not answer" not in str(error):
            st.rerun()
        st.warning("The room does not answer just now; what was answered is kept.")
        return
    shown = st.session_state.setdefault("stage_drawn", view.room.stage)
    if shown != view.room.stage:  # moved on from another device
        st.session_state["stage_drawn"] = view.room.stage
        st.rerun()
    with st.container(key="progress"):
        state = "paused" if view.room.is_paused else clock(view.seconds_left)
        n_open = _lacking(view)
        done = f"{view.n_people - n_open} have answered all" if view.tallies else ""
        text.say(", ".join(filter(None, (f"{view.n_people} in the room", done, state))))
        st.html(_people_html(view))
        _answers(view, pack)


def _lacking(view):
    """Return how many people have not answered all of the stage."""
    n_asked = len(view.tallies)
    return sum(n < n_asked for n in _counts(view).values())


def _counts(view):
    """Return {nickname: how many answers of the stage}."""
    counts = {person.nickname: 0 for person in view.people}
    for each in view.named:
        counts[each.nickname] += 1
    return counts


def _people_html(view):
    counts, n = _counts(view), len(view.tallies)
    rows = [
        (p.nickname, str(p.team), "paper" if p.is_on_paper else "phone")
        + ((f"{counts[p.nickname]} of {n}",) if n else ())
        for p in sorted(view.people, key=lambda p: (p.team, p.nickname.casefold()))
    ]
    head = ("who", "team", "by") + (("answered",) if n else ())
    if not rows:
        return text.said("Nobody is in yet.")
    return text.table_html(head, rows, label="people")


def _answers(view, pack):
    """Draw what was answered: distributions, then who said what in a fold."""
    asked = view.room.asked[view.room.stage]
    if view.room.stage == "reveal":
        worked = seat.worked(pack)
        st.html(
            teams_html(
                teams_seen(seat.store(), seat.token(), pack, worked.found), worked
            )
        )
    parts = []
    for tally in view.tallies:
        rows = rows_of(tally, asked[tally.question], pack.plan)
        words = f"{title_of(pack.plan, tally.question)} {tally.n} of {tally.of}"
        if rows:
            parts.append((words, bars_html(rows, tally.question)))
    if parts:
        st.html(text.folded_html(parts))
    if view.named:
        st.html(
            text.folded_html([("Who said what", names_html(view.named, pack.plan))])
        )
    if view.room.stage == "debrief":
        if st.toggle("The results, for me alone", key="results_for_me"):
            found = seat.result(view, pack)
            if found is not None:
                results(found)


def _removing(view):
    """Draw how somebody is removed."""
    people = {person.id: person for person in view.people}
    if not people:
        return
    with st.expander("Remove somebody", key="removing"):
        st.selectbox(
            "Who",
            list(people),
            format_func=lambda i: (
                f"{people[i].nickname}, team {people[i].team}" if i in people else ""
            ),
            key="remove_who",
        )
        text.note("All their answers go too.")
        st.button("Remove", key="remove_go", on_click=_remove)


def _remove():
    _tried(remove, st.session_state["remove_who"])
