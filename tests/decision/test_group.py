"""Agreement of several rankings against published tables and closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.stats import friedmanchisquare

from scoring.decision.group import borda, kendall_w
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
