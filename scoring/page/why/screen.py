"""The screen "Why": weights and work, and what they make of the ranking."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.bar import bar_place, draw_bar, pills
from scoring.page.answer.walls import doubts_and_outs
from scoring.page.state.files import header, loaded
from scoring.page.state.folds import fold
from scoring.page.state.memory import echo
from scoring.page.state.work import ranked, seed
from scoring.page.why.crew_and_work import work_controls
from scoring.page.why.pairs import pairs
from scoring.page.why.results import Places, current, draw_results
from scoring.page.why.told import by_money, by_order
from scoring.page.why.weights import first_weights, other_weights
from scoring.page.why.workings import working_part
from scoring.records.ranking import ranking_record
from scoring.text.ranking import ranking_rows

NOT_SURE = "Not sure what matters? Other ways to tell"
PAIRS, ORDER, MONEY = "pick one of two", "put in order", "in money"


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Why")
    base = ranked(files, brief)
    if base is None:
        echo()
        return
    seed(base)
    board(base, is_us)


def board(base, is_us):
    """Draw results beside controls.

    A move of a weight draws three elements anew, its slider, the answer and the
    results: every other message and element would cost more than the ranking does.
    """
    bar = bar_place()
    pills(base)
    wide, narrow = st.columns([13, 7], gap="large")
    places = Places(bar, wide.empty(), {})
    with narrow:
        first_weights(base, is_us, places)
        work_controls(base.brief)
        other_weights(base, is_us, places)
    results_part(base, is_us, places)
    try:
        model = current(base)
    except ScoringError:
        return  # the results say so
    with wide:
        doubts_and_outs(model, is_us)
        download(places.on_screen)
    fold(NOT_SURE, "ways", lambda: other_ways(model, is_us))
    with st.expander("How each figure came about"):
        working_part(model, is_us)
    if places.on_screen:
        draw_bar(bar, base, model)


def other_ways(model, is_us):
    """Draw the three ways to tell what matters besides points, one at a time."""
    draws = {
        PAIRS: lambda: pairs(model, is_us),
        ORDER: lambda: by_order(model),
        MONEY: lambda: by_money(model),
    }
    way = st.radio(
        "How would you tell it?",
        list(draws),
        key="way_to_tell",
        horizontal=True,
        persist_state="session",
    )
    draws[way]()


@st.fragment
def results_part(base, is_us, places):
    """Draw the results, in a fragment as those that draw them later."""
    draw_results(base, is_us, places)


def download(on_screen):
    """Offer the ranking as a file."""
    st.download_button(
        "Ranking (CSV)",
        lambda: text.csv_bytes(_ranking_rows(on_screen)),
        "ranking.csv",
        "text/csv",
        key="download_ranking",
        on_click="ignore",
    )


def _ranking_rows(on_screen):
    return ranking_rows(ranking_record(on_screen["evaluation"]))


main()
