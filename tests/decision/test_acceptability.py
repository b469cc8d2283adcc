"""Ranks counted at speed are those of the definition, ties and all."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import rankdata

from scoring.decision.acceptability import (
    counts_of_weights,
    order_counts,
    rank_counts,
)
from scoring.decision.ranking import TIE
from scoring.errors import ScoringError

NEAR = 0.9 * TIE  # tied with its neighbour, not with the one after
SCORES = st.one_of(
    st.sampled_from([0.0, -0.0, 0.5, 1.0, math.nan, 1e300, -1e300, 5e-324, 1e7]),
    st.integers(0, 4).map(lambda n: 0.3 + n * NEAR),
    st.integers(0, 4).map(lambda n: 7.0 + n * 1.1 * TIE),
    st.sampled_from([0.2 + TIE, 0.2, 0.2 - TIE, 7e4, 7e4 + 2e-9, 7e4 - TIE]),
    st.floats(-2, 2),
)
TABLES = arrays(float, st.tuples(st.integers(1, 6), st.integers(1, 7)), elements=SCORES)


def by_definition(scores):
    """Return the counts by the definition, draw by draw, in plain Python."""
    n = scores.shape[1]
    counts = np.zeros((n, n, n), int)
    for row in scores.tolist():
        among = [i for i in range(n) if not math.isnan(row[i])]
        among.sort(key=lambda i: -row[i])
        groups = []
        for i in among:  # a tie with a tie is a tie
            if groups and not row[groups[-1][-1]] > row[i] + TIE:
                groups[-1].append(i)
            else:
                groups.append([i])
        place = 0
        for group in groups:
            for i in group:
                counts[i, place, len(group) - 1] += 1
            place += len(group)
    return counts


@settings(max_examples=400)
@given(TABLES)
def test_counts_are_those_of_the_definition(scores):
    """Random, tied, chained, huge, tiny, NaN: each rank as counted one by one."""
    assert rank_counts(scores).tolist() == by_definition(scores).tolist()


@settings(max_examples=200)
@given(TABLES)
def test_order_is_that_of_the_definition(scores):
    """Who is before whom follows from the places counted one by one, draw by draw."""
    n = scores.shape[1]
    expected = np.zeros((n, n), int)
    for row in scores:
        place = [n] * n  # ruled out
        for i, first, _ in np.argwhere(by_definition(row[None])):
            place[i] = first
        expected += np.less.outer(place, place)
    assert order_counts(scores).tolist() == expected.tolist()


@pytest.mark.parametrize("share", [0, 0.02, 0.5, 1])
def test_many_draws_with_few_or_many_ties(share):
    """Over two chunks, few ties, many ties and all alike are counted as defined."""
    rng = np.random.default_rng(5)
    scores = rng.random((1500, 12))
    is_copy = rng.random(scores.shape) < share
    scores = np.where(is_copy, np.roll(scores, 1, axis=0)[:, :1], scores)
    scores[rng.random(scores.shape) < 0.05] = math.nan
    assert rank_counts(scores).tolist() == by_definition(scores).tolist()


@pytest.mark.parametrize("laid", [np.asfortranarray, lambda x: x[::-1, ::-1]])
def test_the_layout_in_memory_does_not_matter(laid):
    """Columns first or backwards, scores are counted as they read."""
    scores = laid(np.random.default_rng(6).integers(0, 9, (50, 5)) / 9)
    assert rank_counts(scores).tolist() == by_definition(scores).tolist()


@pytest.mark.parametrize("lowest", [-1.0, -2.0, -4.0, -1024.0])
def test_who_is_ruled_out_never_ties_with_the_last(lowest):
    """Right above a power of two, the edge of what a key holds, the last is alone."""
    scores = np.array([[math.nan, math.nextafter(lowest, 0), 0.0]])
    assert rank_counts(scores).tolist() == by_definition(scores).tolist()


@pytest.mark.parametrize("n", [1000, 1100])
def test_as_many_alternatives_as_a_key_has_room_for_and_more(n):
    """With an index of all spare bits, and of one too many, all are compared."""
    scores = np.random.default_rng(7).random((2, n))
    before = [np.greater.outer(row, row) for row in scores]
    assert (order_counts(scores) == np.sum(before, axis=0)).all()


def test_counts_of_many_draws_without_ties_are_scipys():
    """3,000 draws of 40: places are those of scipy.stats.rankdata."""
    scores = np.random.default_rng(2).normal(size=(3000, 40))
    places = rankdata(-scores, axis=1).astype(int) - 1
    expected = [np.bincount(column, minlength=40) for column in places.T]
    assert rank_counts(scores)[:, :, 0].tolist() == np.array(expected).tolist()
    assert rank_counts(scores)[:, :, 1:].sum() == 0


def test_scores_that_differ_in_the_last_bits_keep_their_order_or_tie():
    """Large scores whose difference the index would hide are still told apart."""
    scores = np.array([[4e6, 4e6 + 3e-9, 4e6 + 2e-8, 1.0]])
    assert scores[0, 1] > scores[0, 0] + TIE
    assert rank_counts(scores).tolist() == by_definition(scores).tolist()


def test_weights_and_scores_are_counted_together():
    """Chunk by chunk or as a whole, the counts of weighted sums are the same."""
    rng = np.random.default_rng(3)
    scores, weights = rng.random((9, 5)), rng.dirichlet(np.ones(5), size=5000)
    whole = rank_counts(weights @ scores.T)
    assert counts_of_weights(scores, weights).tolist() == whole.tolist()
    assert counts_of_weights(scores, 3 * weights).tolist() == whole.tolist()


@pytest.mark.parametrize("unit", [1e308, 1e-300, 5e-324])
def test_weights_of_any_size_count_by_their_shares(unit):
    """The one that is first in two draws of three is so in any unit of weight."""
    weights = unit * np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 1.0, 0.0]])
    counts = counts_of_weights([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0]], weights)
    assert counts[:, :, 0].tolist() == [[2, 1], [1, 2]]


@pytest.mark.parametrize(
    "weights, words",
    [
        ([[1.5, -0.5]], "each must be 0 or more"),
        ([[0.5, 0.5], [0.0, 0.0]], "the weights sum to 0"),
        ([[1.0, math.inf]], "inf"),
        ([[1.0]], "shape"),
        ([1.0, 0.0], "shape"),
    ],
)
def test_weights_that_cannot_be_used(weights, words):
    """Negative, all 0, endless or too few: a sentence says which."""
    with pytest.raises(ScoringError, match=words):
        counts_of_weights([[1.0, 0.0]], weights)


@pytest.mark.parametrize("count", [rank_counts, order_counts])
@pytest.mark.parametrize("row", [[1.0, math.inf], [-math.inf, math.nan]])
def test_an_infinite_score_is_refused(count, row):
    """An endless score, also beside one ruled out, gets a sentence."""
    with pytest.raises(ScoringError, match="a score is infinite"):
        count([row])
