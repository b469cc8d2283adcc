"""The screen "Start": whose case it is to be, and seven questions that make it."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.record import Case, checked
from scoring.inputs.case.starter import FIRST, SECOND, brief_of
from scoring.page import text
from scoring.page.start.questions import answers, ask, assumed
from scoring.page.state.files import broken
from scoring.page.state.memory import echo
from scoring.page.state.own import close, open_new, own, plain, records

DOORS = {
    FIRST: "I am choosing my first machine",
    SECOND: "I run a machine and think about another",
}
NEXT = "start_next"


def main():
    """Draw the screen."""
    if st.session_state.pop(NEXT, False):
        st.switch_page("scoring/page/machines.py")
    text.title("Start")
    broken()
    door = st.session_state.get("start_door")
    if own() is not None and door is None:
        opened()
    elif door is None:
        text.say(
            "Which wall-printing machine suits your work, your crew and your money? "
            "Some questions, a leaflet or two, and you have an answer of your own."
        )
    if door is None:
        doors()
    else:
        questions(door)
    echo(start_door=door, is_own=own() is not None)


def opened():
    """Say which case is open, and where it goes on."""
    of = records()
    n = len(of.machines) + len(of.waiting)
    text.say(
        f"Open: {of.brief.title}, with {len(of.brief.work)} "
        f"{'kind' if len(of.brief.work) == 1 else 'kinds'} of job and "
        f"{n} {'machine' if n == 1 else 'machines'}."
    )
    with st.container(horizontal=True):
        st.page_link("scoring/page/work.py", label="Your work ▸")
        st.page_link("scoring/page/machines.py", label="Your machines ▸")
        if of.machines:
            st.page_link("scoring/page/answer/screen.py", label="Answer ▸")
        st.page_link("scoring/page/keep.py", label="Save and compare ▸")
    text.heading("Another case", "The open one stays kept.")


def doors():
    """Draw the ways in."""
    with st.container(key="doors"):
        for door, words in DOORS.items():
            st.button(
                words,
                key=f"door_{door}",
                on_click=_enter,
                args=(door,),
                type="primary" if door == FIRST else "secondary",
                width="stretch",
            )
        if st.button("I teach", key="door_teach", width="stretch"):
            st.switch_page("scoring/page/workshop/screen.py")
        if st.button("Show me an example", key="door_example", width="stretch"):
            close()
            st.switch_page("scoring/page/answer/screen.py")
        if st.button("Open a case that I saved", key="door_open", width="stretch"):
            st.switch_page("scoring/page/keep.py")
    text.note("The example is invented: places, machines and figures.")


def _enter(door):
    st.session_state["start_door"] = door


def questions(door):
    """Draw the questions, what is assumed, and the way on."""
    st.button("◂ Back", key="door_back", on_click=_enter, args=(None,))
    ask(door)
    with st.expander("What is assumed until you say otherwise"):
        assumed(answers(door).currency)
    wrong = st.session_state.get("start_wrong_said", "")
    if wrong:
        text.wrong(wrong)
    st.button("Make it my case", key="do_start", type="primary", on_click=_make)
    text.caution("money")


def _make():
    """Make a case of the answers, or say what is wrong with them."""
    door = st.session_state["start_door"]
    try:
        case = checked(Case(brief_of(answers(door))))
    except ScoringError as error:
        st.session_state["start_wrong_said"] = plain(error)
        return
    open_new(case)
    st.session_state[NEXT] = True


main()
