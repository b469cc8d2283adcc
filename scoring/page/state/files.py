"""Files that the page knows: the demo's, those that were sent; which one is shown."""

import os
from dataclasses import dataclass
from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief, with_leads, with_picture
from scoring.inputs.case.record import with_sheet_text
from scoring.inputs.files import stamp
from scoring.inputs.machine_folder import read_machine, same_names, sheets_in
from scoring.page import text
from scoring.page.state.memory import keep, remembered
from scoring.page.state.own import (
    TAKEN,
    change,
    others,
    own,
    records,
    sheet_of,
    take_others,
    take_own,
)

HERE = Path(__file__).parents[3]
METRIC, US = "metric", "US customary"
LEADS, ARTWORK = "leads", "artwork"


@dataclass(frozen=True)
class Loaded:
    """The files that the page works with, and what is wrong with the others."""

    briefs: dict  # file name → Brief, uploads last
    machines: tuple  # sorted by name
    faults: tuple[str, ...]
    waiting: tuple = ()  # (Machine, currency without a rate) pairs


OWN_BRIEF = "your own"


def profiles():
    """Return the folder of machine sheets and briefs."""
    return Path(os.environ.get("MURAL_PROFILES") or HERE / "profiles")


def loaded():
    """Return what is loaded: the files of the folder, and uploads over them.

    Of a case of one's own nothing but what is in it.
    """
    if own() is not None:
        of = records()
        return Loaded({OWN_BRIEF: of.brief}, of.machines, (), of.waiting)
    folder = profiles()
    briefs, machines, faults = _read(str(folder), _stamp(folder))
    sent = st.session_state.setdefault("sent", {"brief": {}, "machine": {}})
    named = {machine.name: machine for machine in machines} | sent["machine"]
    return Loaded(
        briefs | sent["brief"],
        tuple(named[name] for name in sorted(named)),
        faults,
    )


def owns_rig():
    """Return whether the brief that is chosen, or the first one, owns a rig."""
    briefs = loaded().briefs
    chosen = st.session_state.get("brief") or next(iter(briefs), None)
    return chosen in briefs and bool(briefs[chosen].owned)


def _stamp(folder):
    """Return what changes when a file of the folder does."""
    return tuple(stamp(path) for path in sorted(folder.glob("*/[!.]*.y*ml")))


@st.cache_resource(show_spinner=False, max_entries=4)
def _read(folder, stamp):
    """Return (briefs by file name, machines, faults) of a folder in this state."""
    briefs, faults = _each(load_brief, Path(folder) / "briefs")
    machines, more = _each(read_machine, Path(folder) / "machines")
    doubles = same_names(machines)
    told = {fault.file for fault in doubles}
    machines = [machine for machine in machines if machine.source not in told]
    faults += [*more, *map(str, doubles)]
    by_file = {Path(brief.source).name: brief for brief in briefs}
    return by_file, tuple(machines), tuple(faults)


def _each(read, folder):
    """Return what could be read from the files of a folder, and faults as lines."""
    found, faults = [], []
    try:
        paths = sheets_in(folder)
    except ScoringError as error:
        return [], [str(error)]
    for path in paths:
        try:
            found.append(read(path))
        except ScoringError as error:
            faults.append(str(error))
    return found, faults


def header(files, title, needs_machines=True):
    """Draw what every screen starts with; return the Brief chosen and is_us.

    The Brief is None, with sentences on the screen, where none could be read, or where
    the screen needs machines and a case of one's own has none yet.
    """
    left, right = st.columns([3, 1], vertical_alignment="center")
    with left:
        text.title(title)
    if files.faults:
        heading = "Some files cannot be used; the others are loaded."
        text.faults(heading, "\n".join(files.faults))
    if not files.briefs:
        st.warning("There is no brief to work with; upload one on the screen Work.")
        return None, False
    keep("brief", list(files.briefs), next(iter(files.briefs)))
    keep("units", [METRIC, US], METRIC)
    with right.popover("Case and units", width="stretch"):
        choose(files)
    brief = with_own(files.briefs[st.session_state["brief"]])
    if is_demo(brief):
        text.note(f"An invented example: {brief.title}")
    broken()
    if own() is not None:
        of_own(brief)
    if own() is not None and needs_machines and not files.machines:
        none_yet(files)
        return None, st.session_state["units"] == US
    if brief.source in st.session_state.get("own_wrong", {}):
        wrong = st.session_state["own_wrong"][brief.source]
        text.faults("The leads that you added do not fit this brief any more.", wrong)
    return brief, st.session_state["units"] == US


def broken():
    """Say what is wrong with the case of this address, where it cannot be opened."""
    wrong = st.session_state.get("own_broken")
    if wrong:
        heading = "Your case has a fault in its files; they are left as they are."
        text.faults(heading, wrong)


def of_own(brief):
    """Say whose case is open, and what the disk did not take."""
    text.note(f"Your own case: {brief.title}")
    changed_elsewhere()
    lost = st.session_state.get("own_not_saved")
    if lost:
        text.faults("This could not be written to the disk: save your case now.", lost)


def changed_elsewhere():
    """Say that the case was changed in another tab, and ask which one to go on with."""
    if st.session_state.get(TAKEN):
        st.info("Changed elsewhere meanwhile: here it is as it stands there.")
    theirs = others()
    if theirs is None:
        return
    if theirs == "":
        st.warning("This case was deleted in another tab or on another device.")
    else:
        st.warning(
            "This case has changed since you opened it, in another tab or on another "
            "device. Which one do you go on with? The other stays among the last ten "
            "versions."
        )
    with st.container(horizontal=True):
        st.button("Mine, as I see it here", key="take_own", on_click=take_own)
        if theirs != "":
            st.button("The other one", key="take_others", on_click=take_others)


def none_yet(files):
    """Say that a case of one's own has no machine yet, and where to type one."""
    waits = files.waiting
    st.warning(
        "Your machine waits for an exchange rate."
        if waits
        else "There is no machine yet: type one from its leaflet."
    )
    st.page_link("scoring/page/machines.py", label="Your machines ▸")


def choose(files):
    """Draw the choice of the brief and of the units."""
    if own() is not None:
        st.radio(
            "Units", [METRIC, US], key="units", horizontal=True, persist_state="session"
        )
        st.page_link("scoring/page/keep.py", label="Save, undo, compare ▸")
        return
    st.page_link("scoring/page/start/screen.py", label="Start a case of your own ▸")
    st.selectbox(
        "Whose work the machines are ranked for",
        list(files.briefs),
        format_func=lambda name: files.briefs[name].title,
        key="brief",
        persist_state="session",
    )
    st.radio(
        "Units", [METRIC, US], key="units", horizontal=True, persist_state="session"
    )


def is_demo(brief):
    """Return whether a brief is one of those that come along, all invented."""
    return Path(brief.source).parent == HERE / "profiles" / "briefs"


def with_own(brief):
    """Return the brief with the leads and the artwork that were added on the page."""
    own = added(brief)
    if not own:
        st.session_state.get("own_wrong", {}).pop(brief.source, None)
        return brief
    return remembered(
        "own", (brief, *own.values()), tuple(own), lambda: _own(brief, own)
    )


def _own(brief, own):
    """Return the brief with what still fits: it may have been sent again without."""
    names = [job.name for job in brief.work]
    wrong = st.session_state.setdefault("own_wrong", {})
    wrong.pop(brief.source, None)
    for (what, job), found in own.items():
        if what == LEADS:
            try:
                brief = with_leads(brief, found)
            except ScoringError as error:
                wrong[brief.source] = str(error)
        elif job in names:
            j = names.index(job)
            brief = with_picture(brief, j, found[brief.work[j].underbase])
    return brief


def added(brief):
    """Return what was added on the page to a brief: {(LEADS or ARTWORK, job): …}."""
    return st.session_state.setdefault("added", {}).get(brief.source, {})


def add(source, what, job, found, raw=None):
    """Add leads or a job's artwork to the brief of a file; None takes them away again.

    `raw` is the (name, bytes) that they were read from.
    """
    every = st.session_state.setdefault("added", {})
    own = {k: v for k, v in every.get(source, {}).items() if k != (what, job)}
    kept = st.session_state.setdefault("added_raw", {})
    kept.pop((source, what, job), None)
    if found is not None:
        own[what, job] = found
        kept[source, what, job] = raw
    every[source] = own


def put_sheet(machine):
    """Put a Machine in place of the one of its name; return it as screens get it."""
    if own() is not None:
        name = machine.source
        change(lambda case: with_sheet_text(case, name, machine.text))
        return sheet_of(name)
    st.session_state["sent"]["machine"][machine.name] = machine
    return machine


def upload(kind, read):
    """Draw an uploader; a file with faults leaves what was loaded in place."""
    st.file_uploader(
        f"Your own {kind} (YAML)",
        type=["yaml", "yml"],
        key=f"upload_{kind}",
        on_change=_take_upload,
        args=(kind, read),
    )
    note, wrong = st.session_state.get(f"uploaded_{kind}", ("", ""))
    if wrong:
        text.faults("This file cannot be used; what was loaded before stays.", wrong)
    elif note:
        text.say(note)


def _take_upload(kind, read):
    sent = st.session_state[f"upload_{kind}"]
    if sent is None:
        st.session_state[f"uploaded_{kind}"] = ("", "")
        return
    try:
        record = read((sent.name, sent.getvalue()))
    except ScoringError as error:
        st.session_state[f"uploaded_{kind}"] = ("", str(error))
        return
    if kind == "brief":
        name = f"{record.source} (uploaded)"
        st.session_state["brief"] = name
        note = f"Loaded and chosen: {record.title}"
    else:
        name = record.name
        note = f"Loaded, in place of any other sheet of this name: {name}"
    st.session_state["sent"][kind][name] = record
    st.session_state[f"uploaded_{kind}"] = (note, "")
