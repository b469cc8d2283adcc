"""The screen "Case for the bank": one machine as a lender looks at it."""

import streamlit as st

from scoring.charts.bank import cash_spec, cover_spec
from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, keep, remembered
from scoring.page.state.own import open_new, own
from scoring.page.state.work import ranked
from scoring.questions.bank_case import bank_case
from scoring.words import bank

HOLDS = (
    "The page holds your brief and the machine sheets as they were read: whoever gets "
    "it can open the case here."
)
STRESS_HEAD = ("what happens", "lowest cover", "least own cash", "present value")


def main():
    """Draw the screen."""
    files = loaded()
    brief, _ = header(files, "Case for the bank")
    open_sent()
    base = ranked(files, brief)
    if base is None:
        echo()
        return
    name = chosen(base)
    case = remembered("bank", (base,), name, lambda: bank_case(base, name))
    told(case)
    papers(case)
    echo(bank_machine=name)


def chosen(base):
    """Draw the choice of the machine, the leader first; return its name."""
    names = [base.names[k] for k in base.order]
    keep("bank_machine", names, names[0])
    st.selectbox("Machine", names, key="bank_machine", persist_state="session")
    return st.session_state["bank_machine"]


def told(case):
    """Draw what the case comes to, and what it rests on below."""
    pay = () if case.draws_pay else (bank.UNPAID,)
    text.say(
        bank.asked_for(case),
        bank.loan_size(case),
        bank.cover(case),
        bank.jobs_needed(case),
        *pay,
    )
    text.say(bank.DRAFT)
    left, right = st.columns(2)
    with left:
        chart("Own cash by the month, after drawings and tax", cash_spec(case), "cash")
    if case.borrowed >= 1:
        with right:
            chart("What is owed, and a forced sale", cover_spec(case), "owed")
    text.heading("If it goes wrong")
    text.table(STRESS_HEAD, bank.stress_rows(case), numbers=(1, 2, 3))
    text.listed([("Security", bank.security(case)), *bank.who_else(case)])
    text.caution("money")


def chart(title, spec, key):
    """Draw a chart in the page's own colours."""
    text.note(title)
    shown = {name: part for name, part in spec.items() if name != "config"}
    larger = {"width": "container", "height": 260}
    st.vega_lite_chart(spec=shown | larger, key=f"bank_{key}")


def papers(case):
    """Offer the page to print and to send, and the workbook."""
    text.heading("To take along, and to send to a friend")
    left, right = st.columns(2)
    try:
        page = _page(case)
    except ScoringError as error:
        text.faults("This case cannot be sent along.", error)
    else:
        left.download_button(
            "Page and appendix (HTML)",
            page,
            "case-for-the-bank.html",
            "text/html",
            key="download_case",
            on_click="ignore",
            help=HOLDS,
        )
    right.download_button(
        "Workbook (XLSX)",
        lambda: _workbook(case),
        "case-for-the-bank.xlsx",
        key="download_workbook",
        on_click="ignore",
    )


def _page(case):
    from scoring.report.bank_case import bank_case_html  # only where it is shown

    files = own().files if own() is not None else None
    return remembered("bank_page", (case,), "", lambda: bank_case_html(case, files))


def _workbook(case):
    from scoring.report.bank_workbook import bank_workbook  # needed by this button

    return bank_workbook(case)


def open_sent():
    """Draw the uploader of a case that somebody sent."""
    with st.expander("Open a case that was sent to you"):
        st.file_uploader(
            "The page that was sent (HTML)",
            type=["html"],
            key="sent_case",
            on_change=_take,
        )
        wrong = st.session_state.get("sent_case_wrong", "")
        if wrong:
            text.faults("This page cannot be opened; what was loaded stays.", wrong)


def _take():
    from scoring.inputs.sent_case import read_case  # only where one is sent

    sent = st.session_state["sent_case"]
    st.session_state["sent_case_wrong"] = ""
    if sent is None:
        return
    try:
        case = read_case((sent.name, sent.getvalue()))
    except ScoringError as error:
        st.session_state["sent_case_wrong"] = str(error)
        return
    open_new(case)  # kept like a case of one's own, artwork and leads with it


main()
