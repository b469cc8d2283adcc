"""The cases that are kept on this computer, for who sits at it."""

import datetime

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import BRIEF, is_case
from scoring.inputs.case.edit import data_of
from scoring.page import text
from scoring.page.state.own import close
from scoring.page.state.place import CASE, ID, folder

MOST = 20


def kept_here():
    """Draw the kept cases, the latest first; to other computers none is shown."""
    place = folder()
    if place is None or st.context.ip_address is not None:
        return
    found = [path for path in _cases(place) if path.name != st.session_state.get(CASE)]
    if not found:
        return
    text.heading("Kept on this computer")
    with st.container(horizontal=True):
        for path in found[:MOST]:
            st.button(
                text.escaped(_title(path)),
                key=f"go_{path.name}",
                on_click=_go,
                args=(path.name,),
            )


def _cases(place):
    """Return the folders of cases, the latest first."""
    try:
        found = [p for p in place.iterdir() if ID.fullmatch(p.name) and is_case(p)]
        return sorted(found, key=lambda p: -(p / BRIEF).stat().st_mtime)
    except OSError:
        return []


def _title(path):
    """Return what a case is called, and when it was last changed."""
    brief = path / BRIEF
    try:
        title = data_of(brief.read_text("utf-8")).get("title", "a case")
        changed = datetime.datetime.fromtimestamp(brief.stat().st_mtime)
        return f"{title}, {changed:%Y-%m-%d %H:%M}"
    except (ScoringError, OSError, ValueError):
        return "a case with a fault"


def _go(name):
    """Open another case: the page begins anew with its id in the address."""
    close()
    st.session_state.pop("is_brought_back", None)
    st.query_params[CASE] = name
