"""Leads of a case of one's own: typed in a table, or dropped in as a file."""

import datetime

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.new_leads import (
    TYPED,
    rows_of,
    table_of,
    with_leads_file,
    without_leads,
)
from scoring.inputs.leads import BASES
from scoring.inputs.leads_file import COLUMNS, template_csv
from scoring.page import text
from scoring.page.own.entry import Edited
from scoring.page.state.own import WRONG, change, own, plain, wrong_at
from scoring.words.evidence import said_of_leads

EMPTY_ROWS = 4
HEADS = {"job": "kind of job", "probability": "chance", "basis": "it is"}
DRAFT = "leads_draft"  # what is typed and not taken up, kept as texts
PARTS = "\t"


def own_leads(brief):
    """Draw the table of leads, and what they make of the jobs a month."""
    st.caption(
        "Each row is one wall that may come. A kind that is not there yet becomes one. "
        "Few leads weigh less than many. Line up paying clients before you pay."
    )
    if brief.leads_read:
        text.say(said_of_leads(brief))
    table()
    if wrong_at("leads"):
        text.wrong(wrong_at("leads"))
    with st.container(horizontal=True):
        st.button("Take up these leads", key="take_leads", on_click=_take_typed)
        if brief.leads_read:
            st.button("Leave leads out", key="drop_leads", on_click=_drop)
    st.file_uploader(
        "Or drop in a table (CSV or XLSX)",
        type=["csv", "xlsx"],
        key="upload_own_leads",
        on_change=_take_file,
    )
    st.download_button(
        "A table to fill in (CSV)",
        template_csv([job.name for job in brief.work]),
        "leads.csv",
        "text/csv",
        key="download_leads",
        on_click="ignore",
    )


def table():
    """Draw the table; its rows stay the same until they are taken up."""
    if "own_leads_rows" not in st.session_state:
        st.session_state["own_leads_rows"] = _begin()
    rows = st.session_state["own_leads_rows"]
    config = {
        "basis": st.column_config.SelectboxColumn("it is", options=list(BASES)),
        "month": st.column_config.TextColumn("month", help="such as 2026-11"),
    }
    config |= {
        name: st.column_config.TextColumn(HEADS.get(name, name))
        for name in COLUMNS
        if name not in config
    }
    st.data_editor(
        {column: [row[column] for row in rows] for column in COLUMNS},
        key="leads_table",
        num_rows="dynamic",
        hide_index=True,
        column_config=config,
        on_change=_note,
    )


def _begin():
    """Return the rows to begin with: what was typed, what the case has, empty ones."""
    draft = st.session_state.get(DRAFT)
    if draft:
        return [_row(line) for line in draft]
    try:
        rows = rows_of(own())
    except ScoringError:
        rows = []
    month = f"{datetime.date.today():%Y-%m}"
    empty = dict.fromkeys(COLUMNS, "") | {"month": month, "basis": "enquiry"}
    return rows + [dict(empty) for _ in range(EMPTY_ROWS)]


def _row(line):
    cells = line.split(PARTS)
    return dict(zip(COLUMNS, cells + [""] * len(COLUMNS), strict=False))


def _typed():
    """Return the rows with what was typed into the table."""
    rows = [dict(row) for row in st.session_state["own_leads_rows"]]
    edits = st.session_state.get("leads_table", {})
    for place, cells in edits.get("edited_rows", {}).items():
        rows[int(place)] |= {key: value or "" for key, value in cells.items()}
    gone = {int(place) for place in edits.get("deleted_rows", ())}
    rows = [row for place, row in enumerate(rows) if place not in gone]
    added = edits.get("added_rows", ())
    return rows + [{key: row.get(key) or "" for key in COLUMNS} for row in added]


def _note():
    """Keep what is typed, so that a reload brings it back."""
    st.session_state[DRAFT] = [
        PARTS.join(str(row[c]).replace(PARTS, " ") for c in COLUMNS) for row in _typed()
    ]


def _begin_again():
    for key in ("own_leads_rows", "leads_table", DRAFT):
        st.session_state.pop(key, None)


def _take_typed():
    try:
        data = table_of(_typed(), Edited().currency).encode("utf-8")
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})["leads"] = plain(error)
        return
    if change(lambda case: with_leads_file(case, TYPED, data), "leads"):
        _begin_again()


def _take_file():
    sent = st.session_state["upload_own_leads"]
    if sent is None:
        return
    name = "leads.xlsx" if sent.name.lower().endswith(".xlsx") else TYPED
    data = sent.getvalue()
    if change(lambda case: with_leads_file(case, name, data), "leads"):
        _begin_again()


def _drop():
    change(without_leads, "leads")
    _begin_again()
