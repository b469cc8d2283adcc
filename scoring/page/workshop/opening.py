"""A room is opened: the pack, the form, the stages and their minutes."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state.files import profiles
from scoring.page.workshop import seat
from scoring.workshop.handouts import FORMS
from scoring.workshop.pack import MOST_MINUTES, NEEDED
from scoring.workshop.pack_check import checked
from scoring.workshop.pack_files import MOST_BYTES, load_pack
from scoring.workshop.papers import STAGE_WORDS
from scoring.workshop.rooms import open_room

OWN = "a file of my own (.zip)"


def opening():
    """Draw what a trainer chooses before the room is there."""
    st.subheader("Open a room")
    if said := st.session_state.pop("fault_open", ""):
        text.faults("No room was opened.", said)
    found = _chosen_pack()
    if found is None:
        return
    text.say(found.plan.story)
    form = st.segmented_control(
        "Form",
        list(FORMS),
        default="hour",
        required=True,
        key="open_form",
        format_func=FORMS.get,
    )
    minutes = _minutes(found, form)
    text.say(f"{sum(minutes.values())} minutes in all.")
    st.button(
        "Open the room",
        key="open_go",
        type="primary",
        on_click=_open,
        args=(found, form, minutes),
    )


def _chosen_pack():
    """Draw the choice of the scenario; return its Pack, None if there is none yet."""
    packs = {path.parent.name: path.parent for path in _folders()}
    name = st.selectbox(
        "Scenario",
        [*packs, OWN],
        key="open_pack",
        format_func=lambda name: name.replace("-", " "),
    )
    try:
        if name != OWN:
            return _of_folder(str(packs[name]))
        sent = st.file_uploader("Scenario, packed", type="zip", key="open_file")
        return None if sent is None else _own(sent)
    except ScoringError as error:
        text.faults("This scenario cannot be used.", error)
        return None


def _folders():
    return sorted(profiles().glob("workshops/*/pack.yaml"))


@st.cache_resource(show_spinner=False)
def _of_folder(folder):
    return load_pack(folder)


def _own(sent):
    """Return the Pack of an uploaded file, which must teach what it should."""
    if sent.size > MOST_BYTES:
        raise ScoringError(f"{sent.name}: {sent.size} bytes; {MOST_BYTES} or fewer")
    return _checked(sent.name, sent.getvalue())


@st.cache_resource(show_spinner="Checking the scenario …", max_entries=8)
def _checked(name, data):
    found = load_pack((name, data))
    checked(found)
    return found


def _minutes(found, form):
    """Draw the stages with their minutes; return {stage: minutes} of those chosen."""
    steps = {s.stage: s.minutes for s in getattr(found.plan.stages, form)}
    long = {s.stage: s.minutes for s in found.plan.stages.long}
    minutes = {}
    with st.expander("Stages and minutes", key="open_stages"):
        for stage, usual in (long | steps).items():
            key = f"{form}_{stage}"
            with st.container(horizontal=True, vertical_alignment="bottom"):
                is_in = st.checkbox(
                    STAGE_WORDS[stage],
                    stage in steps,
                    key=f"with_{key}",
                    disabled=stage in NEEDED,
                )
                length = st.number_input(
                    f"Minutes: {STAGE_WORDS[stage]}",
                    1,
                    MOST_MINUTES,
                    usual,
                    key=f"minutes_{key}",
                    label_visibility="collapsed",
                    width=130,
                )
            if is_in:
                minutes[stage] = int(length)
    return minutes


def _open(found, form, minutes):
    try:
        opened = open_room(seat.store(), found, form, minutes)
    except ScoringError as error:
        st.session_state["fault_open"] = str(error)
        return
    st.session_state["room_key"] = opened.key
    seat.take(opened.token)
