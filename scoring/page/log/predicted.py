"""Predicted against lived: freeze a prediction, and hold one against the log."""

from datetime import date

import streamlit as st

from scoring.charts.lived import lived_spec
from scoring.errors import ScoringError
from scoring.inputs.prediction import prediction_text
from scoring.page import text
from scoring.page.log.card import many
from scoring.page.state.folds import fold
from scoring.page.state.log_files import PREDICTION, held, leave, take
from scoring.page.state.work import baseline
from scoring.questions.lived import freeze, lived, report_card
from scoring.words.lived import (
    BIAS_HEAD,
    LIVED_HEAD,
    MEANING,
    bias_rows,
    lived_rows,
    not_scored,
    verdict,
)

WHY = (
    "On the day you buy, keep what is predicted as a file. Months later, together with "
    "your jobs done, it says how far these predictions could be trusted."
)


def predicted(files, brief, machine, done, is_us):
    """Draw the folds: freeze now, compare later, compare many."""
    text.heading("Predicted against lived", WHY)
    fold("Keep today's prediction", "freeze", lambda: _freeze(files, brief, machine))
    fold("Compare a prediction", "lived", lambda: _compare(done, is_us))
    fold("Many predictions at once, for a trainer", "many_lived", many)


def _freeze(files, brief, machine):
    try:
        base = baseline(files, brief)
        found = freeze(base, machine.name, date.today().isoformat())
    except ScoringError as error:
        text.faults("Nothing can be predicted for this work.", error)
        return
    written, name = prediction_text(found), f"predicted-{found.frozen}.yaml"
    st.download_button(
        f"What is predicted of {machine.name} (YAML)",
        written,
        name,
        "application/yaml",
        key="download_prediction",
        on_click="ignore",
    )
    if held(PREDICTION)[0] is None:
        st.button(
            "Keep it with this case",
            key="keep_prediction",
            on_click=take,
            args=(PREDICTION, name, written.encode()),
        )
    else:
        kept_one()


def kept_one():
    """Say which prediction is kept, and offer to leave it out."""
    record, _ = held(PREDICTION)
    text.note(f"Kept with this case: {record.machine}, predicted on {record.frozen}.")
    st.button("Leave it out", key="drop_prediction", on_click=leave, args=(PREDICTION,))


def _compare(done, is_us):
    st.file_uploader(
        "The prediction that you kept (YAML)",
        type=["yaml", "yml"],
        key="upload_prediction",
        on_change=_take,
    )
    record, wrong = held(PREDICTION)
    if wrong:
        text.faults("This file cannot be used.", wrong)
    if record is None:
        return
    if done is None:
        text.say("Now add your table of jobs done above.")
        return
    try:
        found = lived(record, done)
    except ScoringError as error:
        text.faults("This log does not go with that prediction.", error)
        return
    card = report_card([found])
    text.say(verdict(card), MEANING)
    spec = lived_spec(found) | {"width": "container"}
    st.vega_lite_chart(spec=spec, key="lived_chart")
    st.caption("Bar: 8 of 10 draws; line: the middle; mark: what was lived.")
    text.table(BIAS_HEAD, bias_rows(card), numbers=(1, 2, 3))
    text.table(LIVED_HEAD, lived_rows(found, is_us), numbers=(1, 2, 3, 4))
    if not_scored(found):
        text.say(not_scored(found))


def _take():
    sent = st.session_state["upload_prediction"]
    if sent is None:
        leave(PREDICTION)
    else:
        take(PREDICTION, sent.name, sent.getvalue())
