"""Sobol shares against Ishigami's closed form and models worked by hand."""

import numpy as np
import pytest

from scoring.decision.shares import chosen, first_order
from scoring.errors import ScoringError

N = 40_000


def uniform(low, high):
    return lambda n, rng: rng.uniform(low, high, n)


def test_ishigamis_function():
    """First-order shares of Ishigami's function, a = 7, b = 0.1, from its closed form.

    Ishigami & Homma (1990); V1 = (1 + bπ⁴/5)²/2, V2 = a²/8, V3 = 0,
    V = a²/8 + bπ⁴/5 + b²π⁸/18 + 1/2.
    """
    a, b = 7, 0.1
    whole = a**2 / 8 + b * np.pi**4 / 5 + b**2 * np.pi**8 / 18 + 0.5
    expected = np.array([(1 + b * np.pi**4 / 5) ** 2 / 2, a**2 / 8, 0]) / whole

    def ishigami(x):
        return np.sin(x[0]) + a * np.sin(x[1]) ** 2 + b * x[2] ** 4 * np.sin(x[0])

    causes = [uniform(-np.pi, np.pi)] * 3
    found = first_order(ishigami, N, causes, np.random.default_rng(1))
    assert found.first == pytest.approx(expected, abs=4 * found.error.max())
    assert found.error.max() < 0.02
    assert found.together == pytest.approx(1 - expected.sum(), abs=0.05)


def test_an_additive_model_by_hand():
    """y = 1·u + 2·v + 3·w of uniforms: shares 1, 4 and 9 of 14, nothing together."""

    def model(x):
        return x[0] + 2 * x[1] + 3 * x[2]

    found = first_order(model, N, [uniform(0, 1)] * 3, np.random.default_rng(2))
    assert found.first == pytest.approx(np.array([1, 4, 9]) / 14, abs=0.03)
    assert found.together < 0.05


def coin(n, rng):
    return rng.integers(0, 2, n)


def test_a_choice_that_one_cause_makes():
    """Who leads hangs on the first coin alone: its share is 1, the other's 0."""

    def leads(x):
        return chosen(x[0], 2)

    found = first_order(leads, N, [coin, coin], np.random.default_rng(3))
    assert found.first == pytest.approx([1, 0], abs=0.03)


def test_a_choice_that_only_both_make():
    """Who leads is the exclusive or of two coins: neither has a share by itself."""

    def leads(x):
        return chosen(x[0] ^ x[1], 2)

    found = first_order(leads, N, [coin, coin], np.random.default_rng(4))
    assert found.first == pytest.approx([0, 0], abs=0.03)
    assert found.together == pytest.approx(1, abs=0.05)


def test_a_choice_among_three_by_hand():
    """First coin: machine 0, or else the second coin chooses between 1 and 2.

    Probabilities ½, ¼, ¼: V = ¼ + 3/16 + 3/16 = 5/8. Given the first coin the expected
    columns are (1, 0, 0) or (0, ½, ½): V1 = ¼ + 1/16 + 1/16 = 3/8. Given the second,
    (½, ½, 0) or (½, 0, ½): V2 = 0 + 1/16 + 1/16 = 1/8. Shares 3/5 and 1/5.
    """

    def leads(x):
        return chosen(np.where(x[0] == 0, 0, 1 + x[1]), 3)

    found = first_order(leads, N, [coin, coin], np.random.default_rng(5))
    assert found.first == pytest.approx([0.6, 0.2], abs=0.03)
    assert found.together == pytest.approx(0.2, abs=0.05)


def test_a_result_that_never_varies():
    """Without any variance there is nothing to share out."""
    found = first_order(lambda x: 0 * x[0] + 1, 10, [coin], np.random.default_rng(6))
    assert (found.first.tolist(), found.together) == ([0.0], 0.0)


def test_too_few_draws_or_causes():
    """One draw or no cause gets a sentence, and so does a result that is no number."""
    rng = np.random.default_rng(7)
    with pytest.raises(ScoringError, match="2 draws and 1 cause"):
        first_order(lambda x: x[0], 1, [coin], rng)
    with pytest.raises(ScoringError, match="2 draws and 1 cause"):
        first_order(lambda x: x[0], 10, [], rng)
    with pytest.raises(ScoringError, match="finite"):
        first_order(lambda x: x[0] * np.nan, 10, [coin], rng)
