"""The answer in a few words, in view on every screen that it concerns.

It is drawn at once with what is known, and again, further down the script, with what
takes the model another run: nobody waits for that.
"""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state.firm import chance_asked
from scoring.page.state.shared import known, shared
from scoring.page.state.what_if import said, what_ifs
from scoring.page.state.work import weighed
from scoring.questions.advice import advice
from scoring.questions.fleet.choices import choices
from scoring.questions.from_jobs import jobs_to_earn_back
from scoring.questions.years import gone_wrong, years
from scoring.words.short_answer import short_answer, short_change


def bar_place():
    """Draw the place of the answer, which stays in view; return it."""
    return st.container(key="answer_bar").empty()


def draw_bar(place, base, model, is_whole=True):
    """Write the answer into its place.

    Parameters
    ----------
    model : the Evaluation of all that is supposed, under any weights
    is_whole : whether to work out what is not known yet
    """
    place.html(text.answer_bar_html(_short(model, is_whole), said(base)))


def bar_html(base, model):
    """Return the answer with what is known of it, as HTML."""
    return text.answer_bar_html(_short(model, is_whole=False), said(base))


def _short(model, is_whole):
    look = shared if is_whole else known
    evaluation = weighed(model)
    if evaluation.brief.owned:
        found = look("fleet", (evaluation,), "", lambda: choices(evaluation))
        return None if found is None else short_change(found)
    k = advice(evaluation).k
    if k is None:
        return short_answer(evaluation)
    half = look("years", (model,), "half_work", lambda: case_of(model, "half_work"))
    needed = look("jobs_needed", (model,), k, lambda: jobs_to_earn_back(model, k))
    firm = known("firm", (evaluation,), chance_asked())
    return short_answer(evaluation, half, needed, firm)


def case_of(model, case):
    """Return the Years in which something goes wrong, None where it cannot be told."""
    return gone_wrong(years(model), case)


def pills(base):
    """Draw a button for each thing that is supposed, which takes it back."""
    every = what_ifs(base)
    if not every:
        return
    with st.container(key="what_ifs", horizontal=True, gap="small"):
        for each in every:
            st.button(
                f"{text.escaped(each.said)} ✕",
                key=f"undo_{each.key}",
                help="Take this back",
                on_click=each.undo,
            )


def title_and_bar(base, model):
    """Draw the answer and what is supposed; return the answer's place.

    ScoringErrors, where nothing weighs anything, are said in the answer's place.
    """
    place = bar_place()
    try:
        draw_bar(place, base, model, is_whole=False)
    except ScoringError as error:
        place.html(text.said(str(error)))
    pills(base)
    return place
