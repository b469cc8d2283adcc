"""The stopwatch: each lap goes into a field of the form."""

import time

import streamlit as st

from scoring.inputs.visit import N_RUNS, TIMED, clock
from scoring.page import text
from scoring.page.state.memory import keep
from scoring.page.visit.form import PRINT, key_of


def _fields(form):
    """Return {key: name} of what a lap can be written into, in the order of the day."""
    found = {}
    for figure in TIMED:
        for n in range(figure.n_runs):
            run = f", no. {n + 1}" if figure.n_runs > 1 else ""
            found[key_of(form, figure.path, n)] = f"{figure.what}{run}"
    for n in range(N_RUNS):
        found[key_of(form, "print", n)] = f"print, no. {n + 1}"
    return found


def stopwatch(form):
    """Draw the stopwatch: each lap goes into the field chosen, then to the next."""
    running_clock()
    fields = _fields(form)
    keep(f"visit_{form}_target", list(fields), next(iter(fields)))
    st.selectbox(
        "The next lap goes to",
        list(fields),
        format_func=fields.get,
        key=f"visit_{form}_target",
        persist_state="session",
    )
    is_running = "visit_clock" in st.session_state
    with st.container(horizontal=True):
        st.button(
            "Start again from 0:00" if is_running else "Start",
            key="visit_start",
            type="secondary" if is_running else "primary",
            on_click=_start,
        )
        st.button(
            "Lap",
            key="visit_lap",
            type="primary" if is_running else "secondary",
            disabled=not is_running,
            on_click=_lap,
            args=(form,),
        )
    with st.container(key="visit_told"):
        text.say(st.session_state.get("visit_said", "The stopwatch is not running."))


def aim(form, wanted):
    """Let the next lap go to the first empty field of the paths that are wanted."""
    for path, n_runs in (*((f.path, f.n_runs) for f in TIMED), (PRINT, N_RUNS)):
        keys = [key_of(form, path, n) for n in range(n_runs)]
        empty = [key for key in keys if not st.session_state.get(key)]
        if wanted(path) and empty:
            st.session_state[f"visit_{form}_target"] = empty[0]
            return


def running_clock():
    """Draw the time since the start or the last lap; it runs without the rest."""
    is_running = "visit_clock" in st.session_state
    st.fragment(_clock, run_every=1.0 if is_running else None)()


def _clock():
    started = st.session_state.get("visit_clock")
    shown = "0:00" if started is None else clock(max(0.0, time.time() - started))
    with st.container(key="visit_running"):
        text.heading(shown)


def _start():
    # The clock on the wall: unlike the computer's own it outlives a restart.
    st.session_state["visit_clock"] = time.time()
    st.session_state["visit_said"] = "The stopwatch runs, from 0:00."


def _lap(form):
    """Write the time since the start or the last lap into the field chosen."""
    now = time.time()
    fields = _fields(form)
    key = st.session_state[f"visit_{form}_target"]
    lap = clock(now - st.session_state["visit_clock"])
    st.session_state["visit_clock"] = now
    st.session_state[key] = lap
    keys = list(fields)
    later = keys[keys.index(key) + 1 :]
    empty = [other for other in later if not st.session_state.get(other)]
    said = f"{lap} (minutes:seconds) was written to: {fields[key]}."
    if lap.count(":") > 1:
        said = said.replace("minutes", "hours:minutes")
    if empty:
        st.session_state[f"visit_{form}_target"] = empty[0]
        said += f" The stopwatch runs on from 0:00, for: {fields[empty[0]]}."
    st.session_state["visit_said"] = said
