"""Agreement of several rankings against published tables and closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import friedmanchisquare

from scoring.decision.group import (
    borda,
    concordance,
    geometric_mean,
    kendall_w,
    pooled,
)
from scoring.errors import ScoringError
from tests.decision.published import published

TABLES = (
    "kendall_w_kendall_gibbons_table61_no_ties",
    "kendall_w_kendall_gibbons_ties",
    "kendall_w_kendall_smith_1939_no_ties",
)


@pytest.mark.parametrize("name", TABLES)
def test_concordance_as_published(name):
    """W of three printed tables, one with ties, comes out to the digits printed.

    Kendall & Gibbons (1990), tables 6.1 and 6.2; Kendall & Babington Smith (1939),
    p. 276: all read in transcriptions.
    """
    table = published(name)
    found = kendall_w(table["inputs"]["ratings_rows_are_raters"])
    printed = table["published"]
    assert found == pytest.approx(
        printed["values"]["W"], abs=printed["tolerance_abs"]["W"]
    )


def test_borda_points_as_published():
    """150 voters on three candidates get the printed points.

    A worked example on the web, read in a transcription.
    """
    table = published("borda_three_candidates")
    ballots = [
        [1 + vote["order"].index(candidate) for candidate in "LFC"]
        for vote in table["inputs"]["profile"]
        for _ in range(vote["voters"])
    ]
    points = table["published"]["values"]
    assert borda(ballots).tolist() == [points[name] for name in "LFC"]


RATINGS = arrays(
    float,
    st.tuples(st.integers(3, 6), st.integers(3, 6)),
    elements=st.integers(0, 4).map(float),
)


@given(RATINGS)
def test_concordance_is_friedmans_statistic(ratings):
    """W is Friedman's χ² over raters × (alternatives − 1), by scipy, ties and all."""
    if (ratings == ratings[:, :1]).all():
        with pytest.raises(ScoringError, match="every rater ties all"):
            kendall_w(ratings)
        return
    n_raters, n = ratings.shape
    with np.errstate(invalid="ignore", divide="ignore"):
        chi2 = friedmanchisquare(*ratings.T).statistic
    assert kendall_w(ratings) == pytest.approx(chi2 / (n_raters * (n - 1)))


@given(RATINGS)
def test_each_rater_gives_the_same_points(ratings):
    """Points of n alternatives sum to n (n + 1)/2 a rater; order alone counts."""
    n_raters, n = ratings.shape
    assert borda(ratings).sum() == pytest.approx(n_raters * n * (n + 1) / 2)
    assert borda(3 * ratings + 7).tolist() == borda(ratings).tolist()


@pytest.mark.parametrize("ranks", [[1, 2], [[]], [[1.0, np.nan], [1.0, 2.0]], [[1, 2]]])
def test_what_has_no_concordance_is_refused(ranks):
    """Another shape, a rank that is no number, or a lone rater gets a sentence."""
    with pytest.raises(ScoringError, match="rank"):
        kendall_w(ranks)


def test_chance_of_concordance_as_published():
    """χ² and p of the table with ties: 3 raters · 9 · W; p by scipy's Friedman test.

    Kendall & Gibbons (1990), table 6.2; the p-value computed with scipy in the file.
    """
    table = published("kendall_w_kendall_gibbons_ties")
    ratings, full = table["inputs"]["ratings_rows_are_raters"], table["full_precision"]
    found = concordance(ratings)
    assert found.chi2 == pytest.approx(full["chi2"], abs=full["tolerance_abs"])
    assert found.freedom == full["df"]
    assert found.p == pytest.approx(full["p"], abs=full["tolerance_abs"])
    by_scipy = friedmanchisquare(*np.transpose(ratings))
    assert found.p == pytest.approx(by_scipy.pvalue)


def test_geometric_mean_keeps_ratios():
    """Judgements 2, 3, 4 of one ratio have the mean 24^(1/3), as printed.

    Forman & Peniwati (1998) as in the file: weights in the ratio r : 1.
    """
    table = published("group_aij_aip_geometric_identity")
    printed = table["published"]["values"]["gm_2_3_4"]
    first, second = geometric_mean([[2, 1], [3, 1], [4, 1]])
    assert first / second == pytest.approx(printed, abs=1e-9)


def test_geometric_mean_of_priorities_as_computed():
    """Three people's row-geometric-mean weights pool to the file's priorities."""
    full = published("group_aij_aip_geometric_identity")["full_precision"]
    pool = geometric_mean(full["individual_gm_weights"])
    assert pool == pytest.approx(full["AIP_geometric"], abs=full["tolerance_abs"])


def test_what_one_calls_nothing_counts_nothing():
    """A zero of one person is a zero of the group; with no common ground, a sentence.

    √(0.5 · 0.5) : √(0.5 · 0.25) = 1 : 0.7071 by hand.
    """
    pool = geometric_mean([[1, 1, 0], [2, 1, 1]])
    assert pool[2] == 0
    assert pool[1] / pool[0] == pytest.approx(np.sqrt(0.5))
    with pytest.raises(ScoringError, match="no criterion is weighed by all"):
        geometric_mean([[1, 0], [0, 1]])


def test_pool_of_two_that_agree_and_of_two_that_do_not():
    """Alike: no disagreement. Far apart and sure: all of the variance is disagreement.

    By hand: 10..10..10 and 20..20..20 have mean 15, deviation 5, nothing of their own.
    """
    alike = pooled([1, 1], [2, 2], [4, 4])
    assert (alike.low, alike.likely, alike.high) == (1, 2, 4)
    assert (alike.apart, alike.between, alike.share_no_overlap) == (0, 0, 0)
    sure = pooled([10, 20], [10, 20], [10, 20])
    assert (sure.low, sure.likely, sure.high, sure.apart) == (10, 15, 20, 5)
    assert (sure.between, sure.share_no_overlap) == (1, 1)


def test_pool_keeps_disagreement_visible():
    """The share of disagreement is that of draws from the pool, by numpy's beta.

    Law of total variance: var of means / var of all.
    """
    ends = np.array([[2.0, 4.0, 5.0], [3.0, 4.5, 9.0], [8.0, 12.0, 30.0]])
    rng = np.random.default_rng(5)
    draws = []
    for low, likely, high in ends:
        span = high - low
        a, b = 1 + 4 * (likely - low) / span, 1 + 4 * (high - likely) / span
        draws.append(low + span * rng.beta(a, b, 200_000))
    draws = np.array(draws)
    found = pooled(*ends.T)
    expected = draws.mean(axis=1).var() / draws.var()
    assert found.between == pytest.approx(expected, abs=0.01)
    assert found.share_no_overlap == pytest.approx(1 / 3)  # only 1st and 3rd


@pytest.mark.parametrize(
    "ends, said",
    [
        (([], [], []), "one of each from each person"),
        (([1], [1, 2], [3]), "one of each from each person"),
        (([2], [1], [3]), "out of order"),
        (([1], [np.inf], [3]), "finite"),
    ],
)
def test_estimates_that_cannot_be_pooled(ends, said):
    """Too few, out of order or not finite gets a sentence."""
    with pytest.raises(ScoringError, match=said):
        pooled(*ends)
