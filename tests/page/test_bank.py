"""The screen "Case for the bank": the engine's figures, and a case that opens again."""

import shutil
from functools import cache

import pytest
from streamlit.testing.v1 import AppTest

from scoring import evaluate, load_brief, load_machines
from scoring.questions.bank_case import bank_case
from scoring.report.bank_case import bank_case_html
from scoring.words import bank
from tests.page.pages import ROOT, at_screen, echo, half_of, opened, shown

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


def with_picture_and_leads(folder):
    """Return the BankCase of a brief with artwork and a table of leads beside it."""
    for name in ("briefs", "machines"):
        shutil.copytree(ROOT / "profiles" / name, folder / name)
    path = folder / "briefs" / "second-rig.yaml"
    whole = load_brief(path)
    rows = [
        f"{job.name},100 %,2026-{10 + n % 3},sold" for n, job in enumerate(whole.work)
    ]
    table = "\n".join(("job,probability,month,basis", *rows))
    (path.parent / "leads.csv").write_text(table, encoding="utf-8")
    text = path.read_text(encoding="utf-8")
    path.write_text(f"{text}\nleads: leads.csv\n", encoding="utf-8")
    brief = load_brief(path)
    assert brief.pictures and brief.leads
    evaluation = evaluate(brief, load_machines(folder / "machines"), n_draws=100)
    return bank_case(evaluation, evaluation.names[0])


def sent(whole):
    """Return the screen after the page of a BankCase was opened there."""
    data = bank_case_html(whole).encode()
    page = opened("bank")
    page.file_uploader(key="sent_case").upload("sent.html", data, "text/html").run()
    assert not page.exception, page.exception[0].stack_trace
    return page


def test_a_case_that_was_sent_is_opened():
    """A page that somebody sent becomes the case that is shown."""
    base = half_of("workshop")
    whole = bank_case(base, base.names[base.order[0]])
    assert said(bank.asked_for(whole)) in said(shown(sent(whole)))


def test_a_sent_case_outlives_a_reload(tmp_path, monkeypatch):
    """Artwork and leads of a case that was sent are there again after a reload."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path / "kept"))
    monkeypatch.delenv("MURAL_KEEP_NOTHING", raising=False)
    whole = with_picture_and_leads(tmp_path / "profiles")
    page = sent(whole)
    before = page.session_state["own_case"]
    assert set(before.files) >= {"leads.csv"} and len(before.files) > 1
    again = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60)
    again.query_params["case"] = page.query_params["case"]
    at_screen(again, "bank").run()
    assert not again.exception, again.exception[0].stack_trace
    assert again.session_state["own_case"] == before
    assert said(shown(again)) == said(shown(page))


def test_a_page_without_a_case_is_said():
    """Another page leaves what was loaded, with a sentence."""
    page = opened("bank")
    page.file_uploader(key="sent_case").upload("x.html", b"<p>", "text/html").run()
    assert "holds no case" in shown(page)
