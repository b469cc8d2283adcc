"""What was typed, kept on this computer: a reload or a sleeping phone loses nothing.

Where sliders stand is one file of JSON in the user's own folder, under an id that
nobody guesses and that stands in the page's address. A case of one's own lies beside
it, in a folder of that name.
"""

import json
import re

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.leads_file import load_leads
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.picture_file import load_either
from scoring.inputs.written import write
from scoring.page.state.files import add
from scoring.page.state.log_files import kept_files, set_kept
from scoring.page.state.moved import moves_of, note_moves, put_moves, sound
from scoring.page.state.own import bring_back_own
from scoring.page.state.place import CASE, ID, folder, new_id

MOST_BYTES = 8_000_000  # of one case, with what was uploaded
MOST_CASES = 200  # the oldest make room; those of one's own are never deleted
PLAIN = ("brief", "units", "moved", "put_away", "known", "draws", "seed", "choice")
PLAIN += ("picked_pairs", "job_log_machine")
PLAIN += ("money_machine", "money_of", "rigs_of", "show_machine", "n_years")
PREFIXES = ("visit_", "rigs_", "start_", "leaflet_", "leads_draft", "beside_", "ways_")
NOT_KEPT = ("visit_start", "visit_lap", "visit_use")  # buttons
NOT_KEPT += (
    "visit_save",
    "visit_skip",
    "visit_again",
    "ways_by_order",
    "ways_by_money",
)
FILE = ("kind", "name", "data as hex")
HEX = re.compile("(?:[0-9a-f]{2})*")
READERS = {"brief": load_brief, "machine": read_machine}
ADDED = {"leads": load_leads, "artwork": load_either}


def bring_back():
    """Set the session to the case in the address, once, before anything is drawn."""
    if st.session_state.get("is_brought_back"):
        _keep_address()
        return
    st.session_state["is_brought_back"] = True
    case = st.query_params.get(CASE, "")
    place = folder()
    if place is None or not ID.fullmatch(case):
        return
    bring_back_own(place, case)
    try:
        held = json.loads((place / f"{case}.json").read_text("utf-8"))
        _set(held)
    except (OSError, ValueError, TypeError, AttributeError, KeyError):
        return  # gone, or not ours: the page begins anew
    st.session_state[CASE] = case
    st.session_state["kept_text"] = _text(held)


def keep_case():
    """Write the case if something changed since it was last written."""
    place = folder()
    if place is None:
        return
    base = st.session_state.get("seeded_for")
    if base is not None:
        note_moves(base)
    text = _text(_held())
    is_new = "kept_text" not in st.session_state
    if text == st.session_state.get("kept_text") or len(text) > MOST_BYTES:
        return
    st.session_state["kept_text"] = text
    if is_new and not st.session_state.get(CASE):
        return  # as it was opened: nothing to keep yet
    if not st.session_state.get(CASE):
        st.session_state[CASE] = new_id()
        _make_room(place)
    _keep_address()
    try:
        place.mkdir(parents=True, exist_ok=True)
        write(place / f"{st.session_state[CASE]}.json", text)
    except (OSError, ScoringError):
        st.session_state["kept_text"] = ""  # tried again with the next change


def _keep_address():
    """Let the id stand in the address; other screens drop it."""
    case = st.session_state.get(CASE)
    if case and st.query_params.get(CASE) != case:
        st.query_params[CASE] = case


def _make_room(place):
    """Delete the cases that were not used for longest, where there are very many."""
    try:
        cases = [p for p in place.glob("*.json") if not p.with_suffix("").is_dir()]
        cases.sort(key=lambda path: path.stat().st_mtime)
        for path in cases[: max(0, len(cases) - MOST_CASES + 1)]:
            path.unlink(missing_ok=True)
    except OSError:
        return


def _text(held):
    return json.dumps(held, ensure_ascii=False, sort_keys=True)


def _held():
    """Return what the session holds of the case, as JSON has it."""
    state = st.session_state
    plain = {key: state[key] for key in PLAIN if key in state}
    plain |= {
        key: value
        for key, value in state.items()
        if str(key).startswith(PREFIXES) and key not in NOT_KEPT and _is_plain(value)
    }
    sent = state.get("sent", {})
    return {
        "plain": plain,
        "log": kept_files(),
        "left_out": sorted(state.get("left_out", ())),
        "sent": {
            kind: {name: [record.source, record.text] for name, record in some.items()}
            for kind, some in sent.items()
        },
        "added": [
            [source, what, job, name, data.hex()]
            for (source, what, job), (name, data) in state.get("added_raw", {}).items()
        ],
    }


def _is_plain(value):
    if isinstance(value, dict):
        return all(isinstance(x, str | int | float) for x in value.values())
    if isinstance(value, list):
        return all(isinstance(x, str) for x in value)
    return value is None or isinstance(value, str | int | float | bool)


def _set(held):
    """Set the session to what was held; what cannot be read any more is left out."""
    for key, value in held["plain"].items():
        if key in PLAIN or key.startswith(PREFIXES):
            st.session_state[key] = value
    st.session_state["left_out"] = frozenset(map(str, held["left_out"]))
    sent = {"brief": {}, "machine": {}}
    for kind, some in held["sent"].items():
        for name, (source, text) in some.items():
            record = _read(READERS[kind], source, text.encode())
            if record is not None:
                sent[kind][name] = record
    st.session_state["sent"] = sent
    for source, what, job, name, data in held["added"]:
        raw = bytes.fromhex(data)
        found = _read(ADDED[what], name, raw)
        if found is not None:
            add(source, what, job, found, (name, raw))
    set_kept(held.get("log", ()))


def page_of(brief):
    """Return what travels with a case besides its files, as JSON has it.

    What is supposed of its brief, the job log and the prediction.
    """
    return {"moves": moves_of(brief), "log": kept_files()}


def set_page(brief, page):
    """Take up what travelled with a case; what is not sound is left out."""
    if not isinstance(page, dict):
        return
    put_moves(brief, sound(page.get("moves")))
    files = page.get("log")
    files = files if isinstance(files, list) else []
    set_kept([each for each in files if _is_file(each)])


def _is_file(each):
    is_three = isinstance(each, list) and len(each) == len(FILE)
    texts = is_three and all(isinstance(text, str) for text in each)
    return texts and HEX.fullmatch(each[-1]) is not None


def _read(read, name, data):
    try:
        return read((name, data))
    except ScoringError:
        return None
