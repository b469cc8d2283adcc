"""What never changes a ranking: order, units, losers; many draws in one call."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision.scale import default_scale
from tests.decision.tables import few, matrices, scored

NAN = float("nan")


def closeness(table):
    return ranking.topsis(*table).closeness


@few
@given(matrices(), st.randoms())
def test_the_order_of_alternatives_and_criteria_does_not_matter(table, random):
    """Permuting alternatives permutes the answer; permuting criteria does nothing."""
    matrix, weights, is_benefit = table
    rows = random.sample(range(matrix.shape[0]), matrix.shape[0])
    columns = random.sample(range(matrix.shape[1]), matrix.shape[1])
    moved = (matrix[rows][:, columns], weights[columns], is_benefit[columns])
    np.testing.assert_allclose(closeness(moved), closeness(table)[rows], atol=1e-9)
    front = ranking.pareto_front(matrix, is_benefit)
    assert ranking.pareto_front(moved[0], moved[2]).tolist() == front[rows].tolist()
    sums = ranking.weighted_sum(matrix, weights)
    np.testing.assert_allclose(
        ranking.weighted_sum(moved[0], moved[1]), sums[rows], atol=1e-12
    )
    # whole numbers as scores, so that ties are ties in any order
    scores = matrix[:, 0]
    assert ranking.ranks(scores[rows]).tolist() == ranking.ranks(scores)[rows].tolist()


@few
@given(matrices(), st.floats(1e-6, 1e6))
def test_the_unit_of_a_column_does_not_matter(table, factor):
    """Multiplying a column by a positive constant leaves closeness as it was."""
    matrix, weights, is_benefit = table
    scaled = matrix.copy()
    scaled[:, 0] *= factor
    np.testing.assert_allclose(
        closeness((scaled, weights, is_benefit)), closeness(table), atol=1e-9
    )


@few
@given(matrices(), st.floats(0.01, 100))
def test_the_unit_of_weights_does_not_matter(table, factor):
    """Weights times a positive constant leave closeness as it was."""
    matrix, weights, is_benefit = table
    np.testing.assert_allclose(
        closeness((matrix, weights * factor, is_benefit)), closeness(table), atol=1e-9
    )


@few
@given(matrices())
def test_closeness_lies_between_zero_and_one(table):
    """Closeness is a share of the two distances, which are 0 or more."""
    found = ranking.topsis(*table)
    assert (found.closeness >= 0).all() and (found.closeness <= 1).all()
    assert (found.to_ideal >= 0).all() and (found.to_anti_ideal >= 0).all()


@few
@given(scored(), st.data())
def test_improving_never_lowers_the_weighted_sum(table, data):
    """A better score on one criterion never lowers the sum, nor moves another's."""
    scores, weights = table
    i = data.draw(st.integers(0, scores.shape[0] - 1))
    j = data.draw(st.integers(0, scores.shape[1] - 1))
    better = scores.copy()
    better[i, j] += data.draw(st.floats(0, 1))
    before = ranking.weighted_sum(scores, weights)
    after = ranking.weighted_sum(better, weights)
    assert after[i] >= before[i]
    assert np.delete(after, i).tolist() == np.delete(before, i).tolist()


@few
@given(scored(), st.data())
def test_the_dominated_never_outranks_its_dominator(table, data):
    """By weighted sum, and by TOPSIS on 0–1 scores, the dominator is never behind."""
    scores, weights = table
    losses = data.draw(
        st.lists(st.integers(0, 30), min_size=weights.size, max_size=weights.size)
    )
    scores = np.vstack([scores, np.maximum(scores[0] - np.array(losses) / 100, 0)])
    by_sum = ranking.ranks(ranking.weighted_sum(scores, weights))
    is_benefit = np.ones(weights.size, bool)
    by_topsis = ranking.ranks(closeness((scores, weights, is_benefit)))
    assert by_sum[0] <= by_sum[-1]
    assert by_topsis[0] <= by_topsis[-1]


@few
@given(matrices(), st.data())
def test_without_a_loser_the_rest_keep_their_order(table, data):
    """On a frozen scale, removing any but the first reorders none of the others."""
    raw, weights, is_benefit = table
    scale = default_scale(raw, is_benefit)
    whole = ranking.ranks(ranking.weighted_sum(scales.scores(raw, scale), weights))
    assume((whole > 1).any())
    loser = data.draw(st.sampled_from(np.flatnonzero(whole > 1).tolist()))
    rest = np.delete(raw, loser, axis=0)
    found = ranking.ranks(ranking.weighted_sum(scales.scores(rest, scale), weights))
    before = np.delete(whole, loser)
    assert (np.sign(found[:, None] - found) == np.sign(before[:, None] - before)).all()


@pytest.fixture
def draws():
    rng = np.random.default_rng(3)
    matrix = rng.integers(1, 9, (6, 5, 3)).astype(float)
    return matrix, rng.dirichlet(np.ones(3), 6), np.array([True, False, True])


def test_many_draws_in_one_call(draws):
    """Draws stacked on the first axis give what one call a draw gives."""
    matrix, weights, is_benefit = draws
    many = ranking.topsis(matrix, weights, is_benefit)
    for k in range(6):
        one = ranking.topsis(matrix[k], weights[k], is_benefit)
        for mine, theirs in zip(many, one, strict=True):
            np.testing.assert_allclose(mine[k], theirs, rtol=1e-12)
    sums = ranking.weighted_sum(matrix, weights)
    one_each = [
        ranking.weighted_sum(m, w) for m, w in zip(matrix, weights, strict=True)
    ]
    np.testing.assert_allclose(sums, one_each, rtol=1e-12)
    assert ranking.ranks(sums).tolist() == [ranking.ranks(s).tolist() for s in sums]
    front = ranking.pareto_front(matrix, is_benefit)
    assert front.tolist() == [
        ranking.pareto_front(m, is_benefit).tolist() for m in matrix
    ]


def test_drawn_weights_meet_one_matrix(draws):
    """Six draws of weights on one matrix broadcast to six answers."""
    matrix, weights, is_benefit = draws
    assert ranking.weighted_sum(matrix[0], weights).shape == (6, 5)
    many = ranking.topsis(matrix[0], weights, is_benefit).closeness
    one = ranking.topsis(matrix[0], weights[4], is_benefit).closeness
    np.testing.assert_allclose(many[4], one, rtol=1e-12)


def test_those_left_out_do_not_matter(draws):
    """Per draw, `among` gives what the methods give on those left alone.

    Whatever the others hold, even no number at all; they get NaN, rank 0 and False.
    """
    matrix, weights, is_benefit = draws
    among = np.random.default_rng(4).random((6, 5)) < 0.6
    among[0] = False
    matrix = np.where(among[..., None], matrix, np.nan)
    with np.errstate(all="raise"):
        many = ranking.topsis(matrix, weights, is_benefit, among=among)
        front = ranking.pareto_front(matrix, is_benefit, among=among)
        places = ranking.ranks(many.closeness, among=among)
    for k, left in enumerate(among):
        one = ranking.topsis(matrix[k, left], weights[k], is_benefit)
        for mine, theirs in zip(many, one, strict=True):
            np.testing.assert_allclose(mine[k, left], theirs, rtol=1e-12)
            assert np.isnan(mine[k, ~left]).all()
        alone = ranking.pareto_front(matrix[k, left], is_benefit)
        assert front[k, left].tolist() == alone.tolist()
        assert not front[k, ~left].any()
        assert places[k, left].tolist() == ranking.ranks(one.closeness).tolist()
        assert not places[k, ~left].any()


def test_the_best_left_out_beats_nobody():
    """Below 0 as above it, an alternative left out costs the others no place."""
    among = [False, True, True]
    for scores in ([5.0, -3.0, -9.0], [9.0, 5.0, 3.0], [NAN, -3.0, -9.0]):
        assert ranking.ranks(scores, among=among).tolist() == [0, 1, 2]
        front = ranking.pareto_front(np.array(scores)[:, None], [True], among=among)
        assert front.tolist() == [False, True, False]
        found = ranking.topsis(np.array(scores)[:, None], [1.0], [True], among=among)
        assert found.closeness[1:].tolist() == [1, 0]


def test_screening_by_draw_meets_one_matrix(draws):
    """`among` may have draws where the matrix has none."""
    matrix, weights, is_benefit = draws
    among = np.ones((6, 5), bool)
    among[2, 0] = False
    found = ranking.topsis(matrix[0], weights[0], is_benefit, among=among).closeness
    assert np.argwhere(np.isnan(found)).tolist() == [[2, 0]]
    assert ranking.ranks(matrix[0, :, 0], among=among).shape == (6, 5)
    assert ranking.pareto_front(matrix[0], is_benefit, among=among).shape == (6, 5)


def test_arguments_are_left_alone(draws):
    """Nothing changes what it is given."""
    matrix, weights, is_benefit = draws
    among = np.ones((6, 5), bool)
    for given_array in (matrix, weights, is_benefit, among):
        given_array.setflags(write=False)
    found = ranking.topsis(matrix, weights, is_benefit, among=among)
    ranking.ranks(found.closeness, among=among)
    ranking.pareto_front(matrix, is_benefit, among=among)
    ranking.weighted_sum(matrix, weights)
    assert among.all()
