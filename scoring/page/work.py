"""The screen "Your work and limits": the brief as the model was given it."""

from pathlib import Path

import streamlit as st

from scoring.inputs.brief import load_brief
from scoring.inputs.quantities import Quantity, spread
from scoring.page import state, text
from scoring.wording import number

SECTIONS = {
    "crew": "Crew",
    "working_time": "Working time",
    "travel": "Travel",
    "money": "Money",
    "limits": "Limits",
    "exchange": "Exchange rates",
    "owned": "Rigs that you have",
}
CAUTIONS_OF = {"crew": ("lifting",), "travel": ("van",), "money": ("money",)}
JOB_BASIS = {"sold": "sold before", "enquiries": "from enquiries", "guess": "a guess"}
WAYS = {
    "numbers": "stated one by one",
    "swing": "by points for the swing from worst to best",
    "order": "by order of importance",
    "pairwise": "by comparing pairs",
    "priced": "by what each swing is worth in a year",
}


def main():
    """Draw the screen."""
    files = state.loaded()
    brief, is_us = state.header(files)
    if brief is not None:
        jobs_table(brief, is_us)
        left, right = st.columns(2, gap="large")
        for n, (key, heading) in enumerate(SECTIONS.items()):
            with (left, right)[n % 2]:
                section(brief, key, heading, is_us)
        weights(brief)
        download(brief)
    text.heading("Your own brief")
    state.upload("brief", load_brief)
    state.echo()


def jobs_table(brief, is_us):
    """Draw every type of job, a column each."""
    text.heading("Your work")
    said = [dict(text.leaves(job)) for job in brief.work]
    paths = list(dict.fromkeys(path for job in said for path in job))
    rows = []
    for path in paths:
        cells = [_job_cell(path, job.get(path), is_us) for job in said]
        if set(cells) != {"–"}:
            owner = next(j for j, job in enumerate(said) if path in job)
            rows.append([text.words(brief.work[owner], path), *cells])
    head = ["", *(job.name for job in brief.work)]
    text.table(head, rows, label="types of job")
    st.caption("A figure with a range reads: likely (lowest to highest).")
    text.caution("wall", "height", "artwork")


def _job_cell(path, value, is_us):
    if path == "basis":
        return JOB_BASIS[value]
    return text.value_text(value, is_us)


def section(brief, key, heading, is_us):
    """Draw one part of the brief as a table, with its cautions."""
    rows = [
        _row(brief, f"{key}.{path}", value, is_us)
        for path, value in text.leaves(getattr(brief, key))
        if value is not None and value != ()
    ]
    if rows:
        text.heading(heading)
        text.table(["", "as written", "counts as", "basis"], rows, label=heading)
        if key in CAUTIONS_OF:
            text.caution(*CAUTIONS_OF[key])


def _row(brief, path, value, is_us):
    """Return what, as written, what it counts as, and its basis."""
    what = text.words(brief, path).partition(": ")[2]
    own = "" if text.is_written(brief, path) else "not written; our own estimate"
    if not isinstance(value, Quantity):
        said = text.value_text(value, is_us)
        return [what, "", said, own] if own else [what, said, "", ""]
    counts = text.amount(*spread(value, brief.trust), value.unit, is_us)
    if path.startswith("exchange."):
        counts = " to ".join(number(end, 4) for end in _ends(value)) + f" {value.unit}"
    return [what, "" if own else value.text, counts, own or text.basis(value.basis)]


def _ends(quantity):
    """Return the different ones of low, likely and high."""
    return dict.fromkeys((quantity.low, quantity.likely, quantity.high))


def weights(brief):
    """Say how the brief states what matters."""
    text.heading("What matters to you")
    if brief.weights is None:
        text.say("The brief states no weights: all that is in use weighs the same.")
        return
    text.say(f"Weights are {WAYS[brief.weights.way]}; see them on the ranking screen.")


def download(brief):
    """Offer the brief as it was read."""
    st.download_button(
        "This brief (YAML)",
        brief.text,
        Path(brief.source).name,
        "application/yaml",
        key="download_brief",
        on_click="ignore",
    )


main()
