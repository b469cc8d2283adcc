"""Spoilt inputs are accepted or refused in a sentence; thousands: tests.hardness."""

import pytest

from tests.hardness.__main__ import KINDS, tried
from tests.hardness.driving import ACCEPTED, DOORS, REFUSED, driven
from tests.inputs.sheets import SHEET, changed

# More of them: python -m tests.hardness. Of the newer kinds each case is dearer.
OLDER = ("sheet", "brief", "leads", "workbook", "table", "picture")
NEWER = tuple(kind for kind in DOORS if kind not in OLDER)

MORE = (OLDER, 300), (NEWER, 120)
MORE = [pytest.param(*some, marks=pytest.mark.slow) for some in MORE]


@pytest.mark.parametrize(("kinds", "n"), [(OLDER, 40), (NEWER, 20), *MORE])
def test_spoilt_inputs_are_accepted_or_refused_in_a_sentence(kinds, n):
    """None crashes, warns, hangs, prints a hidden mark or says no number."""
    counts, examples = tried(n, chosen_seed=0, kinds=kinds)
    assert not examples
    assert sum(counts.values()) >= n
    assert all(counts[kind] > n / 20 for kind in KINDS)


@pytest.mark.parametrize(
    "old, new",
    [
        ("20 kg", "NaN kg"),
        ("name: Alder", "name: !!python/object:os.system ls"),
        ("price: ", "price: [[[[[[[[[[[[[[[[[[[[[[ "),
    ],
)
def test_what_must_be_refused_is_refused(old, new):
    """The harness tells a refusal from an answer."""
    right = ("sheet", "a.yaml", SHEET.encode())
    wrong = ("sheet", "a.yaml", changed(SHEET, old, new).encode())
    assert (driven(right).outcome, driven(wrong).outcome) == (ACCEPTED, REFUSED)


def test_a_defect_is_told_as_one(monkeypatch):
    """A crash, and a sentence with a library's words, are defects by name."""
    from tests.hardness import driving

    def crash(name, data):
        raise ZeroDivisionError("by the way")

    monkeypatch.setitem(driving.DOORS, "sheet", crash)
    assert "ZeroDivisionError" in driven(("sheet", "a.yaml", b"1")).outcome
    words = driving._sentence("a.yaml:1: price: Input should be a valid string")
    assert words.outcome == "a library's words"
    assert driving._sentence("a\x1b[31m").outcome == "a hidden mark is printed"
    assert driving._told(["a strip of inf cm"]).outcome == "a figure that is none"
