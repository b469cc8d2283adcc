"""The screen "Start": three doors, seven questions, and the answer."""

import streamlit as st

from scoring.page import text
from scoring.page.start.leaflets import leaflets
from scoring.page.start.make import make
from scoring.page.start.questions import assumptions, questions
from scoring.page.state.files import loaded
from scoring.page.state.memory import echo, keep

FIRST = "I am choosing my first machine"
ANOTHER = "I run a machine and think about another"
TEACH, EXAMPLE = "I teach", "Show me an example"
DOORS = (FIRST, ANOTHER, TEACH, EXAMPLE)
WHAT = (
    "Which machine for printing murals on walls is right for your own work: say what "
    "you know, leave out what you do not."
)


def main():
    """Draw the screen."""
    text.title("Start")
    text.say(WHAT)
    keep("start_door", DOORS, FIRST)
    st.radio("What brings you here?", DOORS, key="start_door", persist_state="session")
    {TEACH: teach, EXAMPLE: example}.get(st.session_state["start_door"], begin)()
    echo(door=st.session_state["start_door"])


def begin():
    """Draw the questions, the leaflets, what is assumed, and the way to the answer."""
    questions(owns=st.session_state["start_door"] == ANOTHER)
    leaflets()
    assumptions()
    if st.button("See the answer", key="start_go", type="primary"):
        wrong = make()
        if wrong:
            text.faults("Some answers cannot be used yet; nothing is lost.", wrong)
        else:
            st.switch_page("scoring/page/answer/screen.py")


def teach():
    """Lead on to the exercise with a room."""
    text.say("Open a room, hand out papers, and see what turns minds.")
    st.page_link("scoring/page/workshop/screen.py", label="To the workshop ▸")


def example():
    """Lead on to an invented example."""
    briefs = [name for name in loaded().briefs if name not in own_names()]
    text.say("Buyers, places, machines and figures of the examples are invented.")
    for n, name in enumerate(briefs):
        if st.button(text.escaped(loaded().briefs[name].title), key=f"start_see_{n}"):
            st.session_state["brief"] = name
            st.switch_page("scoring/page/answer/screen.py")


def own_names():
    """Return the names of the cases of one's own."""
    return st.session_state.get("own", ())


main()
