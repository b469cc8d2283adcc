"""The screen "Money": what it costs to your door, month by month, and in a bad year."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.money.build_ups import a_job, to_the_door
from scoring.page.money.good_and_bad_years import spread
from scoring.page.money.months import goes_wrong, months, months_table
from scoring.page.money.seller import lock_in, plans
from scoring.page.money.what_if import what_if
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo
from scoring.page.state.work import asked
from scoring.questions.years import years
from scoring.words.money import cost_of_use, does_it_pay, how_paid, low_point, returns

TERMS = (
    ("present value (NPV)", "all later money counted back to today at your interest"),
    ("earned back (payback)", "the month from which the cash so far stays above zero"),
    (
        "all costs spread over a year",
        "all that is paid, less resale, as one sum each year (EAC)",
    ),
    ("P10, P50, P90", "one year in ten is below P10, half are below P50"),
    ("to your door", "price with freight, duty, tax, training, kit (landed cost)"),
)


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Money")
    if brief is None:
        echo()
        return
    try:
        draw(what_if(asked(files, brief)), is_us)
    except ScoringError as error:
        text.faults("Money cannot be told for this work.", error)
    keys = ("money_machine", "price_asked", "work_asked", "rate")
    echo(**{key: st.session_state.get(key) for key in keys})


def draw(evaluation, is_us):
    """Draw months, build-ups, years and plans."""
    found = years(evaluation)
    names = [evaluation.names[k] for k in evaluation.order]
    chosen = st.session_state["money_machine"]
    k = evaluation.index(chosen)
    with st.container(key="verdict"):
        text.say(does_it_pay(found, k))
    text.say(*how_paid(found, k), low_point(found, k))
    text.caution("money")
    goes_wrong(found, k)
    months(found, names, chosen)
    months_table(found, names)
    text.say(returns(found, k), cost_of_use(found, k, is_us))
    left, right = st.columns(2, gap="large")
    with left:
        to_the_door(evaluation, chosen)
    with right:
        a_job(evaluation, chosen)
    spread(evaluation, names)
    plans(evaluation, chosen)
    lock_in(evaluation, chosen)
    with st.expander("What these words mean"):
        text.listed(TERMS)


main()
