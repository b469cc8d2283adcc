"""A case is kept as texts: what is typed is checked like a file and comes back."""

import io
import os
import zipfile
from dataclasses import replace

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scoring import evaluate
from scoring.commands import main
from scoring.errors import InputFaults, ScoringError
from scoring.inputs.brief import Brief, JobType
from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.edit import REMOVED, at, data_of, edited
from scoring.inputs.case.fields import FIGURE, change_of, fields_of, shown_in
from scoring.inputs.case.folder import load_case, save_case, undo, versions
from scoring.inputs.case.record import (
    Case,
    file_name,
    read,
    with_brief,
    with_new_sheet,
    with_sheet,
)
from scoring.inputs.case.typed import figure_of
from scoring.inputs.case.zipped import MAX_PARTS, unzipped, zipped
from scoring.inputs.dimensions import KILOGRAMS, METRES, MONEY, SHARE
from scoring.inputs.machine import Machine
from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.quantity import Wrong
from tests.cases import PROFILES
from tests.inputs.sheets import BRIEF, SHEET

DEMO_BRIEFS = sorted((PROFILES / "briefs").glob("*.yaml"))
DEMO_SHEETS = sorted((PROFILES / "machines").glob("*.yaml"))
CASE = Case(BRIEF, {"alder.yaml": SHEET})


@pytest.mark.parametrize("path", DEMO_BRIEFS + DEMO_SHEETS, ids=lambda path: path.stem)
def test_typing_what_is_shown_changes_nothing(path):
    """Each figure of the demo, shown and typed again in full, is the same record."""
    text = path.read_text("utf-8")
    model = Brief if path.parent.name == "briefs" else Machine
    data, changes = data_of(text), {}
    currency = data.get("currency", "EUR")
    places = [("", model)]
    places += [(f"work.{j}.", JobType) for j, _ in enumerate(data.get("work", ()))]
    for place, part in places:
        for field in fields_of(part):
            shown = shown_in(data, field, place)
            assert change_of(data, field, shown, currency, place) == {}
            if field.kind == FIGURE and shown:
                again = figure_of(shown, field.dimension, currency)
                held = at(data, f"{place}{field.path}")
                is_long = isinstance(held, dict)
                changes[f"{place}{field.path}"] = (
                    held | {"value": again} if is_long else again
                )
    assert len(changes) > 20
    after = edited(text, changes)
    assert _record(path, after) == _record(path, text)
    assert after.count("#") == text.count("#")


def _record(path, text):
    files = {
        each.relative_to(path.parent).as_posix(): each.read_bytes()
        for each in path.parent.rglob("*.*")
    }
    source = (path.name, text.encode())
    if path.parent.name == "briefs":
        return dict(load_brief(source, files))
    return dict(read_machine(source))


FIGURES = st.floats(0.02, 0.98).map(lambda x: f"{x:.4f}")
NAMES = st.text(
    st.characters(blacklist_categories=("Cs", "Cc", "Zl", "Zp", "Cf", "Co", "Cn")),
    min_size=1,
    max_size=30,
).filter(lambda text: text.strip() == text)


CARRIAGE = {"carriage.strip_width": "0.1 m", "carriage.head_speed": "1 m/s"}
CARRIAGE |= {"carriage.turnaround": "1 min"}


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_what_is_typed_comes_back(data_strategy):
    """Any figure in any field of a sheet, typed, saved and loaded, is shown again."""
    fields = [f for f in fields_of(Machine) if f.kind == FIGURE]
    field = data_strategy.draw(st.sampled_from(fields))
    number = data_strategy.draw(FIGURES)
    low, high = field.dimension.bounds
    number = f"{min(max(float(number), low), min(high, 1e6)):.4f}"
    case = CASE
    change = change_of(data_of(SHEET), field, number.replace(".", ","), "EUR")
    if field.path.startswith("carriage."):
        change = CARRIAGE | change
    case = with_sheet(case, "alder.yaml", change)
    again, _ = unzipped(("a.zip", zipped(case)))
    shown = shown_in(data_of(again.sheets["alder.yaml"]), field)
    assert float(shown.split(" ")[0]) == float(number)


@settings(max_examples=40)
@given(name=NAMES, title=NAMES, note=st.text(max_size=50))
def test_a_zip_brings_back_an_equal_case(name, title, note):
    """Whatever names stand in it, a case zipped and unzipped is equal, to the byte."""
    try:
        case = with_brief(CASE, {"title": title, "work.0.name": name})
        case = with_sheet(case, "alder.yaml", {"note": note})
    except InputFaults:
        return  # what no file may hold; told in a sentence
    page = {"plain": {"crew": 2}, "name": name}
    assert unzipped(("a.zip", zipped(case, page))) == (case, page)


@pytest.mark.parametrize("path", DEMO_BRIEFS, ids=lambda path: path.stem)
def test_the_demos_go_through_a_zip(path):
    """Brief, sheets and artwork of the demo come back equal, comments too."""
    files = {
        each.relative_to(path.parent).as_posix(): each.read_bytes()
        for each in path.parent.rglob("*.png")
    }
    named = load_brief(path)
    wanted = {job.artwork for job in named.work}
    files = {name: data for name, data in files.items() if name in wanted}
    sheets = {sheet.name: sheet.read_text("utf-8") for sheet in DEMO_SHEETS}
    case = Case(path.read_text("utf-8"), sheets, files)
    assert unzipped(("demo.zip", zipped(case)))[0] == case


@pytest.mark.parametrize(
    "typed, dimension, written",
    [
        ("20,5", KILOGRAMS, "20.5 kg"),
        ("20.5 kg", KILOGRAMS, "20.5 kg"),
        ("45 lb", KILOGRAMS, "45 lb"),
        ("9 ft", METRES, "9 ft"),
        ("1.234,50", MONEY, "1234.50 CHF"),
        ("1,234.50", MONEY, "1234.50 CHF"),
        ("1,234,567", MONEY, "1234567 CHF"),
        ("20 000", MONEY, "20000 CHF"),
        ("20'000 USD", MONEY, "20000 USD"),
        ("9000 – 9500 – 11 000", MONEY, "9000..9500..11000 CHF"),
        ("0,350", METRES, "0.350 m"),
        ("12,5", SHARE, "12.5 %"),
        ("not told", MONEY, "unknown"),
    ],
)
def test_forms_take_what_people_type(typed, dimension, written):
    """Comma decimals, groups of three, ranges and other units; arithmetic by eye."""
    assert figure_of(typed, dimension, "CHF") == written


@pytest.mark.parametrize(
    "typed, dimension",
    [
        ("20,000", MONEY),
        ("20.000", MONEY),
        ("1,250", METRES),
        ("1,2,3", METRES),
        ("about 5", METRES),
        ("-5", MONEY),
        ("5 kg", METRES),
        ("", MONEY),
    ],
)
def test_what_reads_as_two_numbers_is_refused(typed, dimension):
    """No number is taken for another one: a sentence says what to write."""
    with pytest.raises(Wrong, match=";"):
        figure_of(typed, dimension)


def test_a_case_that_would_be_faulty_is_not_made():
    """The fault is the sentence that a file would get."""
    with pytest.raises(InputFaults, match=r"brief\.yaml:\d+: work\.0\.width: .*m"):
        with_brief(CASE, {"work.0.width": "0 m"})
    with pytest.raises(InputFaults, match="is the name of alder.yaml too"):
        with_new_sheet(CASE, SHEET)


def test_a_machine_in_a_currency_without_a_rate_waits_alone():
    """The others stay; with a rate it takes part."""
    case, name = with_new_sheet(
        CASE, SHEET.replace("Alder", "Birch").replace("10000 EUR", "9000 USD")
    )
    found = read(case)
    assert [machine.name for machine in found.machines] == ["Alder"]
    assert [(m.name, code) for m, code in found.waiting] == [("Birch", "USD")]
    rated = read(with_brief(case, {"exchange.USD": "0.9 EUR"}))
    assert len(rated.machines) == 2 and not rated.waiting


def test_comments_and_order_stay_where_they_were():
    """A job taken away leaves what was written around the others."""
    text = BRIEF.replace("work:\n", "work:  # all of it\n") + (
        "  # the second\n  - {name: hall, per_month: 1, width: 2 m, height: 2 m,"
        " passes: 4, price: {per_job: 300 EUR}}  # far away\n"
    )
    assert edited(text, {"work.1": REMOVED}).startswith(
        BRIEF.replace("work:\n", "work:  # all of it\n")
    )
    assert "# far away" in edited(text, {"work.0.width": "2.5 m"})


def test_a_folder_holds_the_case_and_ten_versions(tmp_path):
    """Saved, loaded, undone: equal; the command line's readers take the folder."""
    case, steps = CASE, []
    save_case(tmp_path, case)
    for n in range(1, 14):
        before, case = case, with_brief(case, {"work.0.per_month": n})
        save_case(tmp_path, case, before)
        steps.append(before)
    assert load_case(tmp_path) == case
    assert len(versions(tmp_path)) == 10
    assert load_brief(tmp_path).work[0].per_month.likely == 13
    assert len(load_machines(tmp_path / "machines")) == 1
    for before in reversed(steps[-10:]):
        assert undo(tmp_path) == before == load_case(tmp_path)
    assert undo(tmp_path) is None


@pytest.mark.parametrize("command", ["rank", "check", "firm", "steps"])
def test_commands_take_the_folder_of_a_case_for_a_brief(command, tmp_path):
    """Where a brief may stand, the folder may; the sheets are those in it."""
    save_case(tmp_path, CASE)
    done = CliRunner().invoke(main, [command, str(tmp_path)])
    assert done.exit_code == 0, done.output
    assert "Alder" in done.output or "alder.yaml: no fault" in done.output


def test_a_retired_machine_is_kept_and_takes_no_part(tmp_path):
    """It lies in a folder of its own, which no command ranks."""
    case, name = with_new_sheet(CASE, SHEET.replace("Alder", "Birch"))
    case = replace(case, retired=frozenset({name}))
    save_case(tmp_path, case)
    assert load_case(tmp_path) == case
    assert [m.name for m in load_machines(tmp_path / "machines")] == ["Alder"]
    assert [m.name for m in read(case).retired] == ["Birch"]


def test_nothing_of_a_case_is_left_half_written(tmp_path, monkeypatch):
    """A disk that is full while a file is written leaves the whole old file."""
    save_case(tmp_path, CASE)
    changed = with_brief(CASE, {"work.0.per_month": 7})
    monkeypatch.setattr(os, "replace", _full)
    with pytest.raises(ScoringError, match="cannot be written"):
        save_case(tmp_path, changed)
    monkeypatch.undo()
    assert load_case(tmp_path) == CASE


def _full(*_):
    raise OSError(28, "No space left on device")


def test_names_of_files_come_from_names_of_machines():
    """Plain, short, unlike those that are there."""
    assert file_name("../../etc/passwd") == "etc-passwd.yaml"
    assert file_name("Alder", {"ALDER.yaml"}) == "alder-2.yaml"


def archive(parts, **more):
    """Return a .zip of (name, data) pairs."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as found:
        for name, data in parts:
            found.writestr(name, data)
    return packed.getvalue()


def link(name):
    """Return an entry that unpacks to a symbolic link."""
    info = zipfile.ZipInfo(name)
    info.external_attr = 0o120777 << 16
    return info


GOOD = ("brief.yaml", BRIEF)
SHEETS = ("machines/alder.yaml", SHEET)


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize(
    "parts, said",
    [
        ([GOOD, ("../x.yaml", SHEET)], "a path out of its folder"),
        ([GOOD, ("/etc/x.csv", "a")], "a path out of its folder"),
        ([GOOD, ("machines/../../x.png", "a")], "a path out of its folder"),
        ([GOOD, ("C:\\x.png", "a")], "a path out of its folder"),
        ([GOOD, ("a\u202egnp.svg", "a")], "a path out of its folder"),
        ([GOOD, (link("leads.csv"), "/etc/passwd")], "a link"),
        ([GOOD, ("run.exe", "MZ")], "belongs to no case"),
        ([GOOD, ("machines/a.py", "import os")], "belongs to no case"),
        ([GOOD, ("art.png", b"\0" * 5_000_000)], "far more than it is"),
        ([GOOD, ("BRIEF.yaml", BRIEF)], "two files of one name"),
        ([GOOD, GOOD], "two files of one name"),
        ([("word/document.xml", "<a/>")], "holds no brief.yaml"),
        ([], "holds no brief.yaml"),
        ([(f"{n}.png", "") for n in range(MAX_PARTS + 1)], "200 or fewer"),
        ([("brief.yaml", b"\xff\xfe")], "is not UTF-8"),
        ([("brief.yaml", "title: 3")], "brief.yaml:1: title"),
        ([GOOD, ("machines/alder.yaml", "name: x")], "machines"),
    ],
)
def test_a_hostile_zip_gets_a_sentence(parts, said):
    """Paths, links, bombs, wrong types, other programs' files; nothing is unpacked."""
    if said == "machines":
        said = "alder.yaml:1: price: is missing"
    with pytest.raises(InputFaults, match=said.replace(".", r"\.")):
        unzipped(("a.zip", archive(parts)))


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"PK" + b"\0" * 40, b"%PDF-1.7"])
def test_what_is_no_zip_gets_a_sentence(data):
    """Empty, cut off, another kind of file."""
    with pytest.raises(InputFaults, match="cannot be read as a .zip"):
        unzipped(("a.zip", data))


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.integers(0, 255))
def test_a_damaged_zip_never_ends_in_anything_but_a_sentence(place, byte):
    """One byte changed anywhere: the same case, another, or a sentence."""
    data = bytearray(zipped(CASE))
    data[place % len(data)] = byte
    try:
        unzipped(("a.zip", bytes(data)))
    except InputFaults:
        pass


def test_a_zip_whose_files_lie_in_one_folder_is_opened():
    """As computers make them from a folder, with what they leave behind in it."""
    parts = [(f"my case/{name}", data) for name, data in (GOOD, SHEETS)]
    parts += [("__MACOSX/my case/._brief.yaml", "x"), ("my case/.DS_Store", "x")]
    assert unzipped(("a.zip", archive(parts)))[0] == CASE


def test_a_price_by_the_job_takes_the_place_of_one_by_the_area():
    """Both together and neither are faults, so one field changes the other."""
    area = with_brief(CASE, {"work.0.price.per_m2": "80 EUR/m²"})
    assert at(data_of(area.brief), "work.0.price") == {"per_m2": "80 EUR/m²"}
    again = with_brief(area, {"work.0.price.per_job": "500 EUR"})
    assert read(again).brief.work[0].price.per_job.likely == 500
    assert at(data_of(again.brief), "work.0.price") == {"per_job": "500 EUR"}


def test_what_must_be_served_follows_a_new_name():
    """A kind of job that is called otherwise is still the one that must be served."""
    case = with_brief(CASE, {"limits.must_serve": ["wall"]})
    again = with_brief(case, {"work.0.name": "long wall"})
    assert read(again).brief.limits.must_serve == ("long wall",)


def test_the_heaviest_piece_and_the_heaviest_lift_are_one_figure():
    """Typed in either place it stands in both; a lighter piece changes nothing."""
    pieces = [{"name": "rail", "mass": "9 kg"}, {"name": "column", "mass": "20 kg"}]
    case = with_sheet(CASE, "alder.yaml", {"pieces": pieces})
    case = with_sheet(case, "alder.yaml", {"heaviest_lift": "22 kg"})
    (machine,) = read(case).machines
    assert machine.pieces[1].mass.likely == machine.heaviest_lift.likely == 22
    case = with_sheet(case, "alder.yaml", {"pieces.0.mass": "30 kg"})
    (machine,) = read(case).machines
    assert machine.heaviest_lift.likely == 30


@pytest.mark.parametrize("path, value", [("odour.printing", 3), ("crew", None)])
def test_a_record_that_is_told_whole_is_begun_with_any_of_its_keys(path, value):
    """Smell, carriage, hired help: the others are unknown until they are typed."""
    if value is None:
        found = read(with_brief(CASE, {"crew.hired_help.rate": "20 EUR/h"})).brief
        assert found.crew.hired_help.allowed is False
        return
    case = with_sheet(CASE, "alder.yaml", {"odour": "unknown"})
    case = with_sheet(case, "alder.yaml", {path: value, "carriage.head_speed": "1 m/s"})
    (machine,) = read(case).machines
    assert machine.odour.preparing.is_unknown and machine.odour.printing.likely == 3
    assert machine.carriage is None  # so long as one of three is unknown
    more = {"carriage.strip_width": "0.1 m", "carriage.turnaround": "2 min"}
    (told,) = read(with_sheet(case, "alder.yaml", more)).machines
    assert told.carriage.head_speed.likely == 1
    assert evaluate(read(case).brief, [machine]).names == ("Alder",)
