"""The screen "Money": what it costs to your door, month by month, and in a bad year."""

from functools import partial

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.bar import draw_bar, title_and_bar
from scoring.page.answer.cash import cash_by_case, found_by_case
from scoring.page.money.build_ups import a_job, to_the_door
from scoring.page.money.good_and_bad_years import spread
from scoring.page.money.months import AS_THE_ONLY_ONE, goes_wrong, months, months_table
from scoring.page.money.seller import lock_in, plans
from scoring.page.money.what_if import machine_asked, money_controls
from scoring.page.state.files import header, loaded
from scoring.page.state.folds import fold
from scoring.page.state.memory import echo
from scoring.page.state.work import asked, baseline, weighed
from scoring.questions.from_jobs import jobs_today
from scoring.words.money import (
    cost_of_use,
    does_it_pay,
    how_paid,
    low_point,
    returns,
    runs_short,
)

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
        model, base = asked(files, brief), baseline(files, brief)
        place = title_and_bar(base, model)
        draw(base, model, is_us)
        draw_bar(place, base, model)
    except ScoringError as error:
        text.faults("Money cannot be told for this work.", error)
    keys = ("money_machine", "price_asked", "work_share", "rate")
    echo(**{key: st.session_state.get(key) for key in keys})


def draw(base, model, is_us):
    """Draw the controls beside the picture that they move, all else below."""
    evaluation = weighed(model)
    narrow, wide = st.columns([7, 13], gap="large")
    with narrow:
        chosen = machine_asked(evaluation)
        money_controls(base, chosen, jobs_today(model))
    found, k = found_by_case(model), evaluation.index(chosen)
    with wide:
        with st.container(key="verdict"):
            text.say(does_it_pay(found["as_told"], k))
        cash_by_case(found, k)
        text.caution("money")
    if evaluation.brief.owned:
        text.say(AS_THE_ONLY_ONE)
    told(evaluation, found["as_told"], chosen, is_us)


def told(evaluation, found, chosen, is_us):
    """Draw what money comes to: by the month, to the door, by job, by year, in ties."""
    names = [evaluation.names[k] for k in evaluation.order]
    draws = {
        "Months": lambda: by_month(found, names, chosen, is_us),
        "To your door": lambda: to_the_door(evaluation, chosen),
        "A job": lambda: a_job(evaluation, chosen),
        "A year": lambda: spread(evaluation, names),
        "Ties to the seller": lambda: ties(evaluation, chosen),
    }
    tabs = st.tabs(list(draws), key="money_tabs", on_change="rerun")
    for tab, draw_it in zip(tabs, draws.values(), strict=True):
        if tab.open:  # what is not seen is not worked out
            with tab:
                draw_it()
    with st.expander("What these words mean"):
        text.listed(TERMS)


def by_month(found, names, chosen, is_us):
    """Draw what may go wrong, all machines month by month, and how it is paid."""
    k = found.evaluation.index(chosen)
    low = low_point(found, k)
    is_short = runs_short(found, k)  # which no fold may hide
    text.say(low if is_short else "")
    goes_wrong(found, k)
    months(found, names, chosen)
    with st.expander("How it is paid, and what the months come to"):
        text.say(*how_paid(found, k), "" if is_short else low)
        text.say(returns(found, k), cost_of_use(found, k, is_us))
    fold(
        "What the months of every machine come to",
        "months",
        partial(months_table, found, names),
    )


def ties(evaluation, chosen):
    """Draw the plans of a machine and what ties it to its seller."""
    plans(evaluation, chosen)
    lock_in(evaluation, chosen)


main()
