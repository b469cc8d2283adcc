"""The screen "Ranking": which machine for this work, and what changes the answer."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.ranking.crew_and_work import work_controls
from scoring.page.ranking.results import current, results
from scoring.page.ranking.weights import weight_controls
from scoring.page.ranking.workings import working_part
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo
from scoring.page.state.work import baseline, seed
from scoring.records.ranking import ranking_record
from scoring.text.ranking import ranking_rows
from scoring.words.doubt import why_not_in


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Ranking")
    if brief is None:
        echo()
        return
    try:
        base = baseline(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this brief.", error)
        echo()
        return
    seed(base)
    board(base, is_us)


def board(base, is_us):
    """Draw results beside controls.

    A move of a weight draws two elements anew, its slider and the results: every other
    message and element would cost more than the ranking does.
    """
    wide, narrow = st.columns([13, 7], gap="large")
    place = wide.empty()
    on_screen = {}  # the Evaluation that is shown, once it is
    with narrow:
        weight_controls(base, is_us, place, on_screen)
        work_controls(base.brief)
    results_part(base, is_us, place, on_screen)
    try:
        model = current(base)
    except ScoringError:
        return  # the results say so
    with wide:
        not_in(model, is_us)
        download(on_screen)
    working_part(model, is_us)


@st.fragment
def results_part(base, is_us, place, on_screen):
    """Draw the results, in a fragment as those that draw them later."""
    place.html(results(base, is_us, on_screen))


def not_in(evaluation, is_us):
    """List the machines in doubt, and those that break a limit, with the way back."""
    for status, heading in (
        ("in_doubt", "In doubt, yet ranked"),
        ("ruled_out", "Ruled out by your limits"),
    ):
        some = [k for k in evaluation.order if evaluation.status(k) == status]
        if some:
            text.listed(
                (
                    (evaluation.names[k], " ".join(why_not_in(evaluation, k, is_us)))
                    for k in some
                ),
                heading,
            )


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
