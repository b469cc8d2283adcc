"""What was typed made into a case of one's own."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.own_case import (
    ASSUMED,
    BRIEF_FILE,
    CaseTold,
    JobTold,
    LeafletTold,
    brief_text,
    leaflet_text,
)
from scoring.page.start.leaflets import FIELDS, n_leaflets
from scoring.page.start.questions import CREWS, chosen_kinds
from scoring.page.state.files import take_own


def make():
    """Make the case of what was typed and show it; return what is wrong, or ""."""
    faults, machines = [], []
    brief = _read(faults, load_brief, BRIEF_FILE, lambda: brief_text(told()))
    for leaflet in told_leaflets():
        name = f"{leaflet.name}.yaml"
        machine = _read(
            faults, read_machine, name, lambda it=leaflet: leaflet_text(it, currency())
        )
        machines.append(machine)
    if not chosen_kinds():
        faults = ["1. Choose a kind of job, or type one."]
    elif not machines:
        faults.append("Tell at least the name of one machine.")
    if faults:
        return "\n".join(faults)
    take_own(BRIEF_FILE, brief, machines)
    return ""


def _read(faults, read, name, text):
    """Return a record of a text, or None with a line in faults for each fault."""
    try:
        return read((name, text().encode()))
    except ScoringError as error:
        faults.append(str(error))
        return None


def told():
    """Return what was typed of the buyer as a CaseTold."""
    assumed = {key: _of(f"assumed_{key}") for key in ASSUMED}
    rig = _of("rig")
    return CaseTold(
        currency=currency(),
        jobs=[_job(kind) for kind in chosen_kinds()],
        people=CREWS[st.session_state["start_crew"]],
        lift=_of("lift") or "25",
        days_per_week=_of("days_per_week") or "5",
        cash=_of("cash"),
        credit=_of("credit"),
        assumed={key: text for key, text in assumed.items() if text},
        owned=[(rig, _of("rig_age"), _of("rig_resale"))] if rig else [],
    )


def told_leaflets():
    """Return a LeafletTold for each machine that has a name."""
    found = []
    for n in range(n_leaflets()):
        texts = {key: _of(f"leaflet_{n}_{key}") for key, *_ in FIELDS}
        passes = texts.pop("passes")
        if texts["name"]:
            is_number = passes.isdigit() and len(passes) < 4
            found.append(LeafletTold(**texts, passes=int(passes) if is_number else 4))
    rig = _of("rig")
    if rig and rig not in [leaflet.name for leaflet in found]:
        found.append(LeafletTold(rig))
    return found


def currency():
    """Return the currency that was chosen."""
    return st.session_state["start_currency"]


def _job(kind):
    state = st.session_state
    counts = (
        int(state.get(f"start_{kind}_{key}", 0)) for key in ("sold", "asked", "hoped")
    )
    sizes = (_of(f"{kind}_{key}") for key in ("width", "height", "price"))
    return JobTold(kind, *counts, *sizes)


def _of(key):
    return str(st.session_state.get(f"start_{key}") or "").strip()
