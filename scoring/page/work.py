"""The screen "Your work and limits": the brief as the model was given it."""

from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief, with_leads
from scoring.inputs.leads_file import load_leads, template_csv
from scoring.inputs.picture_file import load_either
from scoring.inputs.quantity import Quantity, spread
from scoring.page import text
from scoring.page.own.pictures import saved
from scoring.page.own.work import own_work
from scoring.page.state.files import ARTWORK, LEADS, add, header, loaded, upload
from scoring.page.state.memory import echo, keep
from scoring.page.state.own import own
from scoring.page.state.work import ranked
from scoring.words.evidence import counted_as_nothing, said_of_leads
from scoring.words.figures import number
from scoring.words.keys import in_words

SECTIONS = {
    "crew": "Crew",
    "working_time": "Working time",
    "travel": "Travel",
    "vehicle": "Vehicle",
    "money": "Money",
    "payment": "How the machine is paid for",
    "trade": "How work comes, is learned and is paid",
    "limits": "Limits",
    "exchange": "Exchange rates",
    "owned": "Rigs that you have",
}
CAUTIONS_OF = {"crew": ("lifting",), "vehicle": ("van",), "money": ("money",)}
JOB_BASIS = {"sold": "sold", "enquiries": "from enquiries", "guess": "a guess"}
WAYS = {
    "numbers": "stated one by one",
    "swing": "by points for the swing from worst to best",
    "order": "by order of importance",
    "pairwise": "by comparing pairs",
    "priced": "by what each swing is worth in a year",
}


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Your work and limits", needs_machines=False)
    if own() is not None:
        own_work(brief)
        echo()
        return
    if brief is not None:
        jobs_table(brief, is_us)
        st.page_link("scoring/page/log/screen.py", label="Jobs done ▸")
        for key, heading in SECTIONS.items():
            section(brief, key, heading, is_us)
        weights(brief)
        download(brief)
        leads(brief)
        artwork(files, brief, is_us)
    text.heading("Your own brief")
    upload("brief", load_brief)
    echo()


def jobs_table(brief, is_us):
    """Draw every type of job, a column each."""
    text.heading("Your work")
    text.listed((job.name, _in_short(job, is_us)) for job in brief.work)
    text.say(counted_as_nothing(brief))
    with st.expander("Every figure of these jobs"):
        every_figure(brief, is_us)
    text.caution("wall", "height", "artwork")


def _in_short(job, is_us):
    """Return a kind of job in a line: size, how many, on what that rests."""
    sides = (text.value_text(side, is_us) for side in (job.width, job.height))
    return (
        f"{' × '.join(sides)}, {text.value_text(job.per_month, is_us)} a month, "
        f"{JOB_BASIS[job.basis]}."
    )


def every_figure(brief, is_us):
    """Draw every figure of every type of job, a column each."""
    said = [dict(text.leaves(job)) for job in brief.work]
    paths = list(dict.fromkeys(path for job in said for path in job))
    rows = []
    for path in paths:
        cells = [_job_cell(path, job.get(path), is_us) for job in said]
        if set(cells) != {"–"}:
            owner = next(j for j, job in enumerate(said) if path in job)
            rows.append([in_words(brief.work[owner], path), *cells])
    head = ["", *(job.name for job in brief.work)]
    text.table(head, rows, label="types of job")
    st.caption("A figure with a range reads: likely (lowest to highest).")


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
    if not rows:
        return
    with st.expander(heading):
        text.table(["", "as written", "counts as", "basis"], rows, label=heading)
        if key in CAUTIONS_OF:
            text.caution(*CAUTIONS_OF[key])


def _row(brief, path, value, is_us):
    """Return what, as written, what it counts as, and its basis."""
    what = in_words(brief, path).partition(": ")[2]
    own = "" if text.is_written(brief, path) else "not written; our own estimate"
    if not isinstance(value, Quantity):
        said = text.value_text(value, is_us)
        return [what, "", said, own] if own else [what, said, "", ""]
    counts = text.amount(*spread(value, brief.trust.spreads), value.unit, is_us)
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
    text.say(f"Weights are {WAYS[brief.weights.way]}; see them on the screen Why.")


def leads(brief):
    """Draw where the jobs a month come from, and take up a table of leads."""
    text.heading("Your leads")
    st.caption(
        "A table of leads – kind of job or measures, price, probability, month – makes "
        "the jobs a month, and their uncertainty: six leads weigh less than sixty. "
        "Line up paying clients before you pay for a machine."
    )
    if brief.leads_read:
        text.say(said_of_leads(brief))
    st.file_uploader(
        "Your leads (CSV or XLSX)",
        type=["csv", "xlsx"],
        key="upload_leads",
        on_change=_take,
        args=("upload_leads", brief, LEADS, "", load_leads),
    )
    _say_wrong("upload_leads")
    st.download_button(
        "A table to fill in (CSV)",
        template_csv([job.name for job in brief.work]),
        "leads.csv",
        "text/csv",
        key="download_leads",
        on_click="ignore",
    )


def artwork(files, brief, is_us):
    """Draw what skipping empty areas saves on a picture."""
    text.heading("Artwork")
    names = [job.name for job in brief.work]
    keep("artwork_job", names, _with_picture(brief, names))
    st.selectbox("Kind of job", names, key="artwork_job", persist_state="session")
    j = names.index(st.session_state["artwork_job"])
    st.file_uploader(
        "Its artwork (PNG, JPEG or SVG)",
        type=["png", "jpg", "jpeg", "svg"],
        key="upload_either",
        on_change=_take,
        args=("upload_either", brief, ARTWORK, names[j], load_either),
    )
    _say_wrong("upload_either")
    if j not in brief.pictures:
        st.caption("No artwork yet: the share left empty is the one written above.")
        return
    evaluation = ranked(files, brief)
    if evaluation is not None:
        saved(evaluation, j)


def _with_picture(brief, names):
    """Return the first kind of job that has artwork, else the first."""
    return names[min(brief.pictures, default=0)]


def _take(key, brief, what, job, read):
    """Take up a file for this brief; one with faults changes nothing."""
    sent = st.session_state[key]
    st.session_state[f"wrong_{key}"] = ""
    if sent is None:
        add(brief.source, what, job, None)
        return
    try:
        raw = (sent.name, sent.getvalue())
        found = read(raw)
        if what == LEADS:
            with_leads(brief, found)  # says now which leads fit no kind of job
        add(brief.source, what, job, found, raw)
    except ScoringError as error:
        st.session_state[f"wrong_{key}"] = str(error)


def _say_wrong(key):
    if st.session_state.get(f"wrong_{key}"):
        text.faults("This file cannot be used.", st.session_state[f"wrong_{key}"])


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
