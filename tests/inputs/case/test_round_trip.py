"""Any valid brief and sheet, shown in the forms, saved and loaded, are equal."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from scoring.inputs.case.edit import at, data_of
from scoring.inputs.case.fields import FIGURE, change_of, shown_in
from scoring.inputs.case.folder import load_case, save_case
from scoring.inputs.case.record import Case, read
from scoring.inputs.case.zipped import unzipped, zipped
from tests.inputs.case.any_valid import brief_places, cases, sheet_places
from tests.inputs.sheets import BRIEF, SHEET

BEGUN = Case(BRIEF, {"alder.yaml": SHEET})
ANY = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def fields_shown(text, places):
    """Yield (data, field, where, what the form shows) of every field that is told."""
    data = data_of(text)
    for path, fields in places(data):
        for field in fields:
            shown = shown_in(data, field, path)
            if shown:
                yield data, field, path, shown


def ends(dimension, written):
    """Return low, likely and high of a figure as a file has it."""
    found = dimension.parse(written)
    return [x for x in (found.low, found.likely, found.high) if x is not None]


@ANY
@given(cases(BEGUN))
def test_shown_in_the_forms_it_is_what_the_file_says(case):
    """Left alone nothing changes; typed anew from what is shown it is the same."""
    for text, places in (
        (case.brief, brief_places),
        (*case.sheets.values(), sheet_places),
    ):
        for data, field, path, shown in fields_shown(text, places):
            held = at(data, f"{path}{field.path}")
            assert change_of(data, field, shown, "EUR", path) == {}
            again = change_of({}, field, shown, "EUR")[field.path]
            if field.kind == FIGURE:
                told = held.get("value") if isinstance(held, dict) else held
                expected = ends(field.dimension, told)
                assert ends(field.dimension, again) == pytest.approx(expected)
            else:
                assert again == held


@ANY
@given(cases(BEGUN))
def test_saved_and_loaded_it_is_equal(case):
    """In a folder and as a .zip: the texts to the byte, the records in every field."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "case"
        save_case(folder, case)
        from_folder = load_case(folder)
    from_zip, _ = unzipped(("case.zip", zipped(case)))
    assert from_folder == from_zip == case
    before, after = read(case), read(from_zip)
    assert after.brief == before.brief
    assert after.machines == before.machines
