"""The list of planted faults keeps up with the code."""

import pytest

from tests.planted import FAULTS, ROOT


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.words)
def test_a_planted_fault_finds_its_place(fault):
    """The right text stands once in its file, the wrong one is another, tests exist."""
    text = (ROOT / "scoring" / fault.file).read_text("utf-8")
    assert text.count(fault.right) == 1
    assert fault.wrong != fault.right
    assert all((ROOT / "tests" / test).exists() for test in fault.tests.split())
