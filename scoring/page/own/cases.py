"""The cases that are kept on this computer, for who sits at it."""

import datetime

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import BRIEF, is_case
from scoring.inputs.case.edit import data_of
from scoring.inputs.case.folder import delete_case, versions
from scoring.inputs.case.scenarios import scenarios_in
from scoring.page import text
from scoring.page.state.own import close
from scoring.page.state.place import CASE, ID, folder, own_folder

MOST = 20
ASKED, DELETED = "ask_delete", "case_deleted"


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


def deleting(brief):
    """Draw the way to delete the open case: first asked, then done."""
    place = own_folder()
    if place is None:
        return
    if not st.session_state.get(ASKED):
        st.button("Delete this case …", key="ask_delete_case", on_click=_ask)
        return
    n, m = len(versions(place)), len(scenarios_in(place))
    st.warning(
        f"“{text.escaped(brief.title)}” is deleted from this computer, with "
        f"{_many(n, 'kept version')} and {_many(m, 'scenario')}. Nothing brings it "
        "back; save it as a file above if you may want it again."
    )
    with st.container(horizontal=True):
        args = (place, brief.title)
        st.button("Delete it", key="delete_case", on_click=_delete, args=args)
        st.button("Do not", key="leave_case", on_click=_leave)
    if st.session_state.get("own_not_saved"):
        text.wrong(st.session_state["own_not_saved"])


def said_deleted():
    """Say which case was deleted, once."""
    title = st.session_state.pop(DELETED, "")
    if title:
        st.info(f"Deleted, with all its versions: {text.escaped(title)}")


def _many(n, what):
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


def _ask():
    st.session_state[ASKED] = True


def _leave():
    st.session_state.pop(ASKED, None)


def _delete(place, title):
    """Delete a case: its folder, and where its sliders stood."""
    try:
        delete_case(place)
        place.with_name(f"{place.name}.json").unlink(missing_ok=True)
    except (ScoringError, OSError) as error:
        st.session_state["own_not_saved"] = str(error)
        return
    close()
    st.session_state[DELETED] = title
