"""The worth of tests, against closed forms and against nested Monte Carlo."""

import numpy as np
import pytest
from scipy.stats import norm

from scoring.decision.robustness import evsi
from scoring.decision.sample_information import Samples
from scoring.errors import ScoringError


def unit_normal_loss(u):
    """L(u) = φ(u) − u·(1 − Φ(u)): Raiffa & Schlaifer (1961); L(0) = 0.3989."""
    return norm.pdf(u) - u * norm.sf(u)


def explained(prior_sd, spread, repeats):
    """Return the standard deviation of the mean that a normal test leads to."""
    return prior_sd**2 / np.sqrt(prior_sd**2 + spread**2 / repeats)


@pytest.mark.parametrize("mean", (0.0, -40.0, 90.0))
@pytest.mark.parametrize(("spread", "repeats"), ((30.0, 1), (100.0, 1), (100.0, 9)))
def test_one_test_is_the_unit_normal_loss(mean, spread, repeats):
    """Two actions, normal benefit, n tries: s·L(|m|/s), s the spread of later means.

    Source: Raiffa & Schlaifer (1961), Applied Statistical Decision Theory; from memory.
    """
    rng = np.random.default_rng(5)
    benefit = rng.normal(mean, 100.0, 200_000)
    of_two = np.stack([benefit, np.zeros_like(benefit)], axis=1)
    value, error = evsi(of_two, benefit[:, None], spread, repeats, rng)
    s = explained(100.0, spread, repeats)
    expected = s * unit_normal_loss(abs(mean) / s)
    assert value == pytest.approx(expected, abs=max(4 * error, 0.02))
    assert 0 < error < 0.4


def test_a_bundle_is_the_unit_normal_loss_of_what_its_tests_explain():
    """The benefit is a sum of two parts, each with a test: their variances add up."""
    rng = np.random.default_rng(7)
    parts = rng.normal(0.0, [80.0, 60.0], (200_000, 2))
    of_two = np.stack([20.0 + parts.sum(axis=1), np.zeros(len(parts))], axis=1)
    value, error = evsi(of_two, parts, [40.0, 90.0], [1, 4], rng)
    s = np.hypot(explained(80.0, 40.0, 1), explained(60.0, 90.0, 4))
    assert value == pytest.approx(s * unit_normal_loss(20.0 / s), abs=4 * error)
    alone, _ = evsi(of_two, parts[:, :1], 40.0, 1, rng)
    assert alone < value


def nested(mean_of, prior, spread, n_outer, rng):
    """Return the worth of a test by simulating results, and beliefs for each of them.

    Nested Monte Carlo: for each simulated result the prior's draws are weighed by how
    likely they make it (Bayes), which gives each alternative's mean after the test.
    """
    shown = prior[:n_outer] + spread * rng.standard_normal(n_outer)
    benefit = mean_of(prior)
    best = np.empty(n_outer)
    for n, result in enumerate(shown):
        weights = np.exp(-0.5 * ((result - prior) / spread) ** 2)
        best[n] = (weights @ benefit / weights.sum()).max()
    return best.mean() - benefit.mean(axis=0).max(), best.std() / np.sqrt(n_outer)


def test_a_small_case_by_nested_monte_carlo():
    """Three machines, one speed that a test shows badly: as the nested simulation."""
    rng = np.random.default_rng(11)
    speed = rng.beta(2.0, 4.0, 20_000) * 3  # skew, as sellers' figures are

    def mean_of(x):
        return np.stack([900 * x - 800, 300 * x - 200, 0 * x], axis=1)

    by_nesting, off = nested(mean_of, speed, 0.5, 4_000, rng)
    noise = rng.normal(0.0, 120.0, (20_000, 3)) * [1, 1, 0]  # what no test shows
    value, error = evsi(mean_of(speed) + noise, speed[:, None], 1.0, 4, rng)
    assert value == pytest.approx(by_nesting, abs=3 * np.hypot(off, error))
    assert by_nesting > 10 * off  # a worth, and not chance


def test_results_of_chance_are_worth_nothing():
    """Results that have nothing to do with the benefit are worth next to nothing."""
    rng = np.random.default_rng(6)
    benefit = np.stack([rng.standard_normal(4_000) + 0.3, np.zeros(4_000)], axis=1)
    value, error = evsi(benefit, rng.standard_normal((4_000, 12)), 0.0, 1, rng)
    assert value <= max(3 * error, 0.01)


def test_more_tries_are_worth_more():
    """The same test with more tries is worth more, at most what knowing is worth."""
    rng = np.random.default_rng(8)
    benefit = rng.normal(10.0, 50.0, 40_000)
    of_two = np.stack([benefit, np.zeros_like(benefit)], axis=1)
    worth = [evsi(of_two, benefit[:, None], 100.0, n, rng)[0] for n in (1, 4, 25)]
    assert worth == sorted(worth)
    assert worth[-1] < 50 * unit_normal_loss(0.2)


def test_what_is_believed_after_a_test_has_the_mean_of_before():
    """Beliefs after a test average to that of before, and spread as the test tells."""
    rng = np.random.default_rng(9)
    benefit = rng.normal(30.0, 100.0, (50_000, 1))
    shown = benefit + rng.normal(0.0, 100.0, benefit.shape)
    believed = Samples(benefit, shown).believed([0])
    assert believed.mean() == pytest.approx(30.0, abs=2.0)
    assert believed.std() == pytest.approx(explained(100.0, 100.0, 1), rel=0.02)


@pytest.mark.parametrize(
    ("inputs", "spreads", "repeats", "said"),
    (
        (np.zeros(50), 1.0, 1, r"inputs of shape \(50,\)"),
        (np.zeros((49, 1)), 1.0, 1, "of the same draws"),
        (np.full((50, 1), np.nan), 1.0, 1, "results"),
        (np.zeros((50, 1)), -1.0, 1, "spreads: -1"),
        (np.zeros((50, 1)), 1.0, 0, "repeats: 0"),
    ),
)
def test_nonsense_is_refused(inputs, spreads, repeats, said):
    """What is no test of these draws is told in a sentence."""
    rng = np.random.default_rng(0)
    with pytest.raises(ScoringError, match=said):
        evsi(np.zeros((50, 2)), inputs, spreads, repeats, rng)


def test_too_few_draws_are_refused():
    """A worth of fewer than 40 draws would be chance."""
    with pytest.raises(ScoringError, match="at least 40"):
        Samples(np.zeros((39, 2)), np.zeros((39, 1)))
