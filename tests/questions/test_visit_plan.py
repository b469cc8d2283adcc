"""The plan for a visit: worth against closed forms, and the sheet's own tests."""

import numpy as np
import pytest
from scipy.stats import norm

from scoring.inputs.visit_tests import trials
from scoring.questions.visit import planned_visit, worth_of_results
from scoring.report.visit_tests import SETTLES, TESTS
from tests import cases


@pytest.mark.parametrize("mean", (0.0, 0.5))
@pytest.mark.parametrize("noise", (0.3, 1.0))
def test_worth_is_the_unit_normal_loss(mean, noise):
    """Two actions, normal benefit: s·L(|mean|/s), s² the variance that a test explains.

    Source: Raiffa & Schlaifer (1961), Applied Statistical Decision Theory.
    """
    rng = np.random.default_rng(5)
    n = 200_000
    x = rng.standard_normal(n)
    seen = x + noise * rng.standard_normal(n)
    benefit = np.stack([mean + x, np.zeros(n)], axis=1)
    s = 1 / np.sqrt(1 + noise**2)
    u = mean / s
    expected = s * (norm.pdf(u) - u * norm.sf(u))
    assert worth_of_results(benefit, [seen[:, None]]) == pytest.approx(
        expected, abs=0.01
    )


def test_results_of_chance_are_worth_nothing():
    """Results that have nothing to do with the benefit are worth next to nothing."""
    rng = np.random.default_rng(6)
    benefit = np.stack([rng.standard_normal(4_000) + 0.3, np.zeros(4_000)], axis=1)
    found = worth_of_results(benefit, [rng.standard_normal((4_000, 12))])
    assert found < 0.01


def test_the_file_tells_of_tests_of_the_sheet():
    """Each trial is a test of the printed sheet that settles some figure."""
    titles = {test.title for test in TESTS if test.settles}
    assert {trial.title for trial in trials()} <= titles
    assert all(t.minutes > 0 and t.cost >= 0 and t.repeats > 0 for t in trials())


def test_a_plan_of_the_demo_fits_its_minutes():
    """The plan keeps to its minutes, and more of them are never worth less by much."""
    evaluation = cases.demo("workshop")
    short, long = (
        planned_visit(evaluation, "Corrandale Frame", SETTLES, minutes, 0.0, n=1_000)
        for minutes in (30, 120)
    )
    for found in (short, long):
        took = sum(found.tests[n].minutes for n in found.plan.tests)
        assert took <= found.minutes
    assert long.plan.worth - long.plan.cost >= 0.9 * (
        short.plan.worth - short.plan.cost
    )
