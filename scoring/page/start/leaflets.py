"""Machines that one looks at, as far as a leaflet tells."""

import streamlit as st

from scoring.page import text
from scoring.page.start.questions import typed_in

MOST = 12
ABOUT = (
    "What a leaflet does not tell stays empty: it counts as a wide guess on the worse "
    "side, and becomes a question for the seller."
)
FIELDS = (
    ("name", "Name", ""),
    ("price", "Price asked", "not told"),
    ("speed", "Printing speed, m² an hour", "not told"),
    ("passes", "… at how many passes", "4"),
    ("build", "Time to build it up, min", "not told"),
    ("heaviest", "Heaviest piece, kg", "not told"),
    ("reach", "Highest print, m", "not told"),
    ("ink_price", "A litre of ink", "not told"),
    ("fee", "Fees in a year", "not told"),
    ("parts", "Days until parts arrive", "not told"),
    ("smell", "Smell, 0 to 6", "not told"),
)


def leaflets():
    """Draw a form for each machine, and the way to another one."""
    text.heading("Which machines do you look at?", ABOUT)
    n_shown = n_leaflets()
    for n in range(n_shown):
        name = st.session_state.get(f"start_leaflet_{n}_name", "")
        label = text.escaped(name or f"Machine {n + 1}")
        with st.expander(label, expanded=n == n_shown - 1):
            fields(n)
    if n_shown < MOST:
        st.button("Another machine", key="start_more", on_click=_more)


def fields(n):
    """Draw the fields of one leaflet, three side by side."""
    columns = st.columns(3)
    for place, (key, label, example) in enumerate(FIELDS):
        with columns[place % 3]:
            typed_in(f"leaflet_{n}_{key}", label, example)
    text.caution("ink", "lamp")


def n_leaflets():
    """Return how many forms are drawn."""
    return int(st.session_state.get("start_n_leaflets", 1))


def _more():
    st.session_state["start_n_leaflets"] = n_leaflets() + 1
