"""The screen "Visit": a stopwatch and a form, whose figures become measured ones."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, keep
from scoring.page.state.work import baseline
from scoring.page.visit.form import form_of, printed, smelled, taken, timed
from scoring.page.visit.stopwatch import stopwatch
from scoring.page.visit.use import use
from scoring.questions.firmness import how_firm

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
    form = form_of(machine.name)
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


main()
