"""No cell of ours is run by whoever reads the file, wherever that reader splits it."""

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.inputs.formulas import guarded, on_one_line, unguarded

STARTS = ("=", "+", "-", "@")  # OWASP, CSV Injection; seen in its list, from memory
PIECES = st.sampled_from(
    ["=1+1", "@SUM(A1)", "hall", ";", ",", "|", "\t", "\r\n", " ", "'", "-2", "+", "é"]
)
NAMES = st.lists(PIECES, max_size=8).map("".join)


@pytest.mark.parametrize("mark", [",", ";", "|", "\t"])
@given(name=NAMES)
def test_no_reader_finds_a_formula(mark, name):
    """Split at whatever mark, as a CSV reader does, no cell begins like a formula."""
    for row in csv.reader(io.StringIO(guarded(name)), delimiter=mark):
        for cell in row:
            assert not cell.strip(" ").startswith(STARTS)


@given(name=NAMES)
def test_what_was_guarded_comes_back(name):
    """A name keeps its letters through a file; breaks are spaces afterwards."""
    if re.search(r"(^|[;,|])\s*'[=+\-@]", on_one_line(name)):
        return  # an apostrophe of its own there cannot be told from ours
    assert unguarded(guarded(name)) == on_one_line(name)


def test_words_are_left_alone():
    """Hyphens, prices and lists of an ordinary name stay as they are."""
    for name in ("café, back wall", "a-b", "1 + 1", "stairs (2), 3 m", "owner's"):
        assert guarded(name) == name
