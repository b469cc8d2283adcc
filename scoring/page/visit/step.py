"""One step of a visit at a time: what to do, what may hurt, its fields, on or over."""

import streamlit as st

from scoring.inputs.visit_tests import trials
from scoring.page import text
from scoring.page.visit.form import fields, is_of
from scoring.page.visit.stopwatch import aim, stopwatch
from scoring.page.visit.use import key, save
from scoring.report.visit_tests import TESTS
from scoring.words.figures import figure
from scoring.words.visit import STOP, plan_in_words, step_in_words

DONE, SKIPPED = 1, 2


def ended(form):
    """Return {title: DONE or SKIPPED} of the steps that are behind."""
    return st.session_state.get(key(form, "ended"), {})


def open_titles(form, visit):
    """Return the titles of the steps ahead: those of the plan, then all others."""
    planned = visit.titles if visit is not None else ()
    every = dict.fromkeys([*planned, *(trial.title for trial in trials())])
    return [title for title in every if title not in ended(form)]


def current(form, visit):
    """Return the Trial of the step that is on, None where none is left."""
    ahead = open_titles(form, visit)
    chosen = st.session_state.get(key(form, "step"))
    title = chosen if chosen in ahead else next(iter(ahead), None)
    return next((trial for trial in trials() if trial.title == title), None)


def step(form, machine, is_us, base, visit, trial):
    """Draw the step that is on, with its clock and its fields."""
    if trial is None:
        text.say("Every step is behind you.")
        return
    planned = visit.titles if visit is not None else ()
    n = len(ended(form)) + 1
    text.heading(f"Step {n}: {trial.title}")
    if trial.title in planned:
        text.say(step_in_words(visit, planned.index(trial.title), is_us))
    else:
        if visit is not None:
            text.say(STOP if ended(form) else plan_in_words(visit, is_us)[0])
        if trial.estimate is not None:
            text.note(f"About {figure(trial.estimate.minutes, 'min')}, if you go on.")
    text.say(next(test.how for test in TESTS if test.title == trial.title))
    if trial.cautions:
        text.caution(*trial.cautions)
    stopwatch(form)
    said = trial.cautions
    if not fields(form, machine, is_us, lambda path: is_of(trial, path), said):
        text.note("Nothing to type here: write it on the printed sheet.")
    with st.container(horizontal=True):
        st.button(
            "Save and go on",
            key="visit_save",
            type="primary",
            on_click=_end,
            args=(form, trial, DONE, machine, is_us, base),
        )
        st.button(
            "Skip",
            key="visit_skip",
            on_click=_end,
            args=(form, trial, SKIPPED, machine, is_us, base),
        )
        st.button(
            "Begin again",
            key="visit_again",
            disabled=not ended(form),
            on_click=_begin_again,
            args=(form,),
        )


def _end(form, trial, how, machine, is_us, base):
    """Put a step behind; its figures count from now on, unless it was skipped."""
    if how == DONE and not save(form, machine, is_us, base):
        return
    st.session_state[key(form, "ended")] = ended(form) | {trial.title: how}
    st.session_state.pop(key(form, "step"), None)
    following = current(form, None)
    if following is not None:
        aim(form, lambda path: is_of(following, path))


def _begin_again(form):
    st.session_state[key(form, "ended")] = {}
