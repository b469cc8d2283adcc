"""The leader's luck: Smith & Winkler's (2006) expected disappointment, when told."""

from dataclasses import replace

import numpy as np
import pytest

from scoring.questions.firmness import alternatives, how_firm, luck_of_the_leader
from scoring.words.figures import GROUP
from scoring.words.firmness import luck_in_words
from tests.cases import demo


def results(evaluation, means, sd, common=0.0):
    """Return years of many draws: errors of each machine's own, and one of all."""
    rng, n = np.random.default_rng(1), len(evaluation.names)
    found = np.full((4_000, n), -1e6)
    own = rng.normal(means, sd, (4_000, len(means)))
    found[:, list(alternatives(evaluation))] = own
    return found + rng.normal(0, common, (4_000, 1)) if common else found


def by_hand(means, sd, leader):
    """Return the leader's shortfall by Efron & Morris, all errors alike.

    Taking out what is common leaves (k − 1)/k of each own variance.
    """
    k, means = len(means), np.array(means)
    variance = sd**2 * (k - 1) / k
    shrink = (k - 3) * variance / ((means - means.mean()) ** 2).sum()
    return shrink * (means[leader] - means.mean())


def test_the_leader_is_expected_to_fall_towards_the_mean():
    """Five machines whose errors are as large as their distances: by hand."""
    evaluation = demo("new-entrant")
    chosen = list(alternatives(evaluation))
    leader, means = chosen.index(evaluation.order[0]), [8_000.0] * len(chosen)
    means[leader], means[leader - 1] = 14_000.0, 4_000.0
    found = luck_of_the_leader(evaluation, results(evaluation, means, 2_500.0))
    assert found == pytest.approx(by_hand(means, 2_500.0, leader), rel=0.06)
    shared = results(evaluation, means, 2_500.0, common=9_000.0)
    assert luck_of_the_leader(evaluation, shared) == pytest.approx(found, rel=0.06)


def test_luck_is_told_from_5_per_cent_on():
    """A sentence with money and share above 5 % of the leader's year, else none."""
    firm = how_firm(demo("new-entrant"), 200, 1)
    leader = firm.evaluation.order[0]
    year = firm.mean_result[leader]
    assert luck_in_words(replace(firm, luck=0.04 * year)) == ""
    said = luck_in_words(replace(firm, luck=0.1 * year)).replace(GROUP, " ")
    assert f"expect {firm.evaluation.names[leader]} to leave" in said
    assert "10 % of it (Smith & Winkler 2006)" in said
