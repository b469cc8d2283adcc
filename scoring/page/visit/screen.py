"""The screen "Visit": step by step with a clock; what is measured counts at once."""

import streamlit as st

from scoring.page import text
from scoring.page.state.files import header, loaded
from scoring.page.state.folds import fold
from scoring.page.state.memory import echo, keep
from scoring.page.state.shared import shared
from scoring.page.state.work import ranked
from scoring.page.visit.form import fields, form_of, is_of
from scoring.page.visit.step import DONE, current, ended, step
from scoring.page.visit.use import key, use
from scoring.questions.firmness import how_firm
from scoring.questions.visit import MINUTES, VISIT_COST, planned_round, planned_visit
from scoring.words.figures import figure
from scoring.words.visit import plan_in_words, round_in_words, whether_it_changed

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
    form = form_of(machine.name)
    base = ranked(files, brief)
    visit = planned(base, machine, form)
    said_of_answer(form, base)
    trial = current(form, visit)
    step(form, machine, is_us, base, visit, trial)
    if visit is not None:
        with st.expander("The plan for this visit"):
            text.say(*plan_in_words(visit, is_us))
    with st.expander("Every other figure on one form"):
        fields(form, machine, is_us, lambda path: not is_of(trial, path))
    use(form, machine, is_us, base)
    if base is not None:
        fold("Which seller first, and when to stop", "sellers", lambda: sellers(base))
        paper(base, visit)
    echo(visit_machine=machine.name, visit_step=trial.title if trial else "")


def planned(base, machine, form):
    """Return the PlannedVisit by what is known now, None without an answer."""
    if base is None or machine.name not in base.names:
        return None
    done = tuple(title for title, how in ended(form).items() if how == DONE)
    return shared(
        "visit",
        (base,),
        (machine.name, done),
        lambda: planned_visit(base, machine.name, done=done),
    )


def said_of_answer(form, base):
    """Say whether what was saved last changes the answer."""
    before = st.session_state.pop("visit_compared", None)
    if before is not None and base is not None:
        st.session_state[key(form, "told")] = whether_it_changed(before, base)
    told = st.session_state.get(key(form, "told"))
    if told:
        with st.container(key="visit_answer"):
            text.say(told)


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


def sellers(base):
    """Say to whom to go first, and from what on the others need no visit."""
    found = shared(
        "round", (base,), (), lambda: planned_round(base, MINUTES, VISIT_COST)
    )
    text.say(*round_in_words(found) or ["No machine is left within the limits."])
    text.note(
        f"Reckoned with {figure(MINUTES, 'min')} at each and "
        f"{figure(VISIT_COST, base.brief.currency)} for the way and the half day."
    )


def paper(base, visit):
    """Offer the printable sheet of tests, in the order of the plan."""
    st.download_button(
        "Sheet of tests to print (HTML)",
        lambda: _paper(base, visit),
        "demo-day.html",
        "text/html",
        key="download_paper",
        on_click="ignore",
    )


def _paper(base, visit):
    # Needed by this button alone.
    from scoring.report.demo_day import demo_day_html, visit_html

    firm = how_firm(base, DRAWS)
    return demo_day_html(firm) if visit is None else visit_html(firm, visit)


main()
