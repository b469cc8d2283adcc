"""The screen "Case for the bank": the engine's figures, and a case that opens again."""

from functools import cache

import pytest

from scoring import evaluate, load_brief
from scoring.questions.bank_case import bank_case
from scoring.report.bank_case import bank_case_html
from scoring.words import bank
from tests import cases
from tests.cases import PROFILES
from tests.page.pages import HALF_DRAWS, echo, half_of, opened, shown

pytestmark = pytest.mark.usefixtures("half")


@cache
def case():
    return bank_case(half_of())


def said(text):
    return " ".join(text.replace("\u202f", " ").replace("\u00a0", " ").split())


def test_the_screen_says_what_the_engine_says():
    """What is asked for, the jobs needed and the draft's caution are shown."""
    text = said(shown(opened("bank")))
    for sentence in (bank.asked_for(case()), bank.jobs_needed(case()), bank.DRAFT):
        assert said(sentence) in text


def test_another_machine_has_its_own_case():
    """Choosing a machine shows that machine's case."""
    page = opened("bank")
    page.selectbox(key="bank_machine").set_value("Lindqvar Plain").run()
    assert echo(page)["bank_machine"] == "Lindqvar Plain"
    assert said(bank.asked_for(bank_case(half_of(), "Lindqvar Plain"))) in said(
        shown(page)
    )


def test_a_case_that_was_sent_is_opened():
    """A page that somebody sent becomes the brief that is shown."""
    brief = load_brief(PROFILES / "briefs" / "workshop.yaml")
    whole = bank_case(evaluate(brief, cases.demo_machines(), n_draws=HALF_DRAWS))
    data = bank_case_html(whole).encode()
    page = opened("bank")
    page.file_uploader(key="sent_case").upload("sent.html", data, "text/html").run()
    assert not page.exception
    assert "sent.html" in echo(page)["brief"]
    assert said(bank.asked_for(whole)) in said(shown(page))


def test_a_page_without_a_case_is_said():
    """Another page leaves what was loaded, with a sentence."""
    page = opened("bank")
    page.file_uploader(key="sent_case").upload("x.html", b"<p>", "text/html").run()
    assert "holds no case" in shown(page)
