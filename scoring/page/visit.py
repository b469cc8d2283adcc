"""The screen "Visit": a stopwatch and a form, whose figures become measured ones."""

import time
from datetime import date
from pathlib import Path

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.visit import (
    INTENSITIES,
    N_NOSES,
    N_RUNS,
    SMELLED,
    TAKEN,
    TIMED,
    Print,
    clock,
    later_smells,
    with_measured,
    with_unit,
)
from scoring.page import text
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, keep
from scoring.page.state.work import baseline
from scoring.questions.firmness import how_firm

WHEN = ("at once", "after an hour", "after a day")
DRAWS = 4_000  # for the order of the printed sheet; it is made while somebody waits


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Visit")
    if not files.machines:
        st.warning("There is no machine sheet; upload one on the machines screen.")
        echo()
        return
    machine = chosen(files)
    if brief is not None:
        paper(files, brief)
    form = _form(machine.name)
    stopwatch(form)
    timed(form)
    printed(form, machine, is_us)
    taken(form, is_us)
    smelled(form)
    use(form, machine, is_us)
    echo(visit_machine=machine.name)


def chosen(files):
    """Draw the choice of the machine; return its Machine."""
    names = [machine.name for machine in files.machines]
    keep("visit_machine", names, names[0])
    st.selectbox(
        "Machine that you are looking at",
        names,
        key="visit_machine",
        persist_state="session",
    )
    return files.machines[names.index(st.session_state["visit_machine"])]


def paper(files, brief):
    """Offer the printable sheet of tests."""
    try:
        base = baseline(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this brief.", error)
        return
    st.download_button(
        "Sheet of tests to print (HTML)",
        lambda: _paper(base),
        "demo-day.html",
        "text/html",
        key="download_paper",
        on_click="ignore",
    )


def _paper(base):
    from scoring.report.demo_day import demo_day_html  # needed by this button alone

    return demo_day_html(how_firm(base, DRAWS))


def _form(name):
    """Return the number of a machine's form; each machine keeps its own figures."""
    forms = st.session_state.setdefault("visit_forms", {})
    return forms.setdefault(name, len(forms))


def _key(form, path, n=0):
    return f"visit_{form}_{path.replace('.', '_')}_{n}"


def _fields(form):
    """Return {key: name} of what a lap can be written into, in the order of the day."""
    found = {}
    for figure in TIMED:
        for n in range(figure.n_runs):
            run = f", no. {n + 1}" if figure.n_runs > 1 else ""
            found[_key(form, figure.path, n)] = f"{figure.what}{run}"
    for n in range(N_RUNS):
        found[_key(form, "print", n)] = f"print, no. {n + 1}"
    return found


def stopwatch(form):
    """Draw the stopwatch: each lap goes into the field chosen, then to the next."""
    text.heading("Stopwatch")
    text.caution("assembled", "printing")
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


def _start():
    st.session_state["visit_clock"] = time.monotonic()
    st.session_state["visit_said"] = "The stopwatch runs, from 0:00."


def _lap(form):
    """Write the time since the start or the last lap into the field chosen."""
    now = time.monotonic()
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


def timed(form):
    """Draw the fields for what is timed."""
    text.heading("Times")
    text.caution("mains")
    st.caption("Minutes, or minutes:seconds; leave empty what you did not time.")
    for figure in TIMED:
        if figure.n_runs > 1:
            _row(form, figure.path, figure.what, figure.n_runs)
    singles = [figure for figure in TIMED if figure.n_runs == 1]
    for column, figure in zip(st.columns(len(singles)), singles, strict=True):
        with column:
            _field(_key(form, figure.path), _capital(figure.what))


def _row(form, path, what, n_runs):
    for n, column in enumerate(st.columns(n_runs)):
        with column:
            _field(_key(form, path, n), f"{_capital(what)}, no. {n + 1}")


def _field(key, label):
    """Draw a text field that outlives a visit to another screen."""
    st.session_state.setdefault(key, "")
    st.text_input(label, key=key, max_chars=40, persist_state="session")


def _capital(words):
    return words[:1].upper() + words[1:]


def printed(form, machine, is_us):
    """Draw the fields for one picture, printed in the same way each time."""
    text.heading("A timed print")
    text.caution("lamp", "ink")
    unit = "ft" if is_us else "m"
    offered = sorted(machine.speeds())
    key = _key(form, "passes")
    keep(key, offered, offered[0])
    left, middle, right = st.columns(3)
    with left:
        _field(_key(form, "width"), f"Width ({unit})")
    with middle:
        _field(_key(form, "height"), f"Height ({unit})")
    right.selectbox(
        "Passes",
        offered,
        format_func=lambda passes: f"{passes}-pass",
        key=key,
        persist_state="session",
    )
    _row(form, "print", "print", N_RUNS)


def taken(form, is_us):
    """Draw the fields for what a scale or a tape tells."""
    text.heading("Weight and reach")
    text.caution("lifting", "height")
    st.caption("Another unit may stand after a figure, such as 96 in.")
    for n in range(0, len(TAKEN), 3):
        for column, figure in zip(st.columns(3), TAKEN[n : n + 3], strict=False):
            unit = figure.us if is_us else figure.metric
            with column:
                _field(_key(form, figure.path), f"{_capital(figure.what)} ({unit})")


def smelled(form):
    """Draw what three noses say of the smell, in words."""
    text.heading("Smell, by three noses")
    st.caption(
        "Each for themselves, before they talk. What is smelled at once counts; what "
        "it was like later is noted beside it."
    )
    for figure in SMELLED:
        with st.expander(_capital(figure.what)):
            for when in WHEN:
                for n, column in enumerate(st.columns(N_NOSES)):
                    with column:
                        _nose(
                            _key(form, f"{figure.path}_{WHEN.index(when)}", n), when, n
                        )
    text.caution("odour")


def _nose(key, when, n):
    st.session_state.setdefault(key, None)
    st.selectbox(
        f"{_capital(when)}, nose {n + 1}",
        range(len(INTENSITIES)),
        format_func=lambda step: f"{step} {INTENSITIES[step]}",
        key=key,
        placeholder="not smelled",
        persist_state="session",
    )


def use(form, machine, is_us):
    """Draw the button that makes the form's figures count, and what came of it."""
    text.heading("Use what you measured")
    st.button(
        "Use these figures",
        key="visit_use",
        type="primary",
        on_click=_use,
        args=(form, machine, is_us),
    )
    note, wrong = st.session_state.get(f"visit_{form}_used", ("", ""))
    if wrong:
        text.faults("These figures cannot be used; the sheet stays as it was.", wrong)
    elif note:
        text.say(note)
    made = st.session_state.get(f"visit_{form}_made")
    if made is not None and made[1] is machine:
        st.download_button(
            "The sheet with these figures (YAML)",
            machine.text,
            f"{Path(machine.source).stem}.yaml",
            "application/yaml",
            key="download_visit",
            on_click="ignore",
        )


def _use(form, machine, is_us):
    """Put the form's figures into the machine that all screens use.

    They are put into the sheet as it was before the visit, so that a figure which is
    changed or emptied, and used again, leaves nothing behind.
    """
    before, made = st.session_state.get(f"visit_{form}_made", (machine, None))
    if made is not machine:
        before = machine
    typed, notes = _typed(form, is_us)
    print_ = _print(form, is_us)
    if not any(map(_is_typed, (*typed.values(), print_.times))):
        st.session_state["sent"]["machine"].update(
            {machine.name: before} if made is machine else {}
        )
        note = "There is no figure to use; the sheet is as it was before the visit."
        st.session_state[f"visit_{form}_used"] = (note, "")
        return
    try:
        sheet = with_measured(
            before.text,
            typed,
            [print_],
            notes,
            date.today().isoformat(),
        )
        changed = read_machine((before.source, sheet.encode()))
    except ScoringError as error:
        st.session_state[f"visit_{form}_used"] = ("", str(error))
        return
    st.session_state["sent"]["machine"][machine.name] = changed
    st.session_state[f"visit_{form}_made"] = (before, changed)
    note = (
        "All screens now use these figures, as measured, until you close this page. "
        "Keep the sheet as a file."
    )
    st.session_state[f"visit_{form}_used"] = (note, "")


def _typed(form, is_us):
    """Return ({path: figures as typed, with units}, {path: note})."""
    typed, notes = {}, {}
    for figure in (*TIMED, *TAKEN):
        keys = [_key(form, figure.path, n) for n in range(figure.n_runs)]
        unit = figure.us if is_us else figure.metric
        typed[figure.path] = [with_unit(st.session_state[key], unit) for key in keys]
    for figure in SMELLED:
        at_once, hour, day = (
            _noses(form, f"{figure.path}_{n}") for n in range(len(WHEN))
        )
        typed[figure.path] = at_once
        notes[figure.path] = later_smells(hour, day)
    return typed, notes


def _is_typed(entries):
    return any(entry != "" for entry in entries)


def _noses(form, path):
    steps = (st.session_state.get(_key(form, path, n)) for n in range(N_NOSES))
    return [step for step in steps if step is not None]


def _print(form, is_us):
    unit = "ft" if is_us else "m"
    width, height = (
        with_unit(st.session_state[_key(form, side)], unit)
        for side in ("width", "height")
    )
    times = [st.session_state[_key(form, "print", n)] for n in range(N_RUNS)]
    return Print(
        st.session_state[_key(form, "passes")],
        *(width, height),
        tuple(with_unit(entry, "min") for entry in times),
    )


main()
