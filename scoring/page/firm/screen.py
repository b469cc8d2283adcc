"""The screen "How firm": how surely who leads, what turns it, what to ask first."""

from functools import partial

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.firm.answered import answer
from scoring.page.firm.controls import controls
from scoring.page.firm.find_out import first_questions, more_questions
from scoring.page.firm.in_money import in_money
from scoring.page.firm.maps import maps
from scoring.page.firm.places import every_place, places
from scoring.page.firm.prices import prices
from scoring.page.firm.turning import bad_news, swings, weight_ranges
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo
from scoring.page.state.weights import points, sliders
from scoring.page.state.work import asked, work_chosen
from scoring.records.firmness import firm_record
from scoring.text.firmness import firm_rows
from scoring.words.evidence import mix_rests_on
from scoring.words.firmness import how_surely, money_differs
from scoring.words.verdict import who_leads


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "How firm")
    if brief is None:
        echo()
        return
    try:
        model = asked(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this work.", error)
        echo()
        return
    people, jobs = work_chosen(brief)
    weights = points(model)
    n_draws, seed, known = controls()
    try:
        results(answer(model, weights, n_draws, seed, known), is_us)
    except ScoringError as error:
        text.faults("How firm the answer is cannot be told for this work.", error)
    echo(
        **sliders(model),
        **{f"jobs_{n}": per_month for n, per_month in enumerate(jobs)},
        crew=people,
        draws=n_draws,
        seed=seed,
        known=known,
    )


def results(found, is_us):
    """Draw the answer from top to bottom."""
    verdict(found)
    left, right = st.columns([11, 9], gap="large")
    with left:
        places(found)
    with right:
        first_questions(found)
    every_place(found.firm)
    more_questions(found)
    left, right = st.columns(2, gap="large")
    with left:
        swings(found, is_us)
    with right:
        weight_ranges(found)
    left, right = st.columns(2, gap="large")
    with left:
        prices(found)
    with right:
        bad_news(found)
    maps(found, is_us)
    in_money(found)
    text.heading("How much of this rests on what")
    text.say(mix_rests_on(found.firm.evaluation))
    download(found)


def verdict(found):
    """Say who leads, how surely, and whether money says otherwise."""
    with st.container(key="verdict"):
        text.say(who_leads(found.firm.evaluation), how_surely(found.firm))
    text.say(money_differs(found.firm))
    text.caution("money")


def download(found):
    """Offer the places, prices and regrets as a file."""
    if not found.firm.evaluation.is_ranked.any():
        return
    record = partial(
        firm_record, found.firm, found.questions, found.prices, found.stability
    )
    st.download_button(
        "How firm (CSV)",
        lambda: text.csv_bytes(firm_rows(record())),
        "how-firm.csv",
        "text/csv",
        key="download_firm",
        on_click="ignore",
    )


main()
