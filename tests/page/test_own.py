"""A case of one's own, made and changed by forms alone; nothing typed is lost."""

import json

import pytest
from streamlit.testing.v1 import AppTest

from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.zipped import zipped
from scoring.inputs.machine_folder import load_machines
from tests.cases import demo_machines
from tests.page.pages import ROOT, at_screen, shown

SCREENS = {
    "start": "scoring/page/start/screen.py",
    "work": "scoring/page/work.py",
    "machines": "scoring/page/machines.py",
    "keep": "scoring/page/keep.py",
    "answer": "scoring/page/answer/screen.py",
}
LEAFLETS = (
    ("Ashbeam One", "12 900", "4,5", "20", "16"),
    ("Brindle Two", "17500", "6", "25", "22"),
    ("Coppard", "9800", "", "30", "18"),
)


@pytest.fixture(autouse=True)
def kept(tmp_path, monkeypatch):
    """A folder of its own in which the page keeps cases."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path / "cases"))
    return tmp_path / "cases"


def at(screen, case=None):
    """Return the page on a screen, run once; `case` is an id in its address."""
    page = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60)
    if case:
        page.query_params["case"] = case
    at_screen(page, screen).run()
    assert not page.exception, page.exception[0].stack_trace
    return page


def go(page, screen):
    page.switch_page(SCREENS[screen]).run()
    assert not page.exception, page.exception[0].stack_trace
    return page


def fine(page):
    assert not page.exception, page.exception[0].stack_trace
    return page


def started(cash="20000", hour="18"):
    """Return the page with a case of its own: two kinds of job, no machine."""
    page = at("start")
    page.button(key="door_first").click().run()
    kinds = ["child's bedroom", "waiting room"]
    page.button_group(key="start_kinds").set_value(kinds).run()
    page.text_input(key="start_asked_child's bedroom").set_value("3")
    page.text_input(key="start_asked_waiting room").set_value("1")
    page.text_input(key="start_cash").set_value(cash)
    page.text_input(key="start_own_hour").set_value(hour).run()
    page.button(key="do_start").click().run()
    return fine(page)


def with_leaflets(page, leaflets=LEAFLETS):
    """Type some leaflets in on the screen Machines."""
    go(page, "machines")
    for name, price, speed, build, lift in leaflets:
        page.text_input(key="leaflet_name").set_value(name)
        page.text_input(key="leaflet_price").set_value(price)
        page.text_input(key="leaflet_fee").set_value("0")
        page.text_input(key="leaflet_speed").set_value(speed)
        page.text_input(key="leaflet_passes").set_value("4")
        page.text_input(key="leaflet_assembly_time").set_value(build)
        page.text_input(key="leaflet_heaviest_lift").set_value(lift)
        page.text_input(key="leaflet_max_print_height").set_value("2,5")
        page.text_input(key="leaflet_ink_price").set_value("110").run()
        page.button(key="add_leaflet").click().run()
        fine(page)
    return page


def case_of(page):
    found = page.query_params["case"]
    return found if isinstance(found, str) else found[0]


def test_a_case_of_ones_own_in_minutes(kept):
    """Seven answers and three leaflets: files on the disk that commands read."""
    page = with_leaflets(started())
    folder = kept / case_of(page)
    brief = load_brief(folder)
    assert [job.name for job in brief.work] == ["child's bedroom", "waiting room"]
    assert brief.money.cash.text == "20000 EUR"
    machines = load_machines(folder / "machines")
    assert [machine.name for machine in machines] == [row[0] for row in LEAFLETS]
    assert machines[2].speed[4].is_unknown
    assert machines[0].speed[4].likely == 4.5
    assert machines[0].price.basis == "quoted"


def test_nothing_of_the_demo_is_in_it():
    """No machine, brief or word of the example on any screen of one's own case."""
    page = with_leaflets(started())
    for screen in SCREENS:
        said = shown(go(page, screen))
        assert "invented example" not in said
        for machine in demo_machines():
            assert machine.name not in said


def test_what_is_missing_is_said_and_nothing_made(kept):
    """No cash, no hours' worth: a sentence; no case yet."""
    page = started(cash="", hour="")
    assert "cash: is missing" in shown(page)
    assert page.session_state["start_door"] == "first"
    assert not list(kept.glob("*/brief.yaml"))


def test_a_number_that_reads_as_two_is_refused():
    """“20,000” is 20 in one country and 20000 in another."""
    assert "may be 20 or 20000" in shown(started(cash="20,000"))


def test_a_reload_in_the_middle_of_the_questions_loses_nothing():
    """What was answered stands again under the same address."""
    page = at("start")
    page.button(key="door_first").click().run()
    page.button_group(key="start_kinds").set_value(["gym wall"]).run()
    page.text_input(key="start_cash").set_value("20000").run()
    again = at("start", case_of(page))
    assert again.text_input(key="start_cash").value == "20000"
    assert again.button_group(key="start_kinds").value == ["gym wall"]


def test_a_reload_in_the_middle_of_a_leaflet_loses_nothing():
    """The case is there, and what was typed of a machine not yet added."""
    page = with_leaflets(started(), LEAFLETS[:1])
    page.text_input(key="leaflet_name").set_value("Half typed").run()
    again = at("machines", case_of(page))
    assert again.text_input(key="leaflet_name").value == "Half typed"
    assert again.selectbox(key="own_machine").options == ["Ashbeam One"]


def test_work_is_changed_in_fields_and_undone():
    """A width with a comma is taken; nonsense is refused in words; undo brings back."""
    page = go(started(), "work")
    page.text_input(key="own_job_0_width").set_value("3,4").run()
    assert page.text_input(key="own_job_0_width").value == "3.4 m"
    page.text_input(key="own_job_0_height").set_value("tall").run()
    assert "'tall' is not a figure" in shown(page)
    assert page.text_input(key="own_job_0_height").value == "tall"
    go(page, "keep")
    page.button(key="undo_change").click().run()
    go(page, "work")
    assert page.text_input(key="own_job_0_width").value == "3 m"


def test_a_typed_figure_is_assumed_no_more(kept):
    """What was assumed is listed until another is typed over it."""
    page = go(started(), "work")
    folder = kept / case_of(page)
    assert load_brief(folder).work[0].width.note == "assumed"
    page.text_input(key="own_job_0_width").set_value("10 ft").run()
    width = load_brief(folder).work[0].width
    assert (width.text, width.note) == ("10 ft", "")


def test_a_kind_of_job_is_added_and_taken_away(kept):
    page = go(started(), "work")
    page.button(key="add_job").click().run()
    folder = kept / case_of(fine(page))
    assert len(load_brief(folder).work) == 3
    page.button(key="drop_job").click().run()
    assert [job.name for job in load_brief(folder).work][0] == "child's bedroom"
    assert len(load_brief(folder).work) == 2


def test_every_fold_of_work_opens():
    """All sections of the brief are there as fields."""
    page = started()
    for key in ("crew", "working_time", "money", "travel", "vehicle", "payment"):
        page.session_state[f"fold_own_{key}"] = True
    for key in ("trade", "limits", "bank", "also", "rigs", "assumed", "leads"):
        page.session_state[f"fold_own_{key}"] = True
    page.session_state["fold_own_job_more"] = True
    page.session_state["fold_own_artwork"] = True
    go(page, "work")
    assert page.text_input(key="own_brief_money.cash").value == "20000 EUR"
    page.selectbox(key="own_brief_payment.way").set_value("deposit").run()
    page.multiselect(key="own_brief_limits.must_serve").set_value(["waiting room"])
    assert not fine(page.run()).error


def test_a_machine_in_dollars_waits_for_its_rate(kept):
    """Only that machine waits; with the rate typed it takes part."""
    rows = (*LEAFLETS[:1], ("Dunmore", "14 500 USD", "5", "20", "16"))
    page = with_leaflets(started(), rows)
    assert "waits for what one USD is in EUR" in " ".join(
        warning.value for warning in page.warning
    )
    page.text_input(key="rate_USD").set_value("0,92").run()
    assert not page.warning
    folder = kept / case_of(page)
    assert load_brief(folder).exchange["USD"].likely == 0.92


def test_side_by_side_marks_what_matters():
    """The price differs and matters; rows are marked."""
    page = with_leaflets(started())
    said = shown(page)
    assert "price, EUR – money" in said


def test_the_whole_sheet_takes_value_basis_date_and_note(kept):
    page = with_leaflets(started(), LEAFLETS[:1])
    page.session_state["fold_own_sheet"] = True
    page.session_state["fold_own_mail"] = True
    go(page, "machines")
    page.selectbox(key="own_figure").set_value("heaviest_lift").run()
    page.text_input(key="own_figure_value").set_value("17,5 - 18").run()
    page.selectbox(key="own_figure_basis").set_value("measured").run()
    page.text_input(key="own_figure_note").set_value("on my scale").run()
    folder = kept / case_of(fine(page))
    (machine,) = load_machines(folder / "machines")
    lift = machine.heaviest_lift
    assert (lift.text, lift.basis, lift.note) == (
        "17.5..18 kg",
        "measured",
        "on my scale",
    )
    for field, value in (
        ("passes", "4"),
        ("width", "1"),
        ("height", "1"),
        ("time", "9"),
    ):
        page.text_input(key=f"new_print_tests_{field}").set_value(value)
    page.run()
    page.button(key="add_print_tests").click().run()
    (machine,) = load_machines(folder / "machines")
    assert machine.print_tests[0].time.likely == 9
    assert "Questions on the Ashbeam One" in shown(page)


def test_a_sheet_is_copied_retired_and_deleted(kept):
    page = with_leaflets(started(), LEAFLETS[:1])
    page.button(key="copy_sheet").click().run()
    folder = kept / case_of(fine(page))
    assert len(load_machines(folder / "machines")) == 2
    page.button(key="retire_sheet").click().run()
    assert len(load_machines(folder / "machines")) == 1
    page.button(key="delete_sheet").click().run()
    assert not list((folder / "machines/retired").glob("*.yaml"))


def test_a_page_hosted_for_others_writes_nothing_and_undoes(kept, monkeypatch):
    """The setting: no file, no id; undo works within the session."""
    monkeypatch.setenv("MURAL_KEEP_NOTHING", "1")
    page = go(started(), "work")
    page.text_input(key="own_job_0_width").set_value("5").run()
    go(page, "keep")
    assert "hosted for others" in shown(page)
    page.button(key="undo_change").click().run()
    go(page, "work")
    assert page.text_input(key="own_job_0_width").value == "3 m"
    assert not kept.exists()


def test_scenarios_stand_side_by_side():
    """What was changed between two, and the places, in words."""
    page = go(with_leaflets(started(), LEAFLETS[:2]), "keep")
    page.text_input(key="scenario_name").set_value("alone").run()
    page.button(key="keep_scenario").click().run()
    page.session_state["fold_own_crew"] = True
    go(page, "work")
    page.text_input(key="own_brief_crew.people").set_value("2").run()
    page.text_input(key="own_brief_crew.wage").set_value("17").run()
    said = shown(go(page, "keep"))
    assert "crew: people" in said
    assert "place, and left in a year" in said
    page.button(key="back_alone").click().run()
    assert "Both say the same" in shown(fine(page))


def test_a_broken_folder_is_said_and_left_alone(kept):
    """Somebody's slip in an editor: a sentence, and the file as it was."""
    page = started()
    path = kept / case_of(page) / "brief.yaml"
    path.write_text("title: [", "utf-8")
    again = at("start", case_of(page))
    assert "brief.yaml" in shown(again)
    assert path.read_text("utf-8") == "title: ["


def test_the_example_is_opened_from_a_case_and_back():
    page = with_leaflets(started(), LEAFLETS[:1])
    case = case_of(page)
    go(page, "start")
    page.button(key="door_example").click().run()
    assert "invented example" in shown(go(page, "work"))
    again = at("machines", case)
    assert again.selectbox(key="own_machine").options == ["Ashbeam One"]


def test_the_saved_zip_is_the_case(kept):
    page = go(with_leaflets(started(), LEAFLETS[:1]), "keep")
    assert zipped(page.session_state["own_case"])
    assert json.dumps(sorted(p.name for p in kept.glob("*/machines/*.yaml")))


def test_what_a_visit_measured_goes_into_ones_own_sheet(kept):
    """The figure is measured in the file of the case, and can be undone."""
    page = go(with_leaflets(started(), LEAFLETS[:1]), "machines")
    page.switch_page("scoring/page/visit/screen.py").run()
    page.text_input(key="visit_0_assembly_time_0").set_value("21:30").run()
    page.button(key="visit_use").click().run()
    fine(page)
    (machine,) = load_machines(kept / case_of(page) / "machines")
    assert machine.assembly_time.basis == "measured"
    assert machine.assembly_time.likely == 21.5


def test_a_job_log_goes_into_ones_own_case_in_one_step(kept):
    """Sheet and brief change together, in the files too, and undo takes both back."""
    page = go(with_leaflets(started(), LEAFLETS[:1]), "machines")
    page.switch_page("scoring/page/log/screen.py").run()
    rows = "".join(f"2026-0{m}-03,waiting room,{30 + m}\n" for m in range(1, 7))
    data = f"day,kind,build min\n{rows}".encode()
    page.file_uploader(key="upload_job_log").upload("jobs.csv", data, "text/csv").run()
    before = page.session_state["own_case"]
    page.button(key="job_log_take").click().run()
    fine(page)
    folder = kept / case_of(page)
    (machine,) = load_machines(folder / "machines")
    assert machine.assembly_time.likely == 33.5
    brief = load_brief(folder / "brief.yaml")
    place = [job.name for job in brief.work].index("waiting room")
    assert brief.work[place].basis == "sold"
    after = page.session_state["own_case"]
    changed = {
        name for name in after.sheets if after.sheets[name] != before.sheets[name]
    }
    assert len(changed) == 1 and after.brief != before.brief
    assert brief.trust.learnt["time"].seen == 1  # the leaflet's build was a claim
    for screen in ("work", "machines", "keep", "answer"):
        go(page, screen)


def test_leads_typed_in_the_table_make_kinds_of_job(kept):
    """What is typed is kept until it is taken up; then it is work."""
    page = started()
    page.session_state["fold_own_leads"] = True
    rows = (("nursery", "4", "1,6", "600", "", "2026-11", "enquiry"),)
    page.session_state["leads_draft"] = ["\t".join(row) for row in rows]
    go(page, "work")
    page.button(key="take_leads").click().run()
    brief = load_brief(kept / case_of(fine(page)))
    assert [job.name for job in brief.work][-1] == "nursery"
    assert len(brief.leads_read) == 1
    assert "leads_draft" not in page.session_state
    page.button(key="drop_leads").click().run()
    assert not load_brief(kept / case_of(fine(page))).leads_read


def test_a_price_by_the_job_is_typed_over_one_by_the_area(kept):
    page = go(started(), "work")
    page.text_input(key="own_job_0_price.per_job").set_value("450").run()
    price = load_brief(kept / case_of(fine(page))).work[0].price
    assert price.per_m2 is None and price.per_job.likely == 450
    assert page.text_input(key="own_job_0_price.per_m2").value == ""


def test_a_rig_of_ones_own_is_typed_without_a_file(kept):
    """An operator adds the machine that runs, its age and what is owed on it."""
    page = with_leaflets(started(), LEAFLETS[:2])
    page.session_state["fold_own_rigs"] = True
    go(page, "work")
    page.selectbox(key="rig_to_add").set_value("Brindle Two").run()
    page.button(key="add_rig").click().run()
    page.text_input(key="own_rig_0_age").set_value("3").run()
    page.text_input(key="own_rig_0_remaining_loan").set_value("4 000").run()
    (rig,) = load_brief(kept / case_of(fine(page))).owned
    assert (rig.machine, rig.age.likely, rig.remaining_loan.likely) == (
        "Brindle Two",
        3,
        4000,
    )
    page.switch_page("scoring/page/second.py").run()
    assert not page.exception


def opened_file(page, name, data):
    """Open a file on the screen Save and compare."""
    go(page, "keep")
    page.file_uploader(key="open_case").upload(name, data).run()
    return fine(page)


def test_a_saved_case_is_opened_as_one_of_its_own(kept):
    """Saved, opened elsewhere: equal, under another id; the first one stays."""
    page = with_leaflets(started(), LEAFLETS[:1])
    case, first = page.session_state["own_case"], case_of(page)
    other = opened_file(at("keep"), "case.zip", zipped(case))
    assert other.session_state["own_case"] == case
    assert case_of(other) != first
    assert len(list(kept.glob("*/brief.yaml"))) == 2


def test_a_foreign_file_opens_nothing(kept):
    """A sentence, and what was open stays."""
    page = opened_file(at("keep"), "case.zip", b"PK\x03\x04 not really")
    assert "cannot be read as a .zip" in shown(page)
    assert not list(kept.glob("*/brief.yaml"))
