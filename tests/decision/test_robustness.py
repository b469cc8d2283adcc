"""Shares over draws and sampled weights, from outside.

Monte Carlo results are held to four of their own standard errors, with fixed seeds.
"""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import norm

from scoring.decision import (
    acceptability,
    central_weights,
    drawn_weights,
    information,
    ranking,
)
from scoring.errors import ScoringError
from tests.decision.published import published
from tests.decision.tables import few

CLOSED = [
    "smaa_closed_2alts_2crit",
    "smaa_closed_2alts_3crit_subsimplex",
    "smaa_closed_2alts_k_crit_general",
    "smaa_closed_3alts_3crit_specialists",
    "smaa_closed_3alts_compromise",
]
NAN, INF = float("nan"), float("inf")


def rng(seed=1):
    return np.random.default_rng(seed)


@st.composite
def drawn_scores(draw):
    """Return scores (draw, alternative): few whole numbers, so many ties, and NaN."""
    n_draws, n = draw(st.integers(1, 8)), draw(st.integers(1, 6))
    some = st.one_of(st.integers(0, 3).map(float), st.just(NAN))
    return draw(arrays(float, (n_draws, n), elements=some))


def shares_by_hand(scores):
    """Return the rank acceptability by its definition, one cell at a time."""
    n = scores.shape[1]
    shares = [[Fraction(0)] * n for _ in range(n)]
    for row in scores:
        left = [i for i in range(n) if not np.isnan(row[i])]
        for i in left:
            better = sum(row[j] > row[i] for j in left)
            level = sum(row[j] == row[i] for j in left)
            for r in range(better, better + level):
                shares[i][r] += Fraction(1, int(level) * len(scores))
    return np.array(shares, float)


def fractions(table):
    return np.array([[float(Fraction(x)) for x in row] for row in table])


def sampled(utilities, n=40_000):
    """Return uniform weights and the additive values that they give."""
    utilities = np.array(utilities, float)
    drawn = drawn_weights.sample_weights(n, utilities.shape[1], rng())
    return drawn, drawn @ utilities.T


@pytest.mark.parametrize("name", CLOSED)
def test_rank_acceptability_in_closed_form(name):
    """Shares of ranks under uniform weights meet the volumes of their regions.

    Fractions derived in the file; method of Lahdelma & Salminen (2001),
    doi:10.1287/opre.49.3.444.11220.
    """
    case = published(name)
    exact = fractions(case["exact"]["rank_acceptability"])
    _, scores = sampled(case["inputs"]["utilities"])
    error = np.sqrt(exact * (1 - exact) / len(scores))
    assert (abs(acceptability.rank_acceptability(scores) - exact) <= 4 * error).all()


@pytest.mark.parametrize("which", range(3))
def test_first_shares_of_two_by_divided_differences(which):
    """With 5 or 6 criteria the share of first places is the partial fraction's.

    Σ over d > 0 of d^(k-1) / Π(d - other d), worked out in fractions.
    """
    case = published("smaa_closed_2alts_k_crit_general")["more_cases"][which]
    exact = float(Fraction(case["exact"]))
    _, scores = sampled([case["differences"], np.zeros(len(case["differences"]))])
    found = acceptability.rank_acceptability(scores)[0, 0]
    error = np.sqrt(exact * (1 - exact) / len(scores))
    assert found == pytest.approx(exact, abs=4 * error)


@pytest.mark.parametrize("name", [name for name in CLOSED if "_k_" not in name])
def test_central_weights_in_closed_form(name):
    """The mean of the weights that favour each is the centroid of its region."""
    case = published(name)
    exact = fractions(case["exact"]["central_weights"])
    drawn, scores = sampled(case["inputs"]["utilities"])
    found = central_weights.central_weights(drawn, scores)
    for i, centre in enumerate(found):
        favourable = drawn[scores.argmax(axis=1) == i]
        error = favourable.std(axis=0) / np.sqrt(len(favourable))
        assert (abs(centre - exact[i]) <= 4 * error).all()


def test_central_weights_of_a_tie_and_of_a_loser():
    """A shared first place counts half; who is never first has no central weights.

    Draws: 1 first; 1 and 2 level; all ruled out but 3, which is first. So 1 has
    (0.2 + 0.6/2) / 1.5 = 1/3, 2 has 0.6, 3 has 1, and 4 nothing.
    """
    drawn = np.array([[0.2, 0.8], [0.6, 0.4], [1.0, 0.0]])
    scores = [[3, 1, 2, 0], [3, 3, 2, 0], [NAN, NAN, 2, NAN]]
    found = central_weights.central_weights(drawn, scores)
    np.testing.assert_allclose(found[:3, 0], [1 / 3, 0.6, 1], atol=1e-12)
    np.testing.assert_allclose(found[:3].sum(axis=1), 1, atol=1e-12)
    assert np.isnan(found[3]).all()


@few
@given(drawn_scores(), st.integers(0, 99))
def test_central_weights_average_to_all_weights(scores, seed):
    """Weighed by first-rank acceptability, central weights sum to the mean weight."""
    scores = scores[~np.isnan(scores).all(axis=1)]
    if not len(scores):
        scores = np.zeros((1, 2))
    drawn = rng(seed).dirichlet(np.ones(3), len(scores))
    firsts = acceptability.rank_acceptability(scores)[:, 0]
    centres = np.nan_to_num(central_weights.central_weights(drawn, scores))
    np.testing.assert_allclose(firsts @ centres, drawn.mean(axis=0), atol=1e-12)


@few
@given(drawn_scores())
def test_acceptability_by_its_definition(scores):
    """Counting, draw by draw, who is better and who is level gives the same shares."""
    found = acceptability.rank_acceptability(scores)
    np.testing.assert_allclose(found, shares_by_hand(scores), atol=1e-12)
    ruled_out = np.isnan(scores).mean(axis=0)
    np.testing.assert_allclose(found.sum(axis=1), 1 - ruled_out, atol=1e-12)


def test_acceptability_of_many_draws_by_its_definition():
    """Over several chunks, with ties and draws ruled out, the shares are the same."""
    scores = rng().integers(0, 50, (5000, 6)) / 50
    scores[rng(2).random(scores.shape) < 0.1] = NAN
    found = acceptability.rank_acceptability(scores)
    np.testing.assert_allclose(found, shares_by_hand(scores), atol=1e-12)


def test_ties_are_those_of_ranks():
    """Within 1e-9 is a tie, and so is a chain; beyond, it is not."""
    chain = [0.5, 0.5 - 8e-10, 0.5 - 16e-10, 0.4]
    third = [1 / 3, 1 / 3, 1 / 3, 0]
    found = acceptability.rank_acceptability([chain])
    np.testing.assert_allclose(found, [third] * 3 + [[0, 0, 0, 1]], atol=1e-12)
    apart = acceptability.rank_acceptability([[0.5, 0.5 - 2e-9]])
    assert apart.tolist() == [[1, 0], [0, 1]]
    drawn = np.array([[0.25, 0.75]])
    centres = central_weights.central_weights(drawn, [chain])
    assert np.isnan(centres).all(axis=1).tolist() == [False, False, False, True]


@few
@given(drawn_scores(), st.randoms())
def test_the_order_of_alternatives_and_draws_does_not_matter(scores, random):
    """Permuting alternatives permutes the shares; permuting draws does nothing."""
    columns = random.sample(range(scores.shape[1]), scores.shape[1])
    rows = random.sample(range(len(scores)), len(scores))
    moved = scores[rows][:, columns]
    shares = acceptability.rank_acceptability(scores)[columns]
    np.testing.assert_array_equal(acceptability.rank_acceptability(moved), shares)
    order = acceptability.pairwise_order(scores)[np.ix_(columns, columns)]
    np.testing.assert_array_equal(acceptability.pairwise_order(moved), order)


@few
@given(drawn_scores())
def test_pairwise_order_by_its_definition(scores):
    """i is before j where it is higher, or j alone is ruled out; else half or not."""
    place = np.where(np.isnan(scores), -1.0, scores)
    mine, theirs = place[:, :, None], place[:, None, :]
    expected = ((mine > theirs) + 0.5 * (mine == theirs)).mean(axis=0)
    found = acceptability.pairwise_order(scores)
    np.testing.assert_allclose(found, expected, atol=1e-12)


@pytest.mark.parametrize("size", [1, 700, 2048, 5000, 6001])
def test_counts_of_chunks_add_up_exactly(size):
    """Counts are the same, to the last digit, on any number of chunks."""
    scores = rng().integers(0, 40, (6000, 5)) / 40
    scores[rng(2).random(scores.shape) < 0.1] = NAN
    if size == 1:
        scores = scores[:50]
    starts = range(0, len(scores), size)
    for counts in (acceptability.rank_counts, acceptability.order_counts):
        parts = sum(counts(scores[start : start + size]) for start in starts)
        np.testing.assert_array_equal(parts, counts(scores))


def test_counts_of_first_places_and_central_sums_add_up():
    """Confidence counts add up exactly; central sums, of fractions, to rounding."""
    scores = rng().integers(0, 4, (3, 100, 3)).astype(float)
    counts = central_weights.first_counts
    parts = counts(scores[:, :37]) + counts(scores[:, 37:])
    np.testing.assert_array_equal(parts, counts(scores))
    drawn = rng().dirichlet(np.ones(2), 100)
    sums = central_weights.central_sums
    both = information.added(
        sums(drawn[:37], scores[0, :37]), sums(drawn[37:], scores[0, 37:])
    )
    for part, whole in zip(both, sums(drawn, scores[0]), strict=True):
        np.testing.assert_allclose(part, whole, rtol=1e-12)


def test_confidence_of_normal_scores():
    """Two alternatives a lead of μ apart, noise of sd 1: first with Φ(μ), both ways.

    Under its own central weights each leads by μ; the difference of two independent
    normal scores of variance 1/2 has sd 1.
    """
    n_draws, lead = 40_000, 0.8
    noise = rng().normal(0, np.sqrt(0.5), (2, n_draws, 2))
    scores = noise + lead * np.eye(2)[:, None]
    error = np.sqrt(norm.cdf(lead) * norm.sf(lead) / n_draws)
    found = central_weights.confidence(scores)
    assert (abs(found - norm.cdf(lead)) <= 4 * error).all()


def test_confidence_by_hand():
    """A tie for first counts its share, a ruled-out draw 0, no central weights 0.

    1: first, level with 2, ruled out, third: (1 + 1/2) / 4. 2: always level with 3.
    3: its central weights do not exist.
    """
    scores = [
        [[3, 2, 1], [3, 3, 1], [NAN, 1, 2], [0, 1, 2]],
        [[0, 2, 2]] * 4,
        [[NAN] * 3] * 4,
    ]
    assert central_weights.confidence(scores).tolist() == [0.375, 0.5, 0]


def test_error_shrinks_with_the_root_of_the_draws():
    """16 times the draws leave a quarter of the error of a first-rank share.

    2/5 against 3/5 in closed form; the root mean square of 300 runs each, whose own
    error is 4 %, so that the ratio is 4 within 6 %; held to four times that.
    """
    utilities = np.array(published(CLOSED[0])["inputs"]["utilities"])

    def error(n_draws, seed):
        drawn = drawn_weights.sample_weights(300 * n_draws, 2, rng(seed))
        runs = (drawn @ utilities.T).reshape(300, n_draws, 2)
        shares = [acceptability.rank_acceptability(run)[0, 0] for run in runs]
        return np.sqrt(np.mean((np.array(shares) - 0.6) ** 2))

    assert error(50, 1) / error(800, 2) == pytest.approx(4, rel=0.24)


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: acceptability.rank_acceptability([[1.0, INF]]), "infinite"),
        (lambda: acceptability.rank_acceptability([1.0, 2.0]), "shape"),
        (lambda: acceptability.rank_acceptability(np.zeros((0, 2))), "0 draws"),
        (lambda: acceptability.pairwise_order(np.zeros((0, 2))), "0 draws"),
        (lambda: central_weights.confidence(np.zeros((2, 5, 3))), "shape"),
        (lambda: central_weights.confidence(np.zeros((2, 0, 2))), "0 draws"),
        (lambda: central_weights.central_weights([[1.0]], [[1.0], [2.0]]), "one row"),
        (lambda: central_weights.central_weights([[NAN]], [[1.0]]), "nan"),
    ],
)
def test_faults(call, words):
    """What cannot be counted is a sentence that says why."""
    with pytest.raises(ScoringError, match=words):
        call()


def test_arguments_stay_as_they_were():
    """Nothing is sorted or written in place."""
    scores = rng().random((50, 3))
    uniform = rng(2).random((50, 2))
    before = scores.copy(), uniform.copy()
    acceptability.rank_acceptability(scores)
    acceptability.pairwise_order(scores)
    drawn_weights.weights_from_uniform(uniform, order=[2, 1])
    np.testing.assert_array_equal(scores, before[0])
    np.testing.assert_array_equal(uniform, before[1])


@few
@given(arrays(float, (1, 5), elements=st.integers(0, 4)))
def test_one_draw_is_the_ranking(scores):
    """One draw without chance: the share of the best rank is that of `ranks`."""
    found = acceptability.rank_acceptability(scores)
    assert ((found > 0).argmax(axis=1) + 1).tolist() == ranking.ranks(
        scores[0]
    ).tolist()
