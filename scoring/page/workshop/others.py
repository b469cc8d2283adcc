"""What the others said, once it is shown: without names, or with them."""

import html

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.bars import bars_html, rows_of
from scoring.page.workshop.words import title_of
from scoring.workshop.asked import in_words
from scoring.workshop.views import what_is_seen

EVERY_S = 3


@st.fragment(run_every=EVERY_S)
def others():
    """Draw what a participant may see of the others."""
    pack = seat.pack()
    try:
        view = what_is_seen(seat.store(), seat.token(), pack.plan)
    except ScoringError:
        return
    if parts := "".join(_parts(view, pack.plan)):  # not every stage asks something
        with st.container(key="others"):
            st.html(parts)


def _parts(view, plan):
    asked = view.room.asked[view.room.stage]
    if view.tallies or view.named:
        yield text.heading_html("What the room said")
    for tally in view.tallies:
        rows = rows_of(tally, asked[tally.question], plan)
        if rows:
            title = title_of(plan, tally.question, view.buyer)
            yield f"<p><b>{html.escape(title)}</b></p>"
            yield bars_html(rows, tally.question)
    if view.named:
        yield names_html(view.named, plan)


def names_html(named, plan, buyer=None):
    """Return who said what as a table."""
    rows = [
        (
            each.nickname,
            str(each.team),
            title_of(plan, each.question, buyer),
            in_words(each.value),
        )
        for each in named
    ]
    return text.table_html(
        ("who", "team", "question", "answer"), rows, label="who said"
    )
