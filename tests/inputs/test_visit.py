"""Figures taken on a visit: typed texts into a sheet that the reader takes."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import InputFaults, ScoringError
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.visit import BY_PATH, INTENSITIES, Print, clock, with_measured
from tests.inputs.sheets import SHEET, changed, source


def read(text):
    return read_machine(source(text))


def three(quantity):
    return quantity.low, quantity.likely, quantity.high


def test_repeats_become_lowest_mean_highest():
    """Three builds of 20, 23 and 29 minutes are 20..24..29, measured."""
    text = with_measured(SHEET, {"assembly_time": ["23 min", "20:00", "0:29:00"]})
    time = read(text).assembly_time
    assert three(time) == (20, 24, 29)
    assert time.basis == "measured"
    assert time.note == "taken 3 times on a visit"


def test_one_figure_stands_alone():
    """One move of 12½ minutes has no range of its own; its basis gives it one."""
    time = read(with_measured(SHEET, {"move_time": ["12:30"]}, as_of="2026-07-01"))
    assert three(time.move_time) == (12.5, 12.5, 12.5)
    assert (time.move_time.basis, time.move_time.as_of) == ("measured", "2026-07-01")


def test_equal_repeats_are_no_range():
    """A figure that came out the same each time is written once."""
    assert not read(
        with_measured(SHEET, {"shift_time": [6.0, 6.0]})
    ).shift_time.is_range


def test_what_was_not_typed_stays():
    """Empty fields change nothing of what the sheet says."""
    before, after = read(SHEET), read(with_measured(SHEET, {"prime_time": ["", ""]}))
    assert dict(after) == dict(before)


def test_pounds_are_kilograms():
    """Ten pounds are 4.5359 kg (NIST SP 811, appendix B.8: 0.453 592 37 kg)."""
    lift = read(with_measured(SHEET, {"heaviest_lift": ["10 lb"]})).heaviest_lift
    assert lift.likely == pytest.approx(4.5359237, abs=5e-5)


PIECES = """\
pieces:
  - {name: column, mass: 20 kg}
  - {name: base, mass: 15 kg}
"""


def test_the_scale_also_weighs_the_heaviest_of_the_pieces():
    """A new heaviest lift does not contradict the list of pieces."""
    machine = read(with_measured(SHEET + PIECES, {"heaviest_lift": ["23 kg"]}))
    assert [piece.mass.likely for piece in machine.pieces] == [23, 15]


def test_a_weight_below_the_next_piece_is_a_fault():
    """If another piece of the list is then heavier, the reader says so."""
    text = with_measured(SHEET + PIECES, {"heaviest_lift": ["12 kg"]})
    with pytest.raises(InputFaults, match="the heaviest of pieces weighs 15 kg"):
        read(text)


def test_noses_and_what_they_smelled_later():
    """Three noses give a range; the later smell is noted; the other smell stays."""
    text = with_measured(
        SHEET,
        {"odour.printing": [2, 4, 3]},
        notes={"odour.printing": "after an hour 1"},
    )
    odour = read(text).odour
    assert three(odour.printing) == (2, 3, 4)
    assert odour.printing.note == "taken 3 times on a visit; after an hour 1"
    assert odour.preparing.likely == 1


def test_one_smell_of_a_sheet_that_tells_none():
    """What was not smelled stays unknown."""
    sheet = changed(SHEET, "{preparing: 1, printing: 2}", "unknown")
    odour = read(with_measured(sheet, {"odour.preparing": [0]})).odour
    assert odour.preparing.likely == 0
    assert odour.printing.is_unknown


def test_the_scale_of_smells_goes_as_far_as_its_words():
    """The reader takes 0 to 6, one step for each word, and no more."""
    last = len(INTENSITIES) - 1
    assert read(with_measured(SHEET, {"odour.printing": [last]})).odour
    with pytest.raises(ScoringError, match="7.* is above 6"):
        with_measured(SHEET, {"odour.printing": [last + 1]})


def test_timed_prints_are_added():
    """Two runs of one square metre in 20 and 30 min are 2.4 m²/h, timed."""
    text = with_measured(SHEET, {}, [Print(4, "1 m", "1 m", ("20 min", "", "30:00"))])
    machine = read(text)
    speed, origin = machine.speeds()[4]
    assert (speed.likely, origin) == (pytest.approx(2.4), "print test")
    again = read(with_measured(text, {}, [Print(4, "1 m", "1 m", ("25 min",))]))
    assert len(again.print_tests) == 3


def test_every_fault_is_told_at_once():
    """Each figure that cannot be read has a sentence, and the run that it is."""
    typed = {
        "assembly_time": ["20 min", "soon", "1..2 min"],
        "heaviest_lift": ["-3 kg"],
        "rail_length": ["unknown"],
        "colour": ["red"],
    }
    with pytest.raises(ScoringError) as found:
        with_measured(SHEET, typed, [Print(4, "", "1 mile", ("20",))])
    told = str(found.value).splitlines()
    assert told[:4] == [
        "build, no. 2: 'soon' is not a figure; a time, such as 28 min",
        "build, no. 3: '1..2 min' is a range; one figure for each repeat",
        "heaviest piece: '-3 kg' is below 0 kg; 0 kg or more",
        "rail: 'unknown' is not a figure; a length, such as 3 m",
    ]
    assert told[4].startswith("colour: is not measured on a visit; one of ")
    assert told[5:] == ["print: '20' has no unit; a time, such as 28 min"]


def test_a_print_needs_its_sides():
    """A print time without the size of the picture is a fault."""
    with pytest.raises(ScoringError, match="width of the print: is missing"):
        with_measured(SHEET, {}, [Print(4, "", "1 m", ("20 min",))])


def test_a_sheet_that_is_no_yaml_is_a_fault():
    """A broken sheet gives the reader's faults."""
    with pytest.raises(InputFaults):
        with_measured("name: [", {})


def test_comments_at_the_top_stay():
    """The header of a sheet, which may name its schema, is kept."""
    head = "# yaml-language-server: $schema=../machine.schema.json\n\n"
    assert with_measured(head + SHEET, {}).startswith(head)


def test_comments_stay_wherever_they_stand():
    """Of a demo sheet with remarks only the measured line changes; the rest is kept."""
    path = Path("profiles/machines/thrumble-lite.yaml")
    text = path.read_text(encoding="utf-8")
    told = "move_time: {value: 16 min, basis: measured}"
    assert told in text
    remark = "# asked the seller twice\n"
    text = text.replace(told, f"{remark}{told}  # on a bad day\n# and this stays")
    after = with_measured(text, {"move_time": ["20 min"]})
    new = "move_time: {value: 20 min, basis: measured, note: taken once on a visit}"
    lines = dict(zip(text.splitlines(), after.splitlines(), strict=True))
    changed_lines = {was: now for was, now in lines.items() if was != now}
    assert changed_lines == {f"{told}  # on a bad day": f"{new} # on a bad day"}


def test_what_was_said_of_the_old_figure_goes():
    """A measured figure does not keep the day and the note of the one it replaces."""
    old = "{value: 9 min, basis: quoted, as_of: 2020-01-01, note: by letter}"
    sheet = changed(SHEET, "prime_time: 10 min", f"prime_time: {old}")
    found = read(with_measured(sheet, {"prime_time": ["8 min"]})).prime_time
    assert (found.likely, found.basis, found.as_of) == (8, "measured", "")
    assert found.note == "taken once on a visit"


NAMES = st.one_of(
    st.sampled_from(
        ["<script>", "**bold**", "{x}", "N" * 300, "1e5", "no", "~", "4", "a: b # c"]
        + ["1:30", "2026-07-01", "0x1f", "- a", "0o7", "'", '"', "a, 1: b", ".5", "NaN"]
    ),
    st.text(
        st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp")),
        min_size=1,
        max_size=300,
    ).filter(str.strip),
)


@given(NAMES)
def test_any_name_comes_through_as_text(name):
    """A name that looks like something else is the same name afterwards."""
    quoted = name.replace("'", "''")
    sheet = changed(SHEET, "name: Alder", f"name: '{quoted}'")
    sheet = changed(sheet, "name: No plan", f"name: '{quoted}'")
    before, after = read(sheet), read(with_measured(sheet, {"move_time": ["9 min"]}))
    assert after.name == before.name
    assert after.subscription_fees == before.subscription_fees
    assert after.speed == before.speed


@given(st.lists(st.floats(0.01, 500), min_size=1, max_size=5))
def test_a_range_always_rises_and_holds_the_repeats(minutes):
    """Whatever was measured is within the range, to the digits that are written."""
    time = read(with_measured(SHEET, {"assembly_time": minutes})).assembly_time
    assert time.low <= time.likely <= time.high
    assert time.low == pytest.approx(min(minutes), abs=1e-4)
    assert time.high == pytest.approx(max(minutes), abs=1e-4)


@given(st.integers(0, 6 * 3600))
def test_a_lap_reads_back_as_its_minutes(seconds):
    """What the stopwatch shows is read as the same time."""
    time = read(with_measured(SHEET, {"prime_time": [clock(seconds)]})).prime_time
    assert time.likely == pytest.approx(seconds / 60, abs=1e-4)


@pytest.mark.parametrize("path", BY_PATH)
def test_every_path_is_a_key_of_a_sheet(path):
    """Each figure can be written into a sheet that did not have it."""
    measured = BY_PATH[path]
    found = read(with_measured(SHEET, {path: [1.0]}))
    for key in path.split("."):
        found = found[key] if isinstance(found, dict) else getattr(found, key)
    assert (found.likely, found.unit) == (1, measured.dimension.unit)


def test_what_owners_tell_is_an_estimate_and_what_is_judged_measured():
    """Two owners' figures are a range with both ends; marks keep their judges'."""
    figures = {
        "spoilt_share": ["2 %", "6 %"],
        "reliability.days_down": ["9 day", ""],
        "ratings.print_quality": ["3", "4", "5"],
    }
    machine = read(with_measured(SHEET, figures))
    spoilt, down = machine.spoilt_share, machine.reliability.days_down
    assert (spoilt.low, spoilt.likely, spoilt.high) == (0.02, 0.04, 0.06)
    assert (spoilt.basis, spoilt.note) == ("estimated", "told by 2 owners")
    assert (down.likely, down.note) == (9, "told by one owner")
    mark = machine.ratings["print_quality"]
    assert (mark.low, mark.likely, mark.high, mark.basis) == (3, 4, 5, "measured")


def test_marks_outside_one_to_five_are_refused():
    """A mark of six gets a sentence with its place, and what is allowed."""
    with pytest.raises(ScoringError, match="print quality, no. 2: '6' is above 5; 5"):
        with_measured(SHEET, {"ratings.print_quality": ["4", "6", ""]})
