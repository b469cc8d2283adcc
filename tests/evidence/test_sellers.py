"""Figures of one seller err together, each still within its own range."""

import numpy as np
import pytest
from scipy import stats

from scoring import evaluate
from scoring.evidence import draws
from scoring.evidence.sellers import leaning
from scoring.evidence.sheet_figures import is_high_better
from tests import cases

N_DRAWS = 20_000


def normal(n):
    return np.random.default_rng(n).standard_normal(N_DRAWS)


def uniform(n):
    return np.random.default_rng(n).random(N_DRAWS)


@pytest.mark.parametrize("correlation", [0.0, 0.3, 0.9, 1.0])
def test_each_figure_stays_uniform(correlation):
    """Kolmogorov and Smirnov's test, by scipy: whatever the correlation, still even."""
    for high in (True, False):
        found = leaning(uniform(1), normal(2), high, correlation)
        assert stats.kstest(found, "uniform").pvalue > 1e-4
        assert ((found >= 0) & (found < 1)).all()


def test_two_figures_of_one_seller_are_correlated_by_that_much():
    """Normal scores of two figures correlate by ρ; by −ρ where one is better high.

    The error of a correlation of n pairs is about (1 − ρ²)/√n (Fisher 1915, memory).
    """
    shared, rho = normal(3), 0.3
    one, two = (leaning(uniform(n), shared, False, rho) for n in (4, 5))
    better_high = leaning(uniform(6), shared, True, rho)
    scores = stats.norm.ppf([one, two, better_high])
    found = np.corrcoef(scores)
    error = (1 - rho**2) / np.sqrt(N_DRAWS)
    assert found[0, 1] == pytest.approx(rho, abs=4 * error)
    assert found[0, 2] == pytest.approx(-rho, abs=4 * error)


def drawn_of(brief, machines):
    evaluation = evaluate(brief, machines)
    of = evaluation.evidence, brief, 1, 0, N_DRAWS
    return evaluation.evidence, draws.figure_numbers(*of)


def test_what_a_seller_quotes_goes_wrong_together_and_nothing_else():
    """In the demo: quotes of one machine lean, its other figures and others' do not."""
    demo = cases.demo("workshop")
    evidence, numbers = drawn_of(demo.brief, demo.machines)
    quoted, other = {}, {}
    for key, figure in evidence.items():
        if figure.owner == "brief" or not draws.is_uncertain(figure):
            continue
        sign = -1 if is_high_better(figure.path) else 1
        group = quoted if figure.basis == "quoted" else other
        scores = sign * stats.norm.ppf(numbers[draws.stream_of(*key)])
        group.setdefault(figure.owner, {})[draws.stream_of(*key)] = scores
    compared = 0
    for owner, own in quoted.items():
        together = np.corrcoef(list(own.values()))[np.triu_indices(len(own), 1)]
        assert together == pytest.approx(np.full(len(together), 0.3), abs=0.03)
        compared += len(together)
        strangers = [*other.get(owner, {}).values()]
        strangers += [
            s for name, of in quoted.items() if name != owner for s in of.values()
        ]
        first = next(iter(own.values()))
        apart = [np.corrcoef(first, scores)[0, 1] for scores in strangers]
        assert np.abs(apart).max(initial=0) < 0.04
    assert compared > 50


def test_trust_says_how_much():
    """`trust: {together: 0}` gives each figure the numbers of its own stream."""
    demo = cases.demo("workshop")
    trust = demo.brief.trust.model_copy(update={"together": 0.0})
    brief = demo.brief.model_copy(update={"trust": trust})
    _, numbers = drawn_of(brief, demo.machines)
    for name, found in numbers.items():
        assert found.tolist() == draws.uniforms(1, name, 0, N_DRAWS).tolist()
