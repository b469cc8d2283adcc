"""How often the leader is first, as a square of a hundred."""

import streamlit as st

from scoring.charts.base import GREY, colours
from scoring.charts.squares import squares
from scoring.charts.swings import NOBODY
from scoring.page import text


def of_hundred(firm):
    """Draw a hundred squares, each a draw in a hundred, in the colour of who leads."""
    colour = colours(firm.evaluation.names) | {NOBODY: GREY}
    counts = [(name or NOBODY, n) for name, n in squares(firm)]
    text.heading("Who is first, of 100 draws, your weights as they stand")
    with st.container(key="of_hundred"):
        st.html(text.squares_html([(name, n, colour[name]) for name, n in counts]))
