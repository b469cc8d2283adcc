"""Stability intervals against brute force and by hand; where rivals draw level."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.decision import ranking, stability, weights
from scoring.errors import ScoringError
from tests.decision.tables import few, scored

NAN, INF = float("nan"), float("inf")
GRID = np.linspace(0, 1, 1001)
MARGIN = 1e-4  # grid points this near to an end are not asked: they are level there


def leads(scores, w):
    return ranking.ranks(ranking.weighted_sum(scores, w)) == 1


@few
@given(scored())
def test_stability_against_a_fine_grid(table):
    """Inside the interval the leaders are first at every grid point; outside, not.

    Weights moved by `rebalance`, sums and ranks taken anew at 1,001 values of each.
    """
    scores, w = table
    leaders, present = leads(scores, w), weights.normalise(w)
    for j, (low, high) in enumerate(stability.stability(scores, w)):
        assert 0 <= low <= present[j] <= high <= 1
        moved = weights.rebalance(w, j, GRID, np.zeros(w.size, bool))
        stay = leads(scores, moved)[:, leaders].all(axis=1)
        assert stay[(low + MARGIN < GRID) & (GRID < high - MARGIN)].all()
        assert not stay[(GRID < low - MARGIN) | (high + MARGIN < GRID)].any()


@few
@given(scored())
def test_the_leader_is_level_with_a_rival_at_each_end(table):
    """At an end that is not 0 or 1 another alternative has the leader's sum."""
    scores, w = table
    leader = ranking.weighted_sum(scores, w).argmax()
    for j, ends in enumerate(stability.stability(scores, w)):
        for end in ends[(ends > 0) & (ends < 1)]:
            moved = weights.rebalance(w, j, end, np.zeros(w.size, bool))
            sums = ranking.weighted_sum(scores, moved)
            assert np.delete(sums, leader).max() == pytest.approx(sums[leader])


def test_two_by_two_by_hand():
    """0.8 w + 0.4 (1 - w) ≥ 0.5 w + 0.6 (1 - w) where w ≥ 2/5; so 1 - w ≤ 3/5."""
    found = stability.stability([[0.8, 0.4], [0.5, 0.6]], [0.7, 0.3])
    np.testing.assert_allclose(found, [[2 / 5, 1], [0, 3 / 5]], atol=1e-12)


def test_both_ends_by_hand():
    """A compromise leads in the middle: 0.6 ≥ w and 0.6 ≥ 1 - w, so 0.4 to 0.6."""
    found = stability.stability([[1, 0], [0, 1], [0.6, 0.6]], [0.5, 0.5])
    np.testing.assert_allclose(found, [[0.4, 0.6], [0.4, 0.6]], atol=1e-12)


def test_others_keep_their_proportions_by_hand():
    """The others share what one leaves as they do now: 1/2, 3/8 and 1/8 at first.

    A = (1, 0, 0) leads B = (0, 1, 0). First weight w: the second has (1 - w)·3/4, so
    w ≥ 3/7. Second v: the first has (1 - v)·4/5, so v ≤ 4/9. Third: of any rest A has
    4/7 and B 3/7, level only where the rest is 0; so 0 to 1.
    """
    found = stability.stability([[1, 0, 0], [0, 1, 0]], [1 / 2, 3 / 8, 1 / 8])
    np.testing.assert_allclose(found, [[3 / 7, 1], [0, 4 / 9], [0, 1]], atol=1e-12)


def test_a_criterion_with_all_the_weight():
    """The others, all 0, share equally what it leaves.

    (1, 0, 0) against (0, 1, 0): w ≥ (1 - w)/2, so w ≥ 1/3. From weight 0 another may
    take v ≤ 1 - v, the first keeping the rest: v ≤ 1/2; the third may take all.
    """
    found = stability.stability([[1, 0, 0], [0, 1, 0]], [1, 0, 0])
    np.testing.assert_allclose(found, [[1 / 3, 1], [0, 1 / 2], [0, 1]], atol=1e-12)


def test_level_leaders_that_differ_have_no_room():
    """Level at 0.5 and different elsewhere: any move puts one of them first alone."""
    found = stability.stability([[1, 0], [0, 1], [0, 0]], [0.5, 0.5])
    np.testing.assert_allclose(found, [[0.5, 0.5], [0.5, 0.5]], atol=1e-12)


@pytest.mark.parametrize("seed", range(100))
def test_the_present_weight_is_always_within(seed):
    """Level leaders have no room but the present weight, to the last digit.

    Against a, the other is 0.37·w₂ higher on the first criterion and 0.37·w₁ lower on
    the second; so they are level, and stay so whatever the third one weighs.
    """
    rng = np.random.default_rng(seed)
    given_weights = rng.integers(1, 10, 3)
    present = weights.normalise(given_weights)
    one = rng.integers(0, 100, 3) / 100
    other = one + 0.37 * np.array([present[1], -present[0], 0])
    found = stability.stability([one, other], given_weights)
    assert (found[:, 0] <= present).all() and (present <= found[:, 1]).all()
    np.testing.assert_allclose(found[:2], present[:2, None] * [1, 1], atol=1e-9)
    assert found[2].tolist() == [0, 1]


def test_level_leaders_that_are_the_same_do_not_bind():
    """Twins, exact or but for rounding, keep the interval that one of them has."""
    alone = [[0.8, 0.4], [0.5, 0.6]]
    expected = stability.stability(alone, [0.7, 0.3])
    for twin in ([0.8, 0.4], [0.8 + 1e-13, 0.4 - 1e-13]):
        found = stability.stability([*alone, twin], [0.7, 0.3])
        np.testing.assert_allclose(found, expected, atol=1e-9)


def test_a_leader_best_in_everything_stays():
    """Who is nowhere worse stays first whatever the weights; so does one alone."""
    for scores in ([[0.9, 0.5], [0.9, 0.4], [0.1, 0.5]], [[0.3, 0.2]]):
        found = stability.stability(scores, [0.2, 0.8])
        assert found.tolist() == [[0, 1], [0, 1]]


def test_one_criterion_alone():
    """With one criterion there is nothing to give way to: 0 to 1."""
    assert stability.stability([[0.2], [0.9]], [1.0]).tolist() == [[0, 1]]


def test_who_is_ruled_out_is_ignored():
    """A row with NaN, however good the rest of it, changes nothing."""
    scores = [[0.8, 0.4], [0.5, 0.6]]
    found = stability.stability([*scores, [9.0, NAN]], [0.7, 0.3])
    expected = stability.stability(scores, [0.7, 0.3])
    np.testing.assert_array_equal(found, expected)


@few
@given(scored(), st.randoms(), st.floats(0.01, 100))
def test_order_and_units_do_not_matter(table, random, factor):
    """Permuted alternatives: the same; permuted criteria: permuted; weights' unit: no.

    To 1e-6: a crossing of two lines that are nearly one moves with their rounding.
    """
    scores, w = table
    rows = random.sample(range(len(scores)), len(scores))
    columns = random.sample(range(w.size), w.size)
    expected = stability.stability(scores, w)
    found = stability.stability(scores[rows][:, columns], w[columns] * factor)
    np.testing.assert_allclose(found, expected[columns], atol=1e-6)


@pytest.mark.parametrize(
    "scores, w, words",
    [
        ([[INF, 1.0]], [0.5, 0.5], "inf"),
        ([[NAN, 1.0]], [0.5, 0.5], "ruled out"),
        ([[1.0, 1.0]], [0.5, 0.3, 0.2], "shape"),
        ([1.0, 1.0], [0.5, 0.5], "shape"),
        ([[1.0, 1.0]], [0.5, -0.5], "-0.5"),
        ([[1.0, 1.0]], [0.0, 0.0], "sum to 0"),
    ],
)
def test_faults_in_scores_and_weights(scores, w, words):
    """What has no leader is a sentence that says why."""
    with pytest.raises(ScoringError, match=words):
        stability.stability(scores, w)


@few
@given(st.floats(-1e6, 1e6), st.floats(1, 1e6), st.floats(0.001, 0.999))
def test_draws_level_where_a_line_crosses(low, width, share):
    """A line that is 0 at a known value is found there, rising or falling."""
    high = low + width
    level = low + share * width
    for slope in (-3.0, 0.02):
        found = stability.draws_level(lambda x, s=slope: s * (x - level), low, high)
        assert found == pytest.approx(level, abs=1e-9 * width, rel=1e-12)


def test_draws_level_on_a_curve():
    """Of x³ = 2 the root is the cube root, and of e^-x = 1/2 it is ln 2."""
    cube = stability.draws_level(lambda x: x**3 - 2, 0, 5)
    assert cube == pytest.approx(2 ** (1 / 3), abs=1e-11)
    half = stability.draws_level(lambda x: np.exp(-x) - 0.5, 0, 5)
    assert half == pytest.approx(np.log(2), abs=1e-11)


def test_draws_level_at_an_end_and_across_a_jump():
    """An end that is level is the answer; a jump across 0 is found where it is."""
    assert stability.draws_level(lambda x: x - 2, 2, 5) == 2
    assert stability.draws_level(lambda x: x - 5, 2, 5) == 5
    jump = stability.draws_level(lambda x: 1.0 if x < 3.25 else -2.0, 0, 10)
    assert jump == pytest.approx(3.25, abs=1e-10)


@pytest.mark.parametrize("sign", [-1, 1])
def test_no_such_value(sign):
    """Where the difference keeps its sign there is no value, and no guess."""
    assert stability.draws_level(lambda x: sign * (x + 1), 0, 5) is None


@pytest.mark.parametrize(
    "difference, low, high",
    [
        (lambda x: x, 1, 1),
        (lambda x: x, 2, -1),
        (lambda x: x, NAN, 1),
        (lambda x: x, 0, INF),
        (lambda x: NAN, 0, 1),
        (lambda x: INF if x else -1.0, 0, 1),
    ],
)
def test_faults_in_a_bracket(difference, low, high):
    """A bracket that is none, or a difference that is no number, is a fault."""
    with pytest.raises(ScoringError):
        stability.draws_level(difference, low, high)
