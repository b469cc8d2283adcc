"""The fields for what is timed, printed, weighed and smelled; one form a machine."""

import streamlit as st

from scoring.inputs.visit import (
    BY_PATH,
    INTENSITIES,
    JUDGED,
    N_NOSES,
    N_RUNS,
    SMELLED,
    TAKEN,
    TIMED,
    TOLD,
)
from scoring.page import text
from scoring.page.state.memory import keep

PRINT = "print"  # the path of a timed print
WHEN = ("at once", "after an hour", "after a day")


def form_of(name):
    """Return the number of a machine's form; each machine keeps its own figures."""
    forms = st.session_state.setdefault("visit_forms", {})
    return forms.setdefault(name, len(forms))


def key_of(form, path, n=0):
    """Return the key of the nth field of a figure in a form."""
    return f"visit_{form}_{path.replace('.', '_')}_{n}"


def is_of(trial, path):
    """Return whether a test's step holds the fields of a path; the print is one."""
    return trial is not None and trial.is_settled("speed" if path == PRINT else path)


def fields(form, machine, is_us, wanted, said=()):
    """Draw the fields of the paths that are wanted; return whether there are any.

    Cautions that are said already, by their names, are not said again.
    """
    timed(form, [figure for figure in TIMED if wanted(figure.path)], said)
    if wanted(PRINT):
        printed(form, machine, is_us, said)
    taken(form, is_us, [figure for figure in TAKEN if wanted(figure.path)], said)
    smelled(form, [figure for figure in SMELLED if wanted(figure.path)], said)
    judged(form, [figure for figure in JUDGED if wanted(figure.path)])
    told(form, is_us, [figure for figure in TOLD if wanted(figure.path)])
    return wanted(PRINT) or any(map(wanted, BY_PATH))


def timed(form, figures, said):
    """Draw the fields for what is timed."""
    if not figures:
        return
    text.heading("Times")
    _caution(said, "assembled", "mains")
    st.caption("Minutes, or minutes:seconds; leave empty what you did not time.")
    for figure in figures:
        if figure.n_runs > 1:
            row(form, figure.path, figure.what, figure.n_runs)
    singles = [figure for figure in figures if figure.n_runs == 1]
    for column, figure in zip(st.columns(max(1, len(singles))), singles, strict=False):
        with column:
            field(key_of(form, figure.path), capital(figure.what))


def row(form, path, what, n_runs, each="no. {}"):
    """Draw a text field for each run of what is measured more than once."""
    for n, column in enumerate(st.columns(n_runs)):
        with column:
            more = f", {each.format(n + 1)}" if n_runs > 1 else ""
            field(key_of(form, path, n), f"{capital(what)}{more}")


def field(key, label):
    """Draw a text field that outlives a visit to another screen."""
    st.session_state.setdefault(key, "")
    st.text_input(label, key=key, max_chars=40, persist_state="session")


def capital(words):
    """Return words with a capital in front."""
    return words[:1].upper() + words[1:]


def printed(form, machine, is_us, said):
    """Draw the fields for one picture, printed in the same way each time."""
    text.heading("A timed print")
    _caution(said, "lamp", "ink")
    unit = "ft" if is_us else "m"
    offered = sorted(machine.speeds())
    key = key_of(form, "passes")
    keep(key, offered, offered[0])
    left, middle, right = st.columns(3)
    with left:
        field(key_of(form, "width"), f"Width ({unit})")
    with middle:
        field(key_of(form, "height"), f"Height ({unit})")
    right.selectbox(
        "Passes",
        offered,
        format_func=lambda passes: f"{passes}-pass",
        key=key,
        persist_state="session",
    )
    row(form, "print", "print", N_RUNS)


def taken(form, is_us, figures, said):
    """Draw the fields for what a scale or a tape tells."""
    if not figures:
        return
    text.heading("Weight and reach")
    _caution(said, "lifting", "height")
    st.caption("Another unit may stand after a figure, such as 96 in.")
    for n in range(0, len(figures), 3):
        for column, figure in zip(st.columns(3), figures[n : n + 3], strict=False):
            unit = figure.us if is_us else figure.metric
            with column:
                field(key_of(form, figure.path), f"{capital(figure.what)} ({unit})")


def smelled(form, figures, said):
    """Draw what three noses say of the smell, in words."""
    if not figures:
        return
    text.heading("Smell, by three noses")
    st.caption(
        "Each for themselves, before they talk. What is smelled at once counts; what "
        "it was like later is noted beside it."
    )
    for figure in figures:
        with st.expander(capital(figure.what)):
            for n_when, when in enumerate(WHEN):
                for n, column in enumerate(st.columns(N_NOSES)):
                    with column:
                        _nose(key_of(form, f"{figure.path}_{n_when}", n), when, n)
    _caution(said, "odour")


def _nose(key, when, n):
    st.session_state.setdefault(key, None)
    st.selectbox(
        f"{capital(when)}, nose {n + 1}",
        range(len(INTENSITIES)),
        format_func=lambda step: f"{step} {INTENSITIES[step]}",
        key=key,
        placeholder="not smelled",
        persist_state="session",
    )


def judged(form, figures):
    """Draw the fields for what is judged by eye."""
    if not figures:
        return
    text.heading("Judged")
    st.caption("Marks from 1 (poor) to 5 (very good); nobody sees another's.")
    for figure in figures:
        row(form, figure.path, figure.what, figure.n_runs, "judge {}")


def told(form, is_us, figures):
    """Draw the fields for what owners tell."""
    if not figures:
        return
    text.heading("Told by owners")
    st.caption("What owners tell counts as an estimate; leave empty what nobody knows.")
    for figure in figures:
        unit = figure.us if is_us else figure.metric
        what = f"{figure.what} ({unit})" if unit else figure.what
        row(form, figure.path, what, figure.n_runs, "owner {}")


def _caution(said, *names):
    if rest := [name for name in names if name not in said]:
        text.caution(*rest)
