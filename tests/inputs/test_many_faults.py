"""Faults by the thousand, figures beyond sense, marks nobody sees: short sentences."""

import pytest

from scoring.errors import FAULTS, InputFaults
from scoring.inputs import dimensions
from scoring.inputs.brief_files import load_brief
from scoring.inputs.dimensions import Dimension
from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.quantity import Wrong
from tests.inputs.sheets import BRIEF, SHEET, changed, source


def refused(read, written):
    """Return the InputFaults of a text."""
    with pytest.raises(InputFaults) as caught:
        read(written)
    return caught.value


def test_of_very_many_faults_the_first_are_told_and_the_rest_counted():
    """2,000 unknown keys are 50 sentences and a number."""
    sheet = SHEET + "".join(f"strange_{k}: 1\n" for k in range(2000))
    faults = refused(read_machine, source(sheet))
    assert len(faults.faults) == FAULTS + 1
    assert str(faults).splitlines()[-1] == "a.yaml:2012: and 1950 more"


def test_faults_of_several_files_are_bounded_for_each():
    """50 sentences of each sheet, and how many more it has."""
    strange = "".join(f"strange_{k}: 1\n" for k in range(70))
    sheets = [(f"{name}.yaml", (SHEET + strange).encode()) for name in "ab"]
    lines = str(refused(load_machines, sheets)).splitlines()
    assert [line for line in lines if " more" in line] == [
        "a.yaml:82: and 20 more",
        "b.yaml:82: and 20 more",
    ]
    assert len(lines) == 2 * (FAULTS + 1)


LONG = "x" * 70_000


@pytest.mark.parametrize(
    "sheet",
    [
        SHEET + f"{LONG}: 1\n",
        SHEET + f"note: {LONG}\n",
        SHEET + f"built_by: [{LONG}]\n",
        changed(SHEET, "20 kg", LONG),
        changed(SHEET, "20 kg", f"20 {LONG}"),
        changed(SHEET, "20 kg", f"{{value: 20 kg, {LONG}: 1}}"),
        changed(SHEET, "20 kg", f"{{value: 20 kg, basis: {LONG}}}"),
        changed(SHEET, "20 kg", f"{{value: 20 kg, as_of: {LONG}}}"),
        changed(SHEET, "20 kg", "2" * 70_000 + " kg"),
        changed(SHEET, "20 kg", f"!{LONG} 20 kg"),
        changed(SHEET, "20 kg", f"*{LONG}"),
        SHEET + f"features: [{LONG}]\n",
        SHEET + f"ratings: {{{LONG}: 4}}\n",
    ],
)
def test_a_very_long_text_is_not_said_again(sheet):
    """What is quoted is cut, wherever it stands."""
    said = str(refused(read_machine, source(sheet)))
    assert max(map(len, said.splitlines())) < 500


HIDDEN = {
    r'"Al\x1b[31mder"': r"'\x1b'",  # would colour a terminal
    r'"Al\rder"': r"'\r'",  # breaks a row of CSV
    r'"Al\bder"': r"'\x08'",
    r'"Al\u202Eder 12"': r"'\u202e'",  # the number would read 21
    r'"Al\u2066der"': r"'\u2066'",
    r'"Al\u2028der"': r"'\u2028'",
    r'"Al\0der"': r"'\x00'",
}


@pytest.mark.parametrize("name", HIDDEN)
def test_marks_that_cannot_be_seen_are_refused(name):
    """An escape, a return or a turning mark in a name gets a sentence that shows it."""
    sheet = changed(SHEET, "name: Alder", f"name: {name}")
    said = str(refused(read_machine, source(sheet)))
    mark = HIDDEN[name]
    assert said.splitlines()[0] == (
        f"a.yaml:1: name: a character that cannot be seen, {mark}; plain text"
    )


@pytest.mark.parametrize("key", [r'"od\x1bour"', r'"od\u202eour"'])
def test_a_hidden_mark_in_a_key_is_not_printed(key):
    """The sentence about a key shows the mark, and does not send it to the terminal."""
    said = str(refused(read_machine, source(SHEET + f"{key}: 1\n")))
    assert "\x1b" not in said and "\u202e" not in said


def test_a_name_stands_on_one_line():
    """A line break or a blank is no name."""
    for name in (r'"Al\nder"', r'"Al\tder"', '"  "'):
        sheet = changed(SHEET, "name: Alder", f"name: {name}")
        assert "a.yaml:1: name: " in str(refused(read_machine, source(sheet)))


def test_half_a_character_is_refused_plainly():
    """A lone surrogate gets a sentence of ours, not the reader's words."""
    sheet = changed(SHEET, "name: Alder", r'name: "Al\uD800der"')
    said = str(refused(read_machine, source(sheet)))
    assert "surrogat" not in said and "Alder" not in said and r"\ud800" in said


ALL = [each for each in vars(dimensions).values() if isinstance(each, Dimension)]


@pytest.mark.parametrize("dimension", ALL, ids=lambda each: f"{each.name}-{each.unit}")
@pytest.mark.parametrize("figure", ["1" + "0" * 40, "9" * 400, "1" + "0" * 13])
def test_every_kind_of_figure_has_a_most(dimension, figure):
    """No field takes a figure beyond sense; the sentence says what it takes."""
    unit = dimension.unit.replace("currency", "EUR")
    with pytest.raises(Wrong) as caught:
        dimension.parse(f"{figure} {unit}".strip())
    assert "or less" in str(caught.value) or "too large" in str(caught.value)


@pytest.mark.parametrize(
    "right, wrong",
    [
        ("days_to_pay", "days_to_pay: 1" + "0" * 30 + " day"),
        ("distance", "distance: 1" + "0" * 12 + " km"),
    ],
)
def test_a_brief_beyond_sense_gets_a_sentence(right, wrong):
    """What once ended in an index out of bounds is refused by name."""
    text = BRIEF + (f"trade:\n  {wrong}\n" if right == "days_to_pay" else "")
    if right == "distance":
        text = changed(BRIEF, "    price:", f"    {wrong}\n    price:")
    said = str(refused(load_brief, source(text)))
    assert right in said and "or less" in said
