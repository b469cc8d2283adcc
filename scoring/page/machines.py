"""The screen "Machines": each sheet as it was read, and which machines take part."""

from pathlib import Path

import streamlit as st

from scoring.evidence.sheet_figures import groups
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.print_tests import comparable
from scoring.inputs.quantity import Quantity
from scoring.page import text
from scoring.page.own.machines import own_machines
from scoring.page.state.files import header, loaded, upload
from scoring.page.state.memory import echo, keep
from scoring.page.state.own import own
from scoring.page.state.work import left_out, ranked
from scoring.words.evidence import to_ask
from scoring.words.figures import figure, joined
from scoring.words.keys import in_words
from scoring.words.workings.carrying import who_carries

CAUTIONS_OF = {
    "Money": ("money",),
    "Time on site": ("assembled", "printing"),
    "Lifting and van": ("lifting", "van"),
    "Ink, smell and wear": ("odour", "ink", "lamp"),
    "Reach and surfaces": ("wall", "height"),
    "The rest": ("mains",),
}
SAME_PRINT = "its timed prints can be compared with these: same size and passes"
STAND_IN = "a wide guess"
HEAD = ["", "as written", "counts as", "basis"]


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Machines", needs_machines=False)
    if own() is not None:
        own_machines(files, brief, is_us)
        echo()
        return
    if files.machines:
        st.page_link("scoring/page/log/screen.py", label="Jobs done ▸")
        taking_part(files)
        evaluation = ranked(files, brief)
        sheet(files, evaluation, is_us)
    else:
        st.warning("There is no machine sheet; upload one.")
    text.heading("Your own machine sheet")
    upload("machine", read_machine)
    echo()


def taking_part(files):
    """Draw a check box for each machine: only ticked ones are ranked."""
    text.heading("Machines that take part")
    out = left_out(files)
    with st.container(horizontal=True):
        for n, machine in enumerate(files.machines):
            st.session_state[f"part_{n}"] = machine.name not in out
            st.checkbox(
                text.escaped(machine.name),
                key=f"part_{n}",
                on_change=_take_part,
                args=(n, machine.name, len(files.machines)),
            )
    if st.session_state.pop("last_one", False):
        st.warning("One machine at least takes part; tick another one first.")
    st.caption(
        "A machine that is left out still counts for the scale and for what others do "
        "not tell, so that leaving it out turns no order around."
    )


def _take_part(n, name, n_machines):
    """Take up a check box, unless it would leave no machine."""
    out = st.session_state.get("left_out", frozenset())
    out = out - {name} if st.session_state[f"part_{n}"] else out | {name}
    if len(out) < n_machines:
        st.session_state["left_out"] = out
    else:
        st.session_state["last_one"] = True


def sheet(files, evaluation, is_us):
    """Draw one machine's sheet, what its plans earn, and offer it as files."""
    names = [machine.name for machine in files.machines]
    keep("sheet", names, names[0])
    text.heading("Machine sheet")
    st.selectbox("Machine", names, key="sheet", persist_state="session")
    machine = files.machines[names.index(st.session_state["sheet"])]
    told = told_of(machine)
    if told:
        text.say(told)
    tables = {
        name: _rows(machine, keys, evaluation, is_us) for name, keys in groups().items()
    }
    shown = [name for name, rows in tables.items() if rows]
    for name in shown:
        with st.expander(name):
            text.table(HEAD, tables[name], label=name)
            if name == "Money":
                text.say(to_ask(machine))
            if name == "Money" and evaluation is not None:
                plans(evaluation, machine)
            if name == "Speed":
                speeds(machine, is_us)
                compared(files, machine)
            if name == "Lifting and van" and evaluation is not None:
                who = who_carries(evaluation, evaluation.index(machine.name), is_us)
                text.say(f"Heaviest piece, in this brief: {who}.")
            if name in CAUTIONS_OF:
                text.caution(*CAUTIONS_OF[name])
    st.caption(
        "Counts as: likely (lowest to highest). What a seller quotes is widened to the "
        "seller's own side; what nobody tells counts as a wide guess, more likely "
        "on the worse side."
    )
    downloads(machine, [row for name in shown for row in tables[name]])


def told_of(machine):
    """Return how many figures nobody has told, as a sentence."""
    unknown = [
        in_words(machine, path)
        for path, value in text.leaves(machine)
        if isinstance(value, Quantity) and value.is_unknown
    ]
    if not unknown:
        return "Every figure that the sheet has room for is told."
    return f"Not told ({len(unknown)}): {joined(unknown)}."


def _rows(machine, keys, evaluation, is_us):
    """Return a row for each thing that a part of the sheet says."""
    return [
        _row(machine, path, value, evaluation, is_us)
        for key in keys
        for path, value in text.leaves({key: getattr(machine, key)})
        if value not in (None, (), "")
    ]


def _row(machine, path, value, evaluation, is_us):
    what = in_words(machine, path)
    own = "" if text.is_written(machine, path) else "not written"
    if not isinstance(value, Quantity):
        said = text.value_text(value, is_us)
        return [what, "", said, own] if own else [what, said, "", ""]
    counts = text.value_text(value, is_us)
    evidence = evaluation and evaluation.evidence.get((machine.name, path))
    if evidence:
        unit = evidence.unit.replace("currency", evaluation.brief.currency)
        counts = text.amount(evidence.low, evidence.likely, evidence.high, unit, is_us)
    if value.is_unknown and evidence and not evidence.is_unknown:
        return [what, "not told", counts, evidence.text]
    if value.is_unknown:
        return [
            what,
            "not told",
            counts if evidence else "–",
            STAND_IN if evidence else "",
        ]
    since = f"as of {value.as_of}" if value.as_of else ""
    notes = [text.basis(value.basis), since, value.note, own]
    return [what, value.text, counts, "; ".join(filter(None, notes))]


def speeds(machine, is_us):
    """Draw the speed in every pass mode, and where it comes from."""
    rows = [
        [f"{passes}-pass", text.value_text(speed, is_us), origin]
        for passes, (speed, origin) in sorted(machine.speeds().items())
    ]
    text.table(["pass mode", "speed", "where it comes from"], rows, label="speeds")


def compared(files, machine):
    """Say which other machines' timed prints can be compared with this one's."""
    if not machine.print_tests:
        return
    text.listed(
        (other.name, comparable(machine.print_tests, other.print_tests) or SAME_PRINT)
        for other in files.machines
        if other.print_tests and other is not machine
    )


def plans(evaluation, machine):
    """Draw what each plan would leave in a year at this brief's work."""
    currency = f"{evaluation.brief.currency}/year"
    rows = [
        [
            plan.name + (" (chosen)" if plan.is_chosen else ""),
            figure(plan.fee, currency),
            figure(plan.year_result, currency),
            "yes" if plan.meets_must_haves else "no",
        ]
        for plan in evaluation.plans[evaluation.index(machine.name)]
    ]
    head = ["plan", "fee", "would leave in a year", "meets your must-haves"]
    text.table(head, rows, [1, 2], "plans")


def downloads(machine, rows):
    """Offer what is shown as CSV, and the sheet as it was read."""
    stem = Path(machine.source).stem
    with st.container(horizontal=True):
        st.download_button(
            "What is shown (CSV)",
            lambda: text.csv_bytes([["what", *HEAD[1:]], *rows]),
            f"{stem}.csv",
            "text/csv",
            key="download_sheet_csv",
            on_click="ignore",
        )
        st.download_button(
            "This sheet (YAML)",
            machine.text,
            f"{stem}.yaml",
            "application/yaml",
            key="download_sheet",
            on_click="ignore",
        )


main()
