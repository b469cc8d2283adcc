"""How predictions are scored, against closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm, poisson

from scoring.decision.predictions import (
    crps_of_normal,
    crps_of_sample,
    place_in,
    with_counts,
    with_error,
)

EVEN = (np.arange(4_000) + 0.5) / 4_000


@pytest.mark.parametrize("lived", [-2.0, 0.0, 0.7, 3.0])
def test_score_of_the_normal_is_its_integral(lived):
    """The closed form is ∫ (F(x) − 1{x ≥ y})² dx.

    Gneiting & Raftery (2007), the definition before their section 4.2.
    """
    below = quad(lambda x: norm.cdf(x, 1, 2) ** 2, -30, lived)[0]
    above = quad(lambda x: norm.sf(x, 1, 2) ** 2, lived, 32)[0]
    assert crps_of_normal(1, 2, lived) == pytest.approx(below + above, abs=1e-6)


@pytest.mark.parametrize("lived", [-2.0, 0.0, 0.7, 3.0])
def test_score_of_a_sample_comes_to_that_of_the_normal(lived):
    """Quantiles of a normal score as the closed form says."""
    sample = norm.ppf(EVEN, 1, 2)
    closed = crps_of_normal(1, 2, lived)
    assert crps_of_sample(sample, lived) == pytest.approx(closed, abs=2e-3)


def test_score_of_a_sample_by_hand():
    """{0, 1} and 3: mean |x − y| = 2.5, half the mean |x − x′| = 0.25."""
    assert crps_of_sample([0.0, 1.0], 3.0) == pytest.approx(2.25)


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=30), st.floats(-100, 100))
def test_a_score_is_never_below_0_and_moves_with_both(sample, lived):
    """The score of one point is the distance; adding a constant changes nothing."""
    score = crps_of_sample(sample, lived)
    assert score >= -1e-9
    assert crps_of_sample(np.add(sample, 7), lived + 7) == pytest.approx(
        score, abs=1e-6
    )
    assert crps_of_sample([sample[0]], lived) == pytest.approx(abs(sample[0] - lived))


def test_place_in_a_sample():
    """Half of what equals it counts as below."""
    assert place_in([1.0, 2, 3, 4], 2.0) == pytest.approx(0.375)


def test_errors_add_to_what_was_unsure():
    """Variances add: 2² of the prediction and 1.5² of the mean that was lived."""
    sample = with_error(norm.ppf(EVEN, 1, 2), 1.5)
    assert sample.mean() == pytest.approx(1, abs=0.01)
    assert sample.std() == pytest.approx(np.hypot(2, 1.5), rel=0.01)


def test_counts_at_a_known_rate_are_poisson():
    """Mean and variance are rate times exposure; the shares are scipy's Poisson."""
    sample = with_counts(np.full(1, 0.4), 5.0, 20_001)
    assert sample.mean() == pytest.approx(2.0, abs=0.01)
    assert sample.var() == pytest.approx(2.0, abs=0.02)
    shares = [(sample == k).mean() for k in range(5)]
    assert shares == pytest.approx(poisson.pmf(range(5), 2.0), abs=1e-3)
    assert with_counts(np.zeros(3), 5.0).max() == 0
