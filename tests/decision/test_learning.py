"""Gain and Brier score against their closed forms, by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.decision.learning import brier, normalised_gain
from scoring.errors import ScoringError


def test_gain_by_hand():
    """From 40 % to 70 %: 30 of the 60 that were missing, 0.5 (Hake 1998, eq. 1)."""
    assert normalised_gain(40, 70) == 0.5
    assert normalised_gain(0, 100) == 1
    assert normalised_gain(50, 25) == -0.5
    assert np.isnan(normalised_gain(100, 100))


def test_gain_of_several():
    """A column of people gets a gain each."""
    found = normalised_gain([20, 50], [60, 50])
    assert found.tolist() == [0.5, 0.0]


def test_brier_by_hand():
    """((0.9 − 1)² + (0.6 − 0)² + (0.5 − 1)²)/3 = (0.01 + 0.36 + 0.25)/3."""
    found = brier([0.9, 0.6, 0.5], [True, False, True])
    assert found == pytest.approx(0.62 / 3)


@given(st.lists(st.booleans(), min_size=1, max_size=20))
def test_half_and_half_is_a_quarter(came):
    """Whoever always says 50 % gets 0.25; who knows all gets 0, who is wrong 1."""
    assert brier([0.5] * len(came), came) == pytest.approx(0.25)
    assert brier([float(c) for c in came], came) == 0
    assert brier([1.0 - c for c in came], came) == 1


@given(st.floats(0.01, 0.99), st.floats(0, 1))
def test_brier_rewards_honesty(true, said):
    """Of an event of chance p, nobody expects a lower score than by saying p.

    p (1 − s)² + (1 − p) s² is least at s = p: a proper scoring rule.
    """

    def expected(share):
        return true * brier([share], [1]) + (1 - true) * brier([share], [0])

    assert expected(true) <= expected(said) + 1e-12


@pytest.mark.parametrize("before, after", [(-1, 50), (50, 101), (np.nan, 5)])
def test_gain_outside_its_range(before, after):
    """Per cent outside 0 to 100 gets a sentence."""
    with pytest.raises(ScoringError, match="per cent"):
        normalised_gain(before, after)


@pytest.mark.parametrize("said, came", [([], []), ([0.5], [1, 0]), ([50], [1])])
def test_brier_outside_its_range(said, came):
    """None, not as many, or per cent in place of shares gets a sentence."""
    with pytest.raises(ScoringError, match="confidence|shares"):
        brier(said, came)
