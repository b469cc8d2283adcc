"""Nothing typed is lost: not by another brief, not by a file, not by a reload."""

import json
import os
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from scoring.inputs.leads_file import load_leads
from scoring.inputs.picture_file import load_either
from scoring.page.state.files import ARTWORK, LEADS
from tests.cases import PROFILES
from tests.page.pages import ROOT, SCREENS, at_screen, echo, opened, shown

pytestmark = pytest.mark.usefixtures("half")
FIRST, OTHER = "new-entrant.yaml", "workshop.yaml"


def moved():
    """Return the screen Ranking of the first brief with three controls moved."""
    page = opened()
    page.slider(key="weight_odour").set_value(77.0)
    page.slider(key="jobs_0").set_value(1.3)
    return page.radio(key="crew").set_value(2).run()


def stands(page):
    """Return where the three controls stand."""
    told = echo(page)
    return told["weight_odour"], told["jobs_0"], told["crew"]


def test_another_brief_and_back_keeps_what_was_moved():
    """Each brief has its own sliders; the other one opens as it is written."""
    page = moved()
    page.selectbox(key="brief").set_value(OTHER).run()
    assert stands(page) != (77.0, 1.3, 2)
    page.selectbox(key="brief").set_value(FIRST).run()
    assert stands(page) == (77.0, 1.3, 2)


def source_of(page):
    """Return under which name the brief's own additions are kept."""
    return page.session_state["seeded_for"].brief.source


def leads(page, *rows):
    """Add leads to the first brief as the uploader does; run."""
    table = "\n".join(("job,probability,month,basis", *rows)).encode()
    found = load_leads(("leads.csv", table))
    source = source_of(page)
    page.session_state["added"] = {source: {(LEADS, ""): found}}
    page.session_state["added_raw"] = {(source, LEADS, ""): ("leads.csv", table)}
    return page.run()


def test_leads_move_only_the_jobs_that_were_not_moved():
    """What was moved stays, what was not follows the leads."""
    page = moved()
    names = [job.name for job in page.session_state["seeded_for"].brief.work]
    before = echo(page)["jobs_1"]
    rows = [f"{names[1]},100 %,2026-{month},sold" for month in (11, 12)]
    leads(page, *rows, *rows, *rows, *rows, *rows, *rows)
    assert stands(page) == (77.0, 1.3, 2)
    assert echo(page)["jobs_1"] != before


def test_leads_that_fit_no_kind_of_job_any_more_are_said():
    """A sentence, no traceback, and the brief as it is written."""
    page = leads(opened(), "nave of an invented hall,50 %,2026-12,guess")
    assert not page.exception
    assert "do not fit this brief any more" in shown(page)
    for screen in SCREENS.values():
        assert not page.switch_page(screen).run().exception


def test_leads_without_a_chance_are_said():
    """All at 0 %: nothing to serve, and no traceback on any screen."""
    page = opened()
    name = page.session_state["seeded_for"].brief.work[0].name
    leads(page, f"{name},0 %,2026-12,guess")
    for screen in SCREENS.values():
        assert not page.switch_page(screen).run().exception


def test_artwork_of_a_job_that_is_gone_is_left_alone():
    """A brief sent again with fewer jobs shows on every screen."""
    page = opened()
    (path,) = (PROFILES / "briefs/artwork").glob("*.png")
    inked = load_either(path)
    page.session_state["added"] = {source_of(page): {(ARTWORK, "gone"): inked}}
    for screen in SCREENS.values():
        assert not page.switch_page(screen).run().exception


def test_money_keeps_its_price_when_the_work_changes():
    """A job slider on the first screen resets neither price nor interest."""
    page = opened("money")
    price = page.slider(key="price_asked")
    wanted = price.min + price.step
    price.set_value(wanted)
    page.slider(key="rate").set_value(3.0).run()
    page.switch_page(SCREENS["why"]).run()
    page.slider(key="jobs_0").set_value(2.2).run()
    page.switch_page(SCREENS["money"]).run()
    assert (echo(page)["price_asked"], echo(page)["rate"]) == (wanted, 3.0)


def test_money_keeps_a_price_for_each_machine():
    """Another machine and back: the price that was asked is still there."""
    page = opened("money")
    price = page.slider(key="price_asked")
    wanted, first = price.min + price.step, page.selectbox(key="money_machine").value
    price.set_value(wanted).run()
    names = page.selectbox(key="money_machine").options
    other = next(name for name in names if name != first)
    page.selectbox(key="money_machine").set_value(other).run()
    assert echo(page)["price_asked"] != wanted
    page.selectbox(key="money_machine").set_value(first).run()
    assert echo(page)["price_asked"] == wanted


@pytest.mark.parametrize("price", ["1 EUR", "1000000000000 EUR", "3 EUR"])
def test_a_price_at_either_end_has_a_slider(price, tmp_path, monkeypatch):
    """One euro, or the most a field takes: the slider has two ends."""
    folder = tmp_path / "machines"
    folder.mkdir()
    (tmp_path / "briefs").mkdir()
    sheet = (ROOT / "profiles/machines/thrumble-lite.yaml").read_text("utf-8")
    lines = [
        f"price: {price}" if line.startswith("price:") else line
        for line in sheet.splitlines()
    ]
    (folder / "a.yaml").write_text("\n".join(lines), "utf-8")
    brief = (ROOT / "profiles/briefs" / FIRST).read_text("utf-8")
    (tmp_path / "briefs" / FIRST).write_text(brief, "utf-8")
    monkeypatch.setenv("MURAL_PROFILES", str(tmp_path))
    assert "price_asked" in echo(opened("money"))


@pytest.fixture
def kept(tmp_path, monkeypatch):
    """A folder of its own in which the page keeps cases."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path / "cases"))
    return tmp_path / "cases"


def case_of(page):
    """Return the id in the page's address."""
    case = page.query_params["case"]
    return case if isinstance(case, str) else case[0]


def again(case):
    """Return the page opened anew with this id in its address: a reload."""
    page = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60)
    page.query_params["case"] = case
    return at_screen(page, "why").run()


def test_a_reload_loses_nothing(kept):
    """The same address shows the same brief, sliders, leads and noted figures."""
    page = moved()
    page.switch_page(SCREENS["visit"]).run()
    page.text_input(key="visit_0_assembly_time_0").set_value("21:30").run()
    back = again(case_of(page))
    assert stands(back) == (77.0, 1.3, 2)
    back.switch_page(SCREENS["visit"]).run()
    assert back.text_input(key="visit_0_assembly_time_0").value == "21:30"
    back.switch_page(SCREENS["why"]).run()
    assert case_of(back) == case_of(page)


def test_leads_come_back_after_a_reload(kept):
    """What was uploaded is kept with the case."""
    page = moved()
    name = page.session_state["seeded_for"].brief.work[1].name
    leads(page, *[f"{name},100 %,2026-12,sold"] * 7)
    before = echo(page)["jobs_1"]
    assert echo(again(case_of(page)))["jobs_1"] == before


def test_who_only_looks_leaves_no_file(kept):
    """Opening the page writes nothing."""
    opened()
    assert not kept.exists()


def test_a_page_hosted_for_others_writes_nothing(kept, monkeypatch):
    """With the setting, no file and no id."""
    monkeypatch.setenv("MURAL_KEEP_NOTHING", "1")
    page = moved()
    assert not kept.exists() and "case" not in page.query_params


@pytest.mark.parametrize(
    "case", ["../../etc/passwd", "x" * 22, "x" * 5000, "", "a/b", "\x00" * 22]
)
def test_an_id_that_is_not_ours_opens_the_page_anew(case, kept):
    """A path, a guess, an empty id: the page as it is written, nothing read."""
    kept.mkdir()
    assert not again(case).exception


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"plain": 3}', "\x00", '{"plain": {"brief": "gone"}}']
)
def test_a_case_that_is_broken_opens_the_page_anew(text, kept):
    """What cannot be read is left alone."""
    kept.mkdir()
    (kept / f"{'x' * 22}.json").write_text(text, "utf-8")
    page = again("x" * 22)
    assert not page.exception and "weight_odour" in echo(page)


def test_values_beyond_a_slider_come_back_within_it(kept):
    """A case kept when the brief had more jobs still opens."""
    page = moved()
    path = kept / f"{case_of(page)}.json"
    held = json.loads(path.read_text("utf-8"))
    (source,) = held["plain"]["moved"]
    held["plain"]["moved"][source]["jobs"] = dict.fromkeys(
        held["plain"]["moved"][source]["jobs"], 9e9
    )
    held["plain"]["moved"][source]["weights"] = {"odour": -5, "gone": 3}
    path.write_text(json.dumps(held), "utf-8")
    assert not again(case_of(page)).exception


def test_the_folder_is_named_by_the_environment():
    """The suite writes into a folder of its own, not into the user's."""
    assert Path(os.environ["MURAL_DATA"]).name.startswith("mural-")
