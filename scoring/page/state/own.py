"""A case of one's own: what forms change, kept at once, and the way back.

In the session it is a Case under `own_case`; on the disk a folder under its id. Where
nothing may be written the last versions stay in the session.
"""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import is_case
from scoring.inputs.case import record
from scoring.inputs.case.folder import (
    MOST_VERSIONS,
    load_case,
    put_away,
    save_unless_changed,
    state_of,
    undo,
    versions,
)
from scoring.inputs.machine_folder import read_machine
from scoring.page.state.memory import remembered
from scoring.page.state.place import CASE, new_id, own_folder
from scoring.words.keys import WORDS

OWN = "own_case"
STAYS = ("is_brought_back", "units")
SEEN = "own_seen"  # the state of the folder as this session last saw it
OTHERS = "own_others"  # (Case of somebody else, path of one's own version)
TAKEN = "own_taken"  # that the other one was taken, as nothing of one's own was lost
WRONG = "own_wrong_entries"  # {widget's key: sentence}


def own():
    """Return the Case of one's own that is open, None while the example is."""
    return st.session_state.get(OWN)


def records():
    """Return what the open Case says, as record.Read; the same one until it changes."""
    case = own()
    return remembered("own_read", (case,), (), lambda: record.read(case, _sheet_read))


def _sheet_read(source):
    return _sheet(*source)


@st.cache_resource(show_spinner=False, max_entries=200)
def _sheet(name, data):
    """Return the Machine of a sheet's text, the same one for the same text."""
    return read_machine((name, data))


def sheet_of(name):
    """Return the Machine of a sheet of the open Case by its file's name."""
    return _sheet(name, own().sheets[name].encode("utf-8"))


def open_new(case):
    """Open a Case as a new one of one's own; all that was moved is put aside."""
    close()
    st.session_state[CASE] = new_id()
    st.session_state[OWN] = case
    _save(case, None)


def close():
    """Leave the case that is open; it stays where it is kept."""
    for key in [key for key in st.session_state if key not in STAYS]:
        del st.session_state[key]
    st.query_params.clear()


def bring_back_own(place, case_id):
    """Open the case in a folder, where there is one; what is wrong with it is said."""
    folder = place / case_id
    if not is_case(folder):
        return
    st.session_state[CASE] = case_id
    try:
        st.session_state[SEEN] = state_of(folder)
        st.session_state[OWN] = load_case(folder)
    except (ScoringError, OSError) as error:
        st.session_state["own_broken"] = str(error)


def change(make, key=""):
    """Change the open Case by a function (Case) → Case; return whether it took.

    A fault is kept under the widget's key, and changes nothing.
    """
    wrong = st.session_state.setdefault(WRONG, {})
    wrong.pop(key, None)
    before = own()
    try:
        after = make(before)
    except ScoringError as error:
        wrong[key] = plain(error)
        return False
    if after != before:
        st.session_state[OWN] = after
        _save(after, before)
    return True


def plain(error):
    """Return a fault without file and line, which a form has none of."""
    faults = getattr(error, "faults", ())
    return "\n".join(map(_in_form, faults)) or str(error)


def _in_form(fault):
    """Return a fault with what it is about in words."""
    parts = [part for part in fault.key.split(".") if not part.isdigit()]
    about = WORDS.get(parts[-1], parts[-1].replace("_", " ")) if parts else ""
    said = f"{fault.what}; {fault.allowed}" if fault.allowed else fault.what
    return f"{about}: {said}" if about else said


def wrong_at(key):
    """Return what was wrong with the last entry of a widget, "" where nothing was."""
    return st.session_state.get(WRONG, {}).get(key, "")


def steps_back():
    """Return how many changes can be undone."""
    folder = own_folder()
    if folder is None:
        return len(st.session_state.get("own_before", ()))
    return len(versions(folder))


def step_back():
    """Undo the last change."""
    folder = own_folder()
    st.session_state[WRONG] = {}
    if folder is None:
        before = st.session_state.get("own_before", [])
        if before:
            st.session_state[OWN] = before.pop()
        return
    try:
        if is_changed_elsewhere():
            return take_others()
        case = undo(folder)
    except (ScoringError, OSError) as error:
        st.session_state["own_not_saved"] = str(error)
        return
    st.session_state[OWN] = case or own()
    st.session_state[SEEN] = state_of(folder)


def is_changed_elsewhere():
    """Return whether another tab or device changed the case since it was seen here."""
    folder = own_folder()
    return folder is not None and state_of(folder) != st.session_state.get(SEEN, "")


def others():
    """Return the Case as another tab or device left it, where one is to be chosen.

    None where there is none; "" where it was deleted there.
    """
    return st.session_state[OTHERS][0] if OTHERS in st.session_state else None


def take_others():
    """Go on with the case as another tab left it; one's own is among the versions."""
    folder = own_folder()
    st.session_state.pop(OTHERS, None)
    st.session_state[SEEN] = state_of(folder)
    st.session_state[OWN] = load_case(folder)
    st.session_state[TAKEN] = True


def take_own():
    """Go on with one's own case; the other one is put among the versions."""
    folder = own_folder()
    other, kept = st.session_state.pop(OTHERS)
    if kept is not None:
        kept.unlink(missing_ok=True)
    st.session_state[SEEN] = state_of(folder)
    _save(own(), other or None)


def _save(case, before):
    folder = own_folder()
    if folder is None:
        kept = st.session_state.setdefault("own_before", [])
        kept += [before] if before is not None else []
        del kept[:-MOST_VERSIONS]
        return
    for key in ("own_not_saved", TAKEN):
        st.session_state.pop(key, None)
    try:
        seen = st.session_state.get(SEEN, "")
        state = save_unless_changed(folder, case, before, seen)
        if state is None:
            _keep_both(folder, case)
        else:
            st.session_state[SEEN] = state
    except (ScoringError, OSError) as error:
        st.session_state["own_not_saved"] = str(error)


def _keep_both(folder, case):
    """Put one's own case among the versions, until one of both is chosen."""
    _, kept = st.session_state.get(OTHERS, (None, None))
    if kept is not None:
        kept.unlink(missing_ok=True)
    theirs = load_case(folder) if state_of(folder) else ""
    kept = put_away(folder, case) if theirs else None
    st.session_state[OTHERS] = theirs, kept
