"""What is learnt from several estimates, against published values and by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.decision.pooling import disappointment, partial_pooling, updated
from scoring.errors import ScoringError
from tests.decision.published import published


def test_batting_averages_of_efron_and_morris():
    """Eighteen players keep 0.212 of their distance to the mean, as printed.

    Efron & Morris (1977), the example of their 1975 paper; see the reference file.
    """
    case = published("efron_morris_batting_averages")
    first = np.array(case["inputs"]["first_45"])
    season = np.array(case["inputs"]["season"])
    mean = first.mean()
    variance = mean * (1 - mean) / case["inputs"]["n_first"]
    pooled = partial_pooling(first, np.full(18, variance))
    tolerance = case["published"]["tolerance_abs"]
    assert pooled.mean == pytest.approx(case["published"]["mean"], abs=tolerance)
    kept = case["published"]["kept_of_the_distance"]
    assert 1 - pooled.shrink == pytest.approx(np.full(18, kept), abs=tolerance)
    assert pooled.values[0] == pytest.approx(0.265 + kept * (0.400 - 0.265), abs=0.001)
    off = ((first - season) ** 2).sum()
    assert ((pooled.values - season) ** 2).sum() < off / 3  # the paradox's point


def test_a_posterior_by_hand():
    """Prior N(0.2, 0.04), values 0.5 and 0.1 with variance 0.01: precisions add up.

    25 + 100 + 100 = 225; (25·0.2 + 100·0.5 + 100·0.1)/225 = 65/225.
    """
    found = updated(0.2, 0.04, [0.5, 0.1], [0.01, 0.01])
    assert found.mean == pytest.approx(65 / 225)
    assert found.variance == pytest.approx(1 / 225)


def test_nothing_seen_leaves_the_prior():
    """Without values the posterior is the prior."""
    found = updated(0.2, 0.04, [], [])
    assert found.mean == pytest.approx(0.2) and found.variance == pytest.approx(0.04)


def test_few_values_are_left_as_they_are():
    """Of three values no spread between can be told: nothing is pulled."""
    pooled = partial_pooling([1.0, 2.0, 4.0], [1.0, 1.0, 1.0])
    assert pooled.values.tolist() == [1, 2, 4]


def test_unequal_variances_pull_the_unsure_more():
    """Who was seen less goes further to the mean; all stays between value and mean."""
    values, own = np.array([0.0, 1, 2, 3, 10]), np.array([1, 1, 1, 1, 9.0])
    pooled = partial_pooling(values, own)
    assert pooled.shrink[4] > pooled.shrink[0]
    assert pooled.mean < pooled.values[4] < 10


def test_values_without_a_variance_are_refused():
    """A variance of 0 would say that a value is known for sure."""
    with pytest.raises(ScoringError):
        partial_pooling([1.0, 2.0], [1.0, 0.0])


@given(
    st.lists(st.floats(-100, 100), min_size=4, max_size=12),
    st.floats(0.1, 10),
    st.floats(-50, 50),
)
def test_pooling_moves_with_its_values(values, own, shift):
    """A constant added to all is added to the result; order is kept."""
    values = np.array(values)
    a = partial_pooling(values, np.full(len(values), own))
    b = partial_pooling(values + shift, np.full(len(values), own))
    assert np.allclose(a.values + shift, b.values, atol=1e-6)
    assert (np.diff(a.values[np.argsort(values)]) >= -1e-9).all()
    assert (a.shrink <= 1).all() and (a.shrink >= 0).all()


def test_disappointment_of_like_alternatives():
    """Where all are truly alike, the best of n disappoints by the mean maximum of n.

    The expected maximum of 4 and 10 standard normals, 1.0294 and 1.5388: Teichroew
    (1956), Annals of Mathematical Statistics 27(2), 410–426, as used by Smith &
    Winkler (2006); from memory. (k − 3)/(k − 1) of it is what the estimator dares to
    take away where it knows that all is error, so bounds are those two.
    """
    rng = np.random.default_rng(1)
    for k, most in ((4, 1.0294), (10, 1.5388)):
        estimates = rng.standard_normal((4_000, k))
        real = estimates.max(axis=1).mean()
        assert real == pytest.approx(most, abs=0.04)
        told = np.mean([disappointment(row, np.ones(k)) for row in estimates])
        assert most * (k - 3) / (k - 1) * 0.6 < told <= most + 0.04


def test_disappointment_told_is_about_what_comes():
    """Over many choices among forty, what is told is what the leaders lack on average.

    True values N(0, 1), errors N(0, 1): the leader's true value is half its estimate
    (Smith & Winkler's normal model), so it disappoints by half the best estimate.
    Of few alternatives the estimator dares to tell less.
    """
    rng = np.random.default_rng(2)
    true = rng.standard_normal((1_000, 40))
    seen = true + rng.standard_normal(true.shape)
    best = seen.argmax(axis=1)
    lack = (seen.max(axis=1) - true[np.arange(len(true)), best]).mean()
    told = np.mean([disappointment(row, np.ones(40)) for row in seen])
    assert told == pytest.approx(lack, rel=0.1)


def test_nobody_disappoints_where_nothing_is_unsure():
    """Without errors, or of three alternatives, nothing is told."""
    assert disappointment([1.0, 2, 3, 4], np.zeros(4)) == 0
    assert disappointment([1.0, 2, 3], np.ones(3)) == 0


def test_whoever_is_chosen_disappoints_by_its_own_distance():
    """0, 1, 2, 3 with errors of 1: the spread between is 4/3 · 1.25 − 1 = 2/3.

    Each goes (4 − 3)/(4 − 1) · 1/(1 + 2/3) = 0.2 of the way to 1.5: the best loses 0.3,
    and the second, where it is the one that is chosen, 0.1.
    """
    values, errors = [0.0, 1.0, 2.0, 3.0], np.ones(4)
    assert disappointment(values, errors) == pytest.approx(0.3)
    assert disappointment(values, errors, leader=2) == pytest.approx(0.1)
    assert disappointment(values, errors, leader=0) == 0
