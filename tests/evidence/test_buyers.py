"""Drawing many buyers: strata, correlations and streams, against scipy and by hand."""

import numpy as np
import pytest
from scipy import stats

from scoring.errors import ScoringError
from scoring.evidence.buyers import hypercube, put_together, sampled
from scoring.inputs.template_files import load_template
from tests.population.small import BUYERS, template_text


def crowd(buyers=BUYERS):
    return load_template(("many.yaml", template_text(buyers).encode()))


def test_each_nth_of_a_range_has_one_buyer():
    """A Latin hypercube: McKay, Beckman & Conover (1979)."""
    numbers = hypercube(["a", "b"], 500, 3)
    for column in numbers.T:
        assert sorted(np.floor(column * 500).tolist()) == list(range(500))
    assert abs(stats.spearmanr(numbers).statistic) < 0.1


def test_one_difference_more_changes_no_other():
    """Each column is a stream of its own name."""
    both = hypercube(["a", "b"], 50, 3)
    assert np.array_equal(hypercube(["b"], 50, 3)[:, 0], both[:, 1])


def test_correlations_of_ranks_are_those_asked_for():
    """By scipy's Spearman; the figures of each column stay what they are."""
    wanted = np.array([[1, 0.6, -0.3], [0.6, 1, 0.0], [-0.3, 0.0, 1]])
    numbers = hypercube(["a", "b", "c"], 2_000, 1)
    found = put_together(numbers, wanted)
    assert stats.spearmanr(found).statistic == pytest.approx(wanted, abs=0.01)
    assert np.array_equal(np.sort(found, axis=0), np.sort(numbers, axis=0))


def test_contradicting_correlations_are_said():
    """A with B and with C, yet B against C: no figures can."""
    wanted = np.array([[1, 0.9, 0.9], [0.9, 1, -0.9], [0.9, -0.9, 1]])
    with pytest.raises(ScoringError, match="contradict each other; smaller ones"):
        put_together(hypercube(["a", "b", "c"], 100, 1), wanted, "many.yaml")


def test_a_sample_follows_its_template():
    """Ranges by Beta-PERT or evenly, choices by their shares, kinds side by side."""
    sample = sampled(crowd(), 1_000, 1)
    cash, _, lifting, crew = sample.values.T
    assert np.mean(crew == 0) == pytest.approx(0.6, abs=0.001)
    assert (np.diff(sample.kind) >= 0).all()
    assert stats.kstest(lifting, stats.uniform(10, 30).cdf).statistic < 0.002
    alpha = 1 + 4 * (20 - 9) / (60 - 9)
    pert = stats.beta(alpha, 6 - alpha, loc=9_000, scale=51_000)
    assert stats.kstest(cash, pert.cdf).statistic < 0.002


def test_too_few_buyers_are_said():
    """Fewer than a map needs."""
    with pytest.raises(ScoringError, match="buyers: 3 is out of range; 20 to 1000000"):
        sampled(crowd(), 3, 1)
