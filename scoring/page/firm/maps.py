"""Who is best as the work grows or shrinks."""

import streamlit as st

from scoring.charts.base import colours
from scoring.charts.best_map import map_in_words, map_rows, map_spec, on_map
from scoring.charts.swings import NOBODY
from scoring.page import text
from scoring.questions.firmness import NOTHING


def map_by_score(found, is_us):
    """Draw who is best by score as the work grows or shrinks."""
    text.heading("If your work were more, or larger")
    _map(found, is_us, "score", found.best_map.by_score, NOBODY)


def map_by_money(found, is_us):
    """Draw who is best in money (net present value) as the work grows or shrinks."""
    _map(found, is_us, "money", found.best_map.by_money, NOTHING)


def _map(found, is_us, key, grid, nobody):
    best = found.best_map
    if not best.own_jobs > 0:
        text.say("Without any jobs there is nothing to draw.")
        return
    every = colours(found.evaluation.names)
    drawn = {name: every[name] for name in on_map(best)}
    with st.container(key=f"map_{key}_chart"):
        st.vega_lite_chart(
            map_rows(best, grid, found.own_range, nobody, is_us),
            map_spec(drawn, nobody, is_us),
            key=f"map_{key}",
        )
    st.caption("The circle is your work now; the cross spans 8 in 10 draws.")
    with st.expander("The map in words"):
        words = map_in_words(best, grid, found.own_range, nobody, is_us)
        text.say(*words.split("\n"))
