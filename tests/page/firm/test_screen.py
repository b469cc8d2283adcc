"""The screen "How sure": its sentences and figures are the engine's, run once each."""

import html
import re
from dataclasses import replace

import pytest
from streamlit.runtime.scriptrunner_utils.exceptions import StopException

from scoring import evaluate
from scoring.answer.ranking import reweigh
from scoring.charts.places import places_in_words
from scoring.errors import ScoringError
from scoring.inputs.quantity import pert_mean
from scoring.page.state import firm as answers
from scoring.page.state.shared import forget, n_kept
from scoring.questions.best_price import best_buy_price, present_price
from scoring.questions.find_out import questions
from scoring.questions.firmness import how_firm
from scoring.questions.swings import all_swings, level_value
from scoring.words.evidence import mix_rests_on
from scoring.words.figures import about
from scoring.words.firmness import first_questions, how_surely, when_to_stop
from scoring.words.keys import what_asked
from scoring.words.turning import level_in_words, price_in_words
from tests import cases
from tests.page.pages import echo, half_of, markup, opened, shown, verdict, weights

SCREEN = "scoring/page/firm/screen.py"
REAL = how_firm
FOLDS = ("map", "places", "find_out", "weights", "prices", "money", "rests", "refine")


def to_firm(page, folds=FOLDS):
    """Go to the screen, all folds open; return the page."""
    for key in folds:
        page.session_state[f"fold_{key}"] = True
    page.switch_page(SCREEN).run()
    assert not page.exception, page.exception[0].stack_trace
    return page


@pytest.fixture(autouse=True)
def no_answers_of_others():
    """Each test asks anew."""
    for kind in ("firm", "answered", "questions", "swings"):
        forget(kind)


@pytest.fixture
def page(few):
    """The screen as it opens, with few draws of half of the machines."""
    return to_firm(opened())


@pytest.fixture
def few(half, monkeypatch):
    """Let every run have 200 draws of half of the machines.

    Returns the runs' (draws, seed, known).
    """
    asked = []

    def quick(evaluation, n_draws, seed, knowledge, **more):
        asked.append((n_draws, seed, knowledge))
        return REAL(evaluation, 200, seed, knowledge, **more)

    monkeypatch.setattr(answers, "how_firm", quick)
    return asked


def test_opens_with_a_thousand_draws_and_the_engines_sentences():
    """Verdict, questions and stop are those of the engine for 1,000 draws, seed 1."""
    page = to_firm(opened())
    firm = REAL(cases.demo("new-entrant"), 1_000, 1)
    said = shown(page)
    assert verdict(page) == how_surely(firm)
    for sentence in first_questions(firm):
        assert sentence in said
    assert when_to_stop(firm) in said
    assert mix_rests_on(firm.evaluation) in said
    assert "before tax, after your own pay" in said
    for line in places_in_words(firm).split("\n"):
        assert line in said
    inputs = echo(page)
    assert (inputs["draws"], inputs["seed"], inputs["known"]) == (1_000, 1, "stated")
    assert inputs["crew"] == 1 and inputs["jobs_0"] == 1.8
    assert len(page.get("vega_lite_chart") or page.get("arrow_vega_lite_chart")) == 5


def test_prices_questions_and_levels_are_the_engines(few, page):
    """Each machine's price for talks and each next question is in a table."""
    firm = REAL(half_of(), 200, 1)
    said = shown(page)
    for name in firm.evaluation.names:
        price = best_buy_price(firm.evaluation, name)
        assert price_in_words(firm.evaluation, name, price) in said
        now = present_price(firm.evaluation, name)
        assert about(now, firm.evaluation.brief.currency) in said
    asked = questions(firm)
    assert all(what_asked(question) in said for question in asked[:15])
    turned = [s for s in all_swings(firm.evaluation) if s.turns]
    assert turned
    for swing in turned:
        value = level_value(firm.evaluation, swing.owner, swing.path)
        assert level_in_words(firm.evaluation, swing, value) in said


def test_controls_ask_the_engine_anew_and_answers_are_kept(few):
    """Each new setting is one run; going back, or other units, is none."""
    page = to_firm(opened(), folds=("refine",))
    page.radio(key="known").set_value("order").run()
    page.number_input(key="seed").set_value(7).run()
    page.radio(key="draws").set_value(10_000).run()
    ran = [
        (1_000, 1, "stated"),
        (1_000, 1, "order"),
        (1_000, 7, "order"),
        (10_000, 7, "order"),
    ]
    assert few == ran
    assert echo(page)["known"] == "order" and echo(page)["seed"] == 7
    page.radio(key="draws").set_value(1_000).run()
    page.radio(key="units").set_value("US customary").run()
    assert few == ran
    assert "ft²" in shown(page)
    firm = REAL(half_of(), 200, 7, "order")
    assert how_surely(firm) in shown(page)


def test_weights_crew_and_jobs_are_those_of_the_ranking(few):
    """What was moved on the ranking screen is what is asked here, and stays there."""
    page = opened()
    page.slider(key="weight_support").set_value(60.0).run()
    page.run()  # the test's page holds only the parts that the last run drew
    page.slider(key="jobs_1").set_value(1.5).run()
    page.run()
    page.radio(key="crew").set_value(2).run()
    moved = weights(page)
    to_firm(page, folds=())
    inputs = echo(page)
    assert inputs["crew"] == 2 and inputs["jobs_1"] == 1.5
    assert weights(page) == pytest.approx(moved)
    base = half_of()
    work = list(base.brief.work)
    told = work[1].per_month
    factor = 1.5 / pert_mean(told.low, told.likely, told.high)
    ends = {end: factor * getattr(told, end) for end in ("low", "likely", "high")}
    work[1] = work[1].model_copy(update={"per_month": replace(told, **ends)})
    crew = base.brief.crew.model_copy(update={"people": 2})
    brief = base.brief.model_copy(update={"crew": crew, "work": tuple(work)})
    shares = {name: weight / 100 for name, weight in moved.items()}
    now = reweigh(evaluate(brief, base.machines, scale=base.scale), shares)
    assert verdict(page) == how_surely(REAL(now, 200, 1))
    assert verdict(page) != how_surely(REAL(base, 200, 1))


def test_a_run_that_is_broken_off_leaves_nothing(half, monkeypatch):
    """Nothing is shown or remembered of half the draws; the next run starts anew."""
    page = opened()

    def halfway(*asked, on_progress, **more):
        on_progress(0.5)
        raise StopException

    monkeypatch.setattr(answers, "how_firm", halfway)
    page.switch_page(SCREEN).run()
    assert n_kept("firm") == 0
    assert "data-echo" not in markup(page)
    monkeypatch.setattr(
        answers, "how_firm", lambda e, n, *a, **m: REAL(e, 200, *a, **m)
    )
    page.run()
    assert how_surely(REAL(half_of(), 200, 1)) in shown(page)
    assert n_kept("firm") == 1


def test_what_the_engine_cannot_do_is_said(half, monkeypatch):
    """A fault of the engine is shown as its sentence, controls and echo stay."""

    def refuse(*asked, **more):
        raise ScoringError("draws: there is nothing to draw from")

    monkeypatch.setattr(answers, "how_firm", refuse)
    page = to_firm(opened())
    assert "draws: there is nothing to draw from" in shown(page)
    assert page.radio(key="known").value == "stated"
    assert echo(page)["draws"] == 1_000


def test_progress_goes_away(few, page):
    """After a run no bar is left on the screen."""
    assert few
    assert not page.get("progress")


HOSTILE = "<b>x</b> **bold** ![x](http://192.0.2.1/a.png)"


def folder(tmp_path, cash):
    """Return a folder with a brief and two machines, one of a hostile name."""
    for name in ("briefs", "machines"):
        (tmp_path / name).mkdir()
    for n, name in enumerate(["Birch", f"'{HOSTILE}'"]):
        figures = {**cases.FIGURES, "name": name, "lift": 20 + n, "odour": "1..2..3"}
        sheet = cases.MACHINE.format(**figures)
        (tmp_path / "machines" / f"{n}.yaml").write_text(sheet, "utf-8")
    text = cases.BRIEF.format(
        closed="[-0.3, 0, 0.3]",
        people=1,
        crew="",
        cash=cash,
        limits="",
        jobs=cases.job(name=f"'{HOSTILE}'", per_month="1..4..6"),
        more="",
    )
    (tmp_path / "briefs" / "brief.yaml").write_text(text, "utf-8")
    return tmp_path


def test_names_are_shown_as_they_are_written(few, tmp_path, monkeypatch):
    """A name with HTML and Markdown is in the text, escaped, and nowhere is it run."""
    monkeypatch.setenv("MURAL_PROFILES", str(folder(tmp_path, 100000)))
    page = to_firm(opened())
    said = markup(page)
    assert html.escape(HOSTILE) in said
    assert "<b>x</b>" not in said
    for kind in ("markdown", "caption", "radio", "expander", "number_input"):
        for part in page.get(kind):
            told = str(getattr(part, "value", "")) + str(getattr(part, "label", ""))
            assert "**bold**" not in told, kind


def test_no_machine_left_is_said_and_nothing_breaks(few, tmp_path, monkeypatch):
    """With too little cash for any machine, the verdict says so."""
    monkeypatch.setenv("MURAL_PROFILES", str(folder(tmp_path, 1)))
    page = to_firm(opened())
    assert verdict(page).startswith("No machine is within your limits")
    said = shown(page)
    assert "No machine leads" in said
    assert not page.get("download_button")
    assert echo(page)["draws"] == 1_000


def test_who_is_ahead_stands_in_the_row(few, page):
    """The one most often first is ahead of the next in most draws: in its own row."""
    table = markup(page).partition('who is ahead of whom, how often"')[2]
    rows = re.findall(r"<tr>(.*?)</tr>", table, re.DOTALL)[1:3]
    cells = [re.findall(r"<t[dh][^>]*>(.*?)</t[dh]>", row, re.DOTALL) for row in rows]
    shares = [[cell.removesuffix(" %") for cell in row[1:3]] for row in cells]
    assert shares[0][0] == "" and shares[1][1] == ""
    assert float(shares[0][1]) > 60 > 40 > float(shares[1][0])
