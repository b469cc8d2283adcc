"""The list of planted faults keeps up with the code."""

import pytest

from tests.planted import FAULTS, ROOT, matches


def _tests(begin):
    """Return the test files whose path below tests/ begins so."""
    *folders, name = begin.split("/")
    return [*ROOT.joinpath("tests", *folders).glob(f"{name}*")]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.words)
def test_a_planted_fault_finds_its_place(fault):
    """The right text stands once in its file, the wrong one is another, tests exist."""
    assert matches(fault)
    assert fault.wrong != fault.right
    assert all(_tests(begin) for begin in fault.first.split())


def test_no_fault_is_planted_twice():
    """Each fault has words and a wrong text of its own, so a count of them is one."""
    assert len({fault.words for fault in FAULTS}) == len(FAULTS)
    places = {(fault.file, fault.right, fault.wrong) for fault in FAULTS}
    assert len(places) == len(FAULTS)
