"""Weights that are drawn: their moments, extremes, orders and faults."""

import numpy as np
import pytest

from scoring.decision import (
    drawn_weights,
    weights,
)
from scoring.errors import ScoringError

NAN, INF = float("nan"), float("inf")


def rng(seed=1):
    return np.random.default_rng(seed)


@pytest.mark.parametrize("concentration", [0.7, 5.0, 60.0])
def test_moments_of_dirichlet_weights(concentration):
    """Mean a/a0 and variance a(a0 - a)/(a0²(a0 + 1)), and what is 0 stays 0.

    Dirichlet moments in closed form, a0 the concentration. Tolerances from the draws'
    own second and fourth moments.
    """
    around = np.array([0.5, 0.3, 0.0, 0.2])
    drawn = drawn_weights.sample_weights(20_000, 4, rng(), around, concentration)
    assert (drawn[:, 2] == 0).all() and (drawn >= 0).all()
    np.testing.assert_allclose(drawn.sum(axis=1), 1, atol=1e-12)
    a, a0 = around * concentration, concentration
    variance = a * (a0 - a) / (a0**2 * (a0 + 1))
    root = np.sqrt(len(drawn))
    assert (abs(drawn.mean(axis=0) - around) <= 4 * np.sqrt(variance) / root).all()
    squares = (drawn - around) ** 2
    error = squares.std(axis=0) / root
    assert (abs(squares.mean(axis=0) - variance) <= 4 * error).all()


def test_uniform_weights_are_a_flat_dirichlet():
    """Nothing known is Dirichlet(1, …, 1): the same draws as around equal weights.

    Then a0 = m, so its moments are those checked above. One criterion weighs 1.
    """
    uniform = rng().random((500, 4))
    flat = drawn_weights.weights_from_uniform(uniform)
    around = drawn_weights.weights_from_uniform(uniform, np.ones(4), 4.0)
    np.testing.assert_allclose(flat, around, atol=1e-9)
    assert drawn_weights.weights_from_uniform(uniform[:, :1]).tolist() == [[1.0]] * 500


@pytest.mark.parametrize("concentration", [1e-9, 1e-3, 0.05, 1e9])
def test_weights_at_extreme_concentrations(concentration):
    """Next to no evidence puts all weight on one, often; much of it, on the mean.

    With a0 → 0 criterion i has all the weight in a share a_i/a0 of draws. The largest
    difference from the mean at a0 = 1e9 has an sd of about 0.5/√1e9.
    """
    around = np.array([0.7, 0.3])
    drawn = drawn_weights.sample_weights(4000, 2, rng(), around, concentration)
    np.testing.assert_allclose(drawn.sum(axis=1), 1, atol=1e-12)
    if concentration > 1:
        assert abs(drawn - around).max() < 6 * 0.5 / np.sqrt(concentration)
    elif concentration < 0.01:
        error = np.sqrt(0.7 * 0.3 / len(drawn))
        assert (drawn[:, 0] > 0.5).mean() == pytest.approx(0.7, abs=4 * error)


def test_the_ends_of_the_uniform_numbers_give_weights():
    """Uniforms of exactly 0 and 1 are allowed, and no weight is NaN."""
    ends = np.array([[0.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    for options in [{}, {"around": [1, 3], "concentration": 0.01}, {"order": [2, 1]}]:
        found = drawn_weights.weights_from_uniform(ends, **options)
        np.testing.assert_allclose(found.sum(axis=1), 1, atol=1e-12)


@pytest.mark.parametrize(
    "order", [[2, 1, 3, 4], [1, 1, 2, 2], [3, 1, 3, 3], [1, 1, 1, 1], [10, 20, 5, 5]]
)
def test_weights_in_order(order):
    """Every draw keeps the order, and their mean is the rank-order centroid.

    Barron & Barrett (1996): the centroid is the mean of all weights that keep the
    order; members of a tie share the mean of their places.
    """
    drawn = drawn_weights.sample_weights(20_000, 4, rng(), order=order)
    for i in range(4):
        for j in range(4):
            if order[i] < order[j]:
                assert (drawn[:, i] >= drawn[:, j]).all()
    error = drawn.std(axis=0) / np.sqrt(len(drawn))
    centroid = weights.rank_order_centroid(order)
    assert (abs(drawn.mean(axis=0) - centroid) <= 4 * error).all()


def test_members_of_a_tie_in_the_order_are_exchangeable():
    """Of two criteria with one rank, either is the larger in half of the draws."""
    drawn = drawn_weights.sample_weights(10_000, 3, rng(), order=[2, 1, 2])
    share = (drawn[:, 0] > drawn[:, 2]).mean()
    assert share == pytest.approx(0.5, abs=4 * 0.5 / np.sqrt(10_000))


@pytest.mark.parametrize(
    "options",
    [{}, {"around": [1, 2, 3], "concentration": 8}, {"order": [1, 2, 2]}],
    ids=["nothing known", "around", "order"],
)
def test_same_seed_same_weights_in_any_chunks(options):
    """One generator gives the same weights at once and in chunks of any size."""
    whole = drawn_weights.sample_weights(100, 3, rng(7), **options)
    source = rng(7)
    parts = [drawn_weights.sample_weights(n, 3, source, **options) for n in (1, 60, 39)]
    np.testing.assert_array_equal(np.concatenate(parts), whole)
    assert (whole != drawn_weights.sample_weights(100, 3, rng(8), **options)).any()


@pytest.mark.parametrize(
    "options, words",
    [
        ({"around": [1, -1], "concentration": 5}, "-1.0"),
        ({"around": [0, 0], "concentration": 5}, "sum to 0"),
        ({"around": [1, 1, 1], "concentration": 5}, "shape"),
        ({"around": [1, 1], "concentration": 0}, "0"),
        ({"around": [1, 1], "concentration": NAN}, "nan"),
        ({"around": [1, 1], "concentration": INF}, "inf"),
        ({"around": [1, 1]}, "concentration is None"),
        ({"concentration": 5}, "needs weights"),
        ({"order": [1, 2, 3]}, "shape"),
        ({"order": [1, NAN]}, "nan"),
        ({"order": [1, 2], "around": [1, 1], "concentration": 5}, "both"),
    ],
)
def test_faults_in_what_is_known_of_weights(options, words):
    """What cannot be sampled from is a sentence that says why."""
    with pytest.raises(ScoringError, match=words):
        drawn_weights.sample_weights(3, 2, rng(), **options)


@pytest.mark.parametrize("uniform", [[[0.5, 1.5]], [[NAN, 0.5]], [0.5, 0.5], [[]]])
def test_faults_in_uniform_numbers(uniform):
    """Uniform numbers lie within 0–1, in a table of draws and criteria."""
    with pytest.raises(ScoringError, match="uniform number"):
        drawn_weights.weights_from_uniform(uniform)
