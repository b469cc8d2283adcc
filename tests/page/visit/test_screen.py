"""The visit screen: laps go into the form, and the form into the machine."""

import time

import pytest
from click.testing import CliRunner
from streamlit.testing.v1 import AppTest

from scoring import load_machines
from scoring.commands import main
from scoring.inputs.visit import INTENSITIES
from tests.page.pages import ROOT, at_screen, echo, markup, opened, shown

FIRST = load_machines("profiles/machines")[0]
KEY = "visit_0_{}".format


def fresh():
    """Return the visit screen on the demo, run once."""
    return opened("visit")


@pytest.fixture
def page():
    return fresh()


def typed(page, **figures):
    for key, figure in figures.items():
        page.text_input(key=KEY(key)).set_value(figure)
    return page


def used(page):
    """Press the button; return the machine that all screens then use."""
    page.button(key="visit_use").click().run()
    assert not page.exception
    return page.session_state["sent"]["machine"].get(FIRST.name)


def lapped(page, seconds):
    """Press Lap, as if the stopwatch had run for so long."""
    page.session_state["visit_clock"] = time.time() - seconds
    page.button(key="visit_lap").click().run()
    return page


def test_a_lap_goes_into_the_field_and_the_next_to_the_next(page):
    """Each lap stands in the form at once, and the screen says in which field."""
    assert page.button(key="visit_lap").disabled
    page.button(key="visit_start").click().run()
    lapped(page, 754)
    assert page.text_input(key=KEY("assembly_time_0")).value == "12:34"
    assert "12:34 (minutes:seconds) was written to: build, no. 1." in shown(page)
    assert "for: build, no. 2." in shown(page)
    lapped(page, 600)
    assert page.text_input(key=KEY("assembly_time_0")).value == "12:34"
    assert page.text_input(key=KEY("assembly_time_1")).value == "10:00"


def test_a_lap_goes_where_one_chooses(page):
    """The field may be chosen, and what is filled in already is skipped."""
    typed(page, pack_down_time_2="9").run()
    page.selectbox(key=KEY("target")).set_value(KEY("pack_down_time_1"))
    page.button(key="visit_start").click().run()
    lapped(page, 60)
    assert page.text_input(key=KEY("pack_down_time_1")).value == "1:00"
    assert page.selectbox(key=KEY("target")).value == KEY("prime_time_0")


def test_figures_become_measured_on_all_screens(page):
    """The machine that the other screens use has the figures with their spread."""
    typed(page, assembly_time_0="20", assembly_time_1="23:00", assembly_time_2="29")
    typed(page, width_0="1", height_0="2", print_0="30", heaviest_lift_0="23")
    machine = used(page)
    build = machine.assembly_time
    assert (build.low, build.likely, build.high) == (20, 24, 29)
    assert build.basis == machine.heaviest_lift.basis == "measured"
    assert machine.heaviest_lift.likely == 23
    assert machine.print_tests[-1].time.likely == 30
    page.switch_page("scoring/page/machines.py").run()
    assert "20..24..29 min" in shown(page)


def test_figures_used_twice_count_once(page):
    """Using a form again replaces its figures; an emptied one takes them back."""
    typed(page, width_0="1", height_0="2", print_0="30", move_time_0="9")
    n = len(used(page).print_tests)
    typed(page, print_0="40", move_time_0="")
    machine = used(page)
    assert len(machine.print_tests) == n == len(FIRST.print_tests) + 1
    assert machine.print_tests[-1].time.likely == 40
    assert machine.move_time == FIRST.move_time
    typed(page, width_0="", height_0="", print_0="")
    assert used(page).text == FIRST.text
    assert "There is no figure to use" in shown(page)


def test_an_empty_form_changes_nothing(page):
    """Without a figure the machine stays the one of the file."""
    assert used(page) is None
    assert "There is no figure to use" in shown(page)


def test_pounds_where_the_units_are_us(page):
    """A bare number is in the units chosen, and the field says which."""
    page.radio(key="units").set_value("US customary").run()
    assert page.text_input(key=KEY("heaviest_lift_0")).label == "Heaviest piece (lb)"
    typed(page, heaviest_lift_0="50", max_print_height_0="96 in")
    machine = used(page)
    assert machine.heaviest_lift.likely == pytest.approx(50 * 0.45359237, abs=1e-4)
    assert machine.max_print_height.likely == pytest.approx(96 * 0.0254, abs=1e-4)


def test_noses_in_words(page):
    """Three noses choose among the words; what they smell later is noted."""
    for n, step in enumerate((1, 3, 2)):
        nose = page.selectbox(key=KEY(f"odour_printing_0_{n}"))
        assert nose.options == [f"{k} {word}" for k, word in enumerate(INTENSITIES)]
        nose.set_value(step)
    page.selectbox(key=KEY("odour_printing_2_0")).set_value(0)
    smell = used(page).odour.printing
    assert (smell.low, smell.likely, smell.high) == (1, 2, 3)
    assert smell.note.endswith("after a day 0")


def test_nonsense_is_told_in_a_sentence(page):
    """What is no figure leaves the machine as it was, and the screen says why."""
    typed(page, assembly_time_1="soon", prime_time_0="5")
    assert used(page) is None
    said = shown(page)
    assert "These figures cannot be used; the sheet stays as it was." in said
    assert "build, no. 2: 'soon' is not a figure; a time, such as 28 min" in said


def test_each_machine_has_its_own_form(page):
    """Another machine starts empty; the first one's figures wait."""
    typed(page, assembly_time_0="20").run()
    other = load_machines("profiles/machines")[1].name
    page.selectbox(key="visit_machine").set_value(other).run()
    assert {field.value for field in page.text_input} == {""}
    page.selectbox(key="visit_machine").set_value(FIRST.name).run()
    assert page.text_input(key=KEY("assembly_time_0")).value == "20"


def test_figures_outlive_another_screen(page):
    """A look at the ranking does not lose what was typed."""
    typed(page, assembly_time_0="20").run()
    page.switch_page("scoring/page/why/screen.py").run()
    page.switch_page("scoring/page/visit/screen.py").run()
    assert page.text_input(key=KEY("assembly_time_0")).value == "20"


def test_the_files_are_offered(page):
    """The paper sheet always, the changed machine sheet once there is one."""
    offered = {part.proto.label for part in page.get("download_button")}
    assert offered == {"Sheet of tests to print (HTML)"}
    typed(page, assembly_time_0="20")
    used(page)
    offered = {part.proto.label for part in page.get("download_button")}
    assert "The sheet with these figures (YAML)" in offered


def test_cautions_stand_beside_what_can_hurt(page):
    """Lifting, a column that can tip, lamps, ink, mains, heights, smell."""
    said = shown(page)
    for words in ("manual-handling", "can tip", "UV lamps", "nitrile", "RCD"):
        assert words in said
    assert "platform, not a ladder" in said
    assert "not therefore cured" in said


HOSTILE = ("<script>alert(1)</script>", "**bold**", "{x}", "N" * 300)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_shown_as_text(name, tmp_path, monkeypatch):
    """A machine may be called anything; its figures can still be taken."""
    for kind, file in (
        ("briefs", "new-entrant.yaml"),
        ("machines", "corrandale-frame.yaml"),
        ("machines", "thrumble-lite.yaml"),
    ):
        folder = tmp_path / kind
        folder.mkdir(exist_ok=True)
        text = (ROOT / "profiles" / kind / file).read_text(encoding="utf-8")
        text = text.replace("name: Corrandale Frame", f"name: '{name}'")
        (folder / file).write_text(text, encoding="utf-8")
    monkeypatch.setenv("MURAL_PROFILES", str(tmp_path))
    page = fresh()
    page.selectbox(key="visit_machine").set_value(name).run()
    form = page.session_state["visit_forms"][name]
    page.text_input(key=f"visit_{form}_move_time_0").set_value("9")
    page.button(key="visit_use").click().run()
    assert not page.exception
    assert page.session_state["sent"]["machine"][name].move_time.likely == 9
    assert "<script>alert" not in markup(page)


def step_of(page):
    """Return the title of the step that is on."""
    return echo(page)["visit_step"]


def test_one_step_at_a_time_in_the_order_of_the_plan(page):
    """The plan's first test is on; Skip goes to the next, and comes back if asked."""
    first = step_of(page)
    assert f"Step 1: {first}" in shown(page)
    page.button(key="visit_skip").click().run()
    assert step_of(page) != first
    assert f"Step 2: {step_of(page)}" in shown(page)
    page.button(key="visit_again").click().run()
    assert step_of(page) == first


def test_after_each_step_the_screen_says_whether_the_answer_changes(page):
    """A step that is saved counts at once; its test is in no plan any more."""
    first = step_of(page)
    assert "What you measured" not in shown(page)
    typed(page, heaviest_lift_0="23")
    page.button(key="visit_save").click().run()
    assert not page.exception
    assert step_of(page) != first
    machine = page.session_state["sent"]["machine"][FIRST.name]
    assert machine.heaviest_lift.likely == 23
    assert "What you measured does not change the answer. " in shown(page)


def test_a_figure_that_rules_the_leader_out_changes_the_answer(page):
    """The leader is weighed, far heavier than told: another machine leads, and why."""
    leader = "Thrumble Lite"
    page.selectbox(key="visit_machine").set_value(leader).run()
    form = page.session_state["visit_forms"][leader]
    page.text_input(key=f"visit_{form}_heaviest_lift_0").set_value("120")
    page.button(key="visit_use").click().run()
    assert not page.exception
    said = shown(page)
    assert "What you measured changes the answer. Before: Buy: Thrumble Lite" in said


def test_a_fault_keeps_the_step(page):
    """What cannot be read is said, and the step stays on."""
    first = step_of(page)
    typed(page, heaviest_lift_0="heavy")
    page.button(key="visit_save").click().run()
    assert step_of(page) == first
    assert "'heavy' is not a figure" in shown(page)


def test_a_reload_in_the_middle_loses_nothing(tmp_path, monkeypatch):
    """Steps, figures and the sheet before the visit are there again, counted once."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path))
    monkeypatch.delenv("MURAL_KEEP_NOTHING", raising=False)
    page = fresh()
    typed(page, width_0="1", height_0="2", print_0="30")
    page.button(key="visit_save").click().run()
    n = len(page.session_state["sent"]["machine"][FIRST.name].print_tests)
    assert n == len(FIRST.print_tests) + 1
    again = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60)
    again.query_params["case"] = page.query_params["case"]
    at_screen(again, "visit").run()
    assert not again.exception, again.exception[0].stack_trace
    assert step_of(again) == step_of(page)
    assert again.text_input(key=KEY("print_0")).value == "30"
    typed(again, print_0="40")
    assert len(used(again).print_tests) == n


def test_the_clock_runs_by_itself(page):
    """Once started it shows the time since then."""
    assert "0:00" in shown(page)
    page.button(key="visit_start").click().run()
    page.session_state["visit_clock"] = time.time() - 75
    page.run()
    assert "1:15" in shown(page) or "1:16" in shown(page)


def test_what_owners_tell_and_judges_see_counts(page):
    """The fields of sample boards and of owners go into the sheet, as estimates."""
    typed(page, ratings_print_quality_0="3", ratings_print_quality_1="4")
    typed(page, spoilt_share_0="2", spoilt_share_1="6 %", wear_head_life_0="3000")
    machine = used(page)
    spoilt, head = machine.spoilt_share, machine.wear.head_life
    assert (spoilt.low, spoilt.high, spoilt.basis) == (0.02, 0.06, "estimated")
    assert (head.likely, head.note) == (3000, "told by one owner")
    assert machine.ratings["print_quality"].basis == "measured"
    assert machine.ratings["print_quality"].likely == 3.5


def plain(words):
    """Return words with each run of spaces, of any kind, as one."""
    return " ".join(words.split())


def test_the_order_of_sellers_is_that_of_the_command_line(page):
    """The fold says what `find-out` says of the same brief, and with which visit."""
    page.session_state["fold_sellers"] = True
    page.run()
    asked = ["find-out", "profiles/briefs/new-entrant.yaml"]
    said = CliRunner().invoke(main, asked).output.split("\n\n")[0]
    assert plain(said) in plain(shown(page))
    assert "Reckoned with 90 min at each and 120 EUR" in plain(shown(page))
