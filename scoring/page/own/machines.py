"""Machines in a case of one's own: from leaflets, side by side, the sheets behind."""

from dataclasses import replace

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.leaflet import copy_of
from scoring.inputs.case.record import with_new_sheet, without_sheet
from scoring.page import text
from scoring.page.own.entry import Edited
from scoring.page.own.leaflet import leaflet
from scoring.page.own.opened import upload_sheet
from scoring.page.own.sheet import whole_sheet
from scoring.page.own.side_by_side import side_by_side
from scoring.page.state.folds import fold
from scoring.page.state.memory import keep
from scoring.page.state.own import change, own, sheet_of, wrong_at
from scoring.page.state.work import ranked
from scoring.report.mail import questions_mail


def own_machines(files, brief, is_us):
    """Draw the machines of the open Case, and the forms that change them."""
    waiting(files, brief)
    names = {sheet_of(name).name: name for name in own().sheets}
    if files.machines:
        with st.container(horizontal=True):
            st.page_link("scoring/page/answer/screen.py", label="Answer ▸")
            st.page_link("scoring/page/log/screen.py", label="Jobs done ▸")
    if len(files.machines) > 1:
        base = ranked(files, brief)
        if base is not None:
            side_by_side(base, is_us)
    leaflet(brief, len(names))
    if names:
        one_machine(names, brief)
    fold("Sheets as files (YAML)", "own_sheet_file", upload_sheet)


def waiting(files, brief):
    """Ask for the rate of a machine's currency; only that machine waits."""
    for code in dict.fromkeys(code for _, code in files.waiting):
        names = [machine.name for machine, other in files.waiting if other == code]
        key = f"rate_{code}"
        st.warning(
            f"{text.escaped(', '.join(names))}: waits for what one {code} is in "
            f"{brief.currency}. The others go on."
        )
        st.text_input(
            f"One {code} in {brief.currency}",
            key=key,
            placeholder="such as 0,92",
            on_change=_take_rate,
            args=(code, key),
        )
        if wrong_at(key):
            text.wrong(wrong_at(key))


def _take_rate(code, key):
    from scoring.inputs.case.typed import figure_of
    from scoring.inputs.dimensions import MONEY
    from scoring.page.state.own import WRONG, plain

    if not st.session_state[key].strip():
        return
    sheet = Edited()
    try:
        rate = figure_of(st.session_state[key], MONEY, sheet.currency)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[key] = plain(error)
        return
    sheet.apply({f"exchange.{code}": rate}, key)


def one_machine(names, brief):
    """Draw the choice of a machine, what can be done with its sheet, and the sheet."""
    text.heading("One machine")
    keep("own_machine", list(names), next(iter(names)))
    st.selectbox("Machine", list(names), key="own_machine", persist_state="session")
    name = names[st.session_state["own_machine"]]
    machine, is_retired = sheet_of(name), name in own().retired
    with st.container(horizontal=True):
        st.button("Copy", key="copy_sheet", on_click=_copy, args=(name,))
        label = "Take back in" if is_retired else "Retire"
        st.button(label, key="retire_sheet", on_click=_retire, args=(name,))
        if is_retired:
            st.button("Delete", key="delete_sheet", on_click=_delete, args=(name,))
    if is_retired:
        text.note("Retired: it is kept and takes no part.")
    if wrong_at("sheet"):
        text.wrong(wrong_at("sheet"))
    fold("The whole sheet", "own_sheet", lambda: whole_sheet(name, machine))
    mail = questions_mail(machine, brief)
    if mail:
        fold("Questions to its seller", "own_mail", lambda: _mail(mail))


def _mail(mail):
    text.note("Copy it into a mail: the sign is at the upper right.")
    st.code(mail, language=None, wrap_lines=True)


def _copy(name):
    """Copy a sheet under a name of its own, and open the copy."""
    machine = sheet_of(name).name
    taken = {sheet_of(each).name for each in own().sheets}
    new = f"{machine}, copy"
    while new in taken:
        new += " 2"
    copied = copy_of(own().sheets[name], new)
    if change(lambda case: with_new_sheet(case, copied)[0], "sheet"):
        st.session_state["own_machine"] = new


def _retire(name):
    change(lambda case: replace(case, retired=case.retired ^ {name}), "sheet")


def _delete(name):
    change(lambda case: without_sheet(case, name), "sheet")
