"""For a trainer: many predictions and their logs, one report card."""

from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.job_log import load_job_log
from scoring.inputs.prediction import load_prediction
from scoring.page import text
from scoring.questions.lived import lived, report_card
from scoring.words.lived import BIAS_HEAD, MEANING, bias_rows, verdict

PAIRS = (
    "Each prediction with the log of the same name: ash.yaml with ash.csv, birch.yaml "
    "with birch.xlsx."
)


def many():
    """Draw the uploader, and the report card of what was sent."""
    st.caption(PAIRS)
    sent = st.file_uploader(
        "Predictions and logs (YAML, CSV, XLSX)",
        type=["yaml", "yml", "csv", "xlsx"],
        accept_multiple_files=True,
        key="upload_many_lived",
    )
    if not sent:
        return
    try:
        card = report_card(_scored([(one.name, one.getvalue()) for one in sent]))
    except ScoringError as error:
        text.faults("These files make no report card.", error)
        return
    text.say(verdict(card), MEANING)
    text.table(BIAS_HEAD, bias_rows(card), numbers=(1, 2, 3))


def _scored(files):
    """Return the Lived of each pair; ScoringError with all that is wrong."""
    by_stem, said, found = {}, [], []
    for name, data in files:
        by_stem.setdefault(Path(name).stem, []).append((name, data))
    for stem, both in by_stem.items():
        predictions = [f for f in both if f[0].lower().endswith((".yaml", ".yml"))]
        logs = [f for f in both if f not in predictions]
        if len(predictions) != 1 or len(logs) != 1:
            said.append(f"{stem}: one without the other; a prediction and its log")
            continue
        try:
            record, done = load_prediction(predictions[0]), load_job_log(logs[0])
            found.append(lived(record, done))
        except ScoringError as error:
            said.append(str(error))
    if said:
        raise ScoringError("\n".join(said))
    return found
