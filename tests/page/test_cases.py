"""Cases of one's own: deleted in two steps; two tabs on one of them lose nothing."""

import pytest

from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.folder import load_case, versions
from scoring.inputs.case.scenarios import scenarios_in
from scoring.inputs.case.zipped import unzipped
from scoring.page.own.scenarios import _run
from tests.page.pages import shown
from tests.page.test_own import LEAFLETS, at, case_of, fine, go, started, with_leaflets

pytestmark = pytest.mark.usefixtures("kept")


@pytest.fixture
def kept(tmp_path, monkeypatch):
    """A folder of its own in which the page keeps cases."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path / "cases"))
    monkeypatch.setenv("MURAL_DRAWS", "100")
    return tmp_path / "cases"


def typed(page, key, value):
    page.text_input(key=key).set_value(value).run()
    return fine(page)


def hours_in(folder):
    return load_brief(folder / "brief.yaml").work[0].width.text


def test_a_case_is_deleted_in_two_steps(kept):
    """Asked first, what goes with it said; then its folder and its sliders are gone."""
    page = go(started(), "work")
    typed(page, "own_job_0_width", "5")
    go(page, "keep")
    case = case_of(page)
    page.button(key="ask_delete_case").click().run()
    assert (kept / case / "brief.yaml").exists()
    assert "with 1 kept version and 0 scenarios" in shown(fine(page))
    page.button(key="leave_case").click().run()
    page.button(key="ask_delete_case").click().run()
    page.button(key="delete_case").click().run()
    said = [each.value for each in fine(page).info]
    assert any("Deleted, with all its versions" in each for each in said)
    assert list(kept.glob(f"{case}*")) == []
    assert "case" not in page.query_params
    assert "own_case" not in page.session_state
    assert "invented example" in shown(go(page, "answer"))


def test_the_later_of_two_tabs_is_told_and_takes_the_others(kept):
    """Both versions stay: what is left is the newest of the ten."""
    first = go(started(), "work")
    case = case_of(first)
    second = at("work", case)
    typed(first, "own_job_0_width", "5")
    typed(second, "own_job_0_width", "6")
    assert hours_in(kept / case) == "5 m"
    assert "has changed since you opened it" in shown(second)
    assert second.text_input(key="own_job_0_width").value == "6 m"
    typed(second, "own_job_0_width", "7")  # still nothing of the first is lost
    assert hours_in(kept / case) == "5 m"
    second.button(key="take_others").click().run()
    assert fine(second).text_input(key="own_job_0_width").value == "5 m"
    newest = unzipped(versions(kept / case)[-1])[0]
    assert "width: 7 m" in newest.brief
    typed(second, "own_job_0_height", "2")
    assert "has changed" not in shown(second)


def test_the_later_of_two_tabs_keeps_its_own(kept):
    """Its own is on the disk then, that of the first tab the newest version."""
    first = go(started(), "work")
    case = case_of(first)
    second = at("work", case)
    typed(first, "own_job_0_width", "5")
    typed(second, "own_job_0_width", "6")
    second.button(key="take_own").click().run()
    assert "has changed" not in shown(fine(second))
    assert hours_in(kept / case) == "6 m"
    assert "width: 5 m" in unzipped(versions(kept / case)[-1])[0].brief
    typed(first, "own_job_0_height", "2")
    assert "has changed since you opened it" in shown(first)


def test_undo_in_an_old_tab_undoes_nothing_of_the_other(kept):
    """It shows what stands there, and says so."""
    first = go(started(), "work")
    case = case_of(first)
    typed(first, "own_job_0_width", "4")
    second = at("keep", case)
    typed(first, "own_job_0_width", "5")
    second.button(key="undo_change").click().run()
    assert any("Changed elsewhere" in each.value for each in fine(second).info)
    assert hours_in(kept / case) == "5 m"


def test_a_case_deleted_in_the_other_tab_is_not_lost(kept):
    """The tab that still has it says so, and writes it anew if wanted."""
    first = go(started(), "keep")
    case = case_of(first)
    second = at("work", case)
    first.button(key="ask_delete_case").click().run()
    first.button(key="delete_case").click().run()
    typed(second, "own_job_0_width", "6")
    assert "was deleted in another tab" in shown(second)
    assert not (kept / case / "brief.yaml").exists()
    second.button(key="take_own").click().run()
    fine(second)
    assert hours_in(kept / case) == "6 m"


def test_a_rig_follows_its_machines_new_name(kept):
    """Renamed on Machines, it is the same rig among those owned."""
    page = with_leaflets(started(), LEAFLETS[:1])
    page.session_state["fold_own_rigs"] = True
    go(page, "work")
    page.button(key="add_rig").click().run()
    fine(page)
    page.session_state["fold_own_sheet"] = True
    go(page, "machines")
    typed(page, "own_ashbeam-one.yaml_name", "Ashbeam First")
    case = load_case(kept / case_of(page))
    assert "machine: Ashbeam First" in case.brief
    assert load_brief(kept / case_of(page)).owned[0].machine == "Ashbeam First"


def what_ifs(page):
    """Return the pills on a screen, in words."""
    keys = [b.label for b in page.button if str(b.key).startswith("undo_")]
    return [label.removesuffix(" ✕") for label in keys]


def test_a_scenario_holds_what_was_supposed(kept):
    """Crew, price and weights come back with it; side by side they are told."""
    page = with_leaflets(started(), LEAFLETS[:2])
    page.switch_page("scoring/page/why/screen.py").run()
    usual = page.slider(key="weight_support").value
    page.radio(key="crew").set_value(2).run()
    page.slider(key="weight_support").set_value(90.0).run()
    page.session_state["prices_asked"] = {"Ashbeam One": 11_610.0}
    page.run()
    go(page, "keep")
    page.text_input(key="scenario_name").set_value("with a helper").run()
    page.button(key="keep_scenario").click().run()
    fine(page)
    go(page, "answer")
    before = what_ifs(page)
    assert before[0] == "with a second person" and len(before) == 3
    for key in ("undo_crew", "undo_weights", "undo_price_0"):
        page.button(key=key).click().run()
    assert what_ifs(fine(page)) == []
    go(page, "keep")
    assert "with a second person, Ashbeam One at 11" in shown(page)
    page.button(key="back_with a helper").click().run()
    assert "Both say the same" in shown(fine(page))
    go(page, "answer")
    assert what_ifs(page) == before
    page.switch_page("scoring/page/why/screen.py").run()
    assert page.radio(key="crew").value == 2
    assert page.slider(key="weight_support").value == 90 != usual


def test_a_scenarios_answer_is_that_of_what_was_supposed(kept):
    """Six jobs a month in place of the mean: as many times the jobs expected."""
    page = with_leaflets(started(), LEAFLETS[:2])
    page.switch_page("scoring/page/why/screen.py").run()
    usual = page.slider(key="jobs_0").value
    page.slider(key="jobs_0").set_value(6.0).run()
    go(page, "keep")
    page.text_input(key="scenario_name").set_value("busy").run()
    page.button(key="keep_scenario").click().run()
    scenario = scenarios_in(kept / case_of(page))["busy"]
    busy, said = _run(scenario)
    calm, nothing = _run(scenario._replace(moved={}))
    assert (said, nothing) == (["child's bedroom 6 a month"], [])
    times = busy.figures.jobs.per_month[0, 0] / calm.figures.jobs.per_month[0, 0]
    assert times == pytest.approx([6 / usual, 1], rel=0.02)  # the slider rounds
