"""The screen "How sure": how surely who leads, what turns it, what to ask first."""

from functools import partial

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.bar import draw_bar, title_and_bar
from scoring.page.firm.answered import answer
from scoring.page.firm.controls import controls
from scoring.page.firm.find_out import first_questions, more_questions
from scoring.page.firm.in_money import in_money
from scoring.page.firm.maps import map_by_money, map_by_score
from scoring.page.firm.of_hundred import of_hundred
from scoring.page.firm.places import places
from scoring.page.firm.prices import prices
from scoring.page.firm.turning import bad_news, swings, weight_ranges
from scoring.page.state.files import header, loaded
from scoring.page.state.firm import chance_asked
from scoring.page.state.folds import fold
from scoring.page.state.memory import echo
from scoring.page.state.weights import sliders
from scoring.page.state.work import asked as supposed_now
from scoring.page.state.work import baseline, chosen
from scoring.records.firmness import firm_record
from scoring.text.firmness import firm_rows
from scoring.words.evidence import mix_rests_on
from scoring.words.firmness import how_surely, money_differs


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "How sure")
    if brief is None:
        echo()
        return
    try:
        model = supposed_now(files, brief)
        base = baseline(files, brief)
        place = title_and_bar(base, model)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this work.", error)
        echo()
        return
    try:
        results(answer(model), is_us)
        draw_bar(place, base, model)
    except ScoringError as error:
        text.faults("How firm the answer is cannot be told for this work.", error)
    fold("Refine: more draws, another start of chance", "refine", controls)
    choice = chosen(base)
    draws, seed, known = chance_asked()
    echo(
        **sliders(model),
        **{f"jobs_{n}": per_month for n, per_month in enumerate(choice.jobs)},
        crew=choice.people,
        draws=draws,
        seed=seed,
        known=known,
    )


def results(found, is_us):
    """Draw the answer from top to bottom; what folds is worked out once it is open."""
    verdict(found)
    left, right = st.columns(2, gap="large")
    with left:
        of_hundred(found.firm)
    with right:
        map_by_score(found, is_us)
    swings(found, is_us)
    fold(MONEY_MAP, "map", lambda: map_by_money(found, is_us))
    for words, key, draw in FOLDED:
        fold(words, key, partial(draw, found))
    download(found)


def asked(found):
    """Draw what to find out first, and what comes next."""
    first_questions(found)
    more_questions(found)


def rests_on(found):
    """Draw on what the answer rests, and what is not told."""
    text.say(mix_rests_on(found.evaluation))
    bad_news(found)


MONEY_MAP = "If your work were more, or larger: best in money"
FOLDED = (
    ("How often each place, weights drawn too", "places", places),
    ("What to find out first, and what it is worth", "find_out", asked),
    ("How far a weight may move", "weights", weight_ranges),
    ("Prices for talks", "prices", prices),
    ("In money, over all draws", "money", in_money),
    (
        "How much rests on what, and if what is not told turns out bad",
        "rests",
        rests_on,
    ),
)


def verdict(found):
    """Say how surely who leads, and whether money says otherwise."""
    with st.container(key="verdict"):
        text.say(how_surely(found.firm), money_differs(found.firm))
    text.caution("money")


def download(found):
    """Offer places, prices and regrets as a file, worked out once it is asked for."""
    if not found.evaluation.is_ranked.any():
        return
    st.download_button(
        "How sure (CSV)",
        lambda: text.csv_bytes(firm_rows(_record(found))),
        "how-sure.csv",
        "text/csv",
        key="download_firm",
        on_click="ignore",
    )


def _record(found):
    return firm_record(found.firm, found.questions, found.prices, found.stability)


main()
