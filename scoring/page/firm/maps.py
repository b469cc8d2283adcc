"""Who is best as the work grows or shrinks."""

import streamlit as st

from scoring.charts.best_map import map_in_words, map_rows, map_spec, on_map
from scoring.charts.swings import NOBODY
from scoring.page import text
from scoring.questions.firmness import NOTHING


def maps(found, is_us):
    """Draw who is best as the work grows or shrinks, by score and in money."""
    best = found.best_map
    text.heading("If your work were more, or larger")
    if not best.own_jobs > 0:
        text.say("Without any jobs there is nothing to draw.")
        return
    columns = st.columns(2, gap="large")
    grids = (
        ("By score", "score", best.by_score, NOBODY),
        ("In money (net present value)", "money", best.by_money, NOTHING),
    )
    names = on_map(best)
    for column, (said, key, grid, nobody) in zip(columns, grids, strict=True):
        with column:
            text.say(said)
            words = map_in_words(best, grid, found.own_range, nobody, is_us)
            with st.container(key=f"map_{key}_chart"):
                st.vega_lite_chart(
                    map_rows(best, grid, found.own_range, nobody, is_us),
                    map_spec(names, nobody, is_us),
                    key=f"map_{key}",
                )
            with st.expander("The map in words"):
                text.say(*words.split("\n"))
    st.caption(
        "The best machine when all your work grows or shrinks, in number and in size. "
        "The circle is your work now; the cross spans 8 in 10 draws of your ranges "
        "(P10 to P90)."
    )
