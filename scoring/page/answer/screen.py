"""The screen "Answer": what to do, what it can do, when the money is back, what to ask.

It comes in the order in which it is read; what takes the model longer comes last.
"""

from functools import partial

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.ask import ask_first
from scoring.page.answer.bar import draw_bar, title_and_bar
from scoring.page.answer.cash import when_back
from scoring.page.answer.others import other_ways_part
from scoring.page.answer.walls import can_it_do
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo
from scoring.page.state.weights import sliders
from scoring.page.state.work import asked, baseline, chosen, weighed
from scoring.words.verdict import who_leads

CANNOT = "These machines cannot be ranked for this work."


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Answer")
    if brief is None:
        echo()
        return
    try:
        model, base = asked(files, brief), baseline(files, brief)
    except ScoringError as error:
        text.faults(CANNOT, error)
        echo()
        return
    place = title_and_bar(base, model)
    try:
        bar = partial(draw_bar, place, base, model)
        draw(weighed(model), model, is_us, bar)
        bar()  # with how often it is first, which the questions find out
    except ScoringError as error:
        text.faults(CANNOT, error)
    choice = chosen(base)
    per_month = {f"jobs_{n}": n_jobs for n, n_jobs in enumerate(choice.jobs)}
    echo(**sliders(base), **per_month, crew=choice.people)


def draw(evaluation, model, is_us, bar):
    """Draw the answer from top to bottom, the bar whole before what takes longest."""
    with st.container(key="verdict"):
        text.say(who_leads(evaluation))
    text.caution("money")
    with st.container(horizontal=True):
        st.page_link("scoring/page/work.py", label="Your work ▸")
        st.page_link("scoring/page/machines.py", label="Your machines ▸")
    can_it_do(evaluation, is_us)
    if not evaluation.is_ranked.any():
        return
    if not evaluation.brief.owned:
        when_back(evaluation, model)
    bar()
    ask_first(model)
    other_ways_part(evaluation)


main()
