"""The exercise's papers on a phone: the sheets under letters, a buyer."""

import streamlit as st

from scoring.page import text
from scoring.workshop.pack import LETTERS


@st.fragment
def sheets(worked):
    """Draw the sheet of a letter."""
    with st.expander("The eight machines", key="sheets"):
        st.segmented_control(
            "Machine",
            list(LETTERS),
            default="A",
            required=True,
            key="sheet_letter",
            label_visibility="collapsed",
            width="stretch",
        )
        letter = st.session_state["sheet_letter"]
        groups(next(s for s in worked.sheets if s.letter == letter).groups)


def buyer(paper, is_open=False, heading="Your buyer"):
    """Draw a BuyerPaper in a fold."""
    with st.expander(
        f"{heading}: {text.escaped(paper.title)}", expanded=is_open, key="paper"
    ):
        groups(paper.groups)


def groups(all_groups):
    """Draw groups of rows, as they are written."""
    rows = []
    for group in all_groups:
        rows.append((group.title.capitalize(),))
        rows += [
            (r.what, " ".join(filter(None, (r.written, _basis(r))))) for r in group.rows
        ]
    text.table(("figure", "as written"), rows, label="sheet")


def _basis(row):
    return f"({row.basis})" if row.basis else ""
