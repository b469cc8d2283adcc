"""How many draws the page takes: what the environment says, within bounds."""

import pytest

from scoring.answer.evaluation import N_DRAWS
from scoring.errors import ScoringError
from scoring.page.state.work import DRAWS, draws


@pytest.mark.parametrize(("told", "found"), [("", N_DRAWS), ("200", 200), ("40", 40)])
def test_the_environment_says_how_many(monkeypatch, told, found):
    """Nothing told is as everywhere else."""
    monkeypatch.setenv(DRAWS, told)
    assert draws() == found


@pytest.mark.parametrize("told", ["39", "100001", "lots", "-200", "2e3", "9" * 5000])
def test_another_word_is_a_sentence(monkeypatch, told):
    """What is no such number is refused, with what is allowed."""
    monkeypatch.setenv(DRAWS, told)
    with pytest.raises(ScoringError, match="MURAL_DRAWS: .*; 40 to 100000"):
        draws()
