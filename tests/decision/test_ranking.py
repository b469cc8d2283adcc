"""Weighted sum, TOPSIS, Pareto front, ranks and τ against what others publish."""

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.decision import ranking
from scoring.decision import scale as scales
from tests.decision.published import published
from tests.decision.tables import few, matrices


def test_weighted_sum_of_office_values():
    """Goodwin & Wright's offices get the totals of their table 3.2.

    Goodwin & Wright (2004), ch. 3. Office A read in a transcription, the others from
    memory; the totals with exact weights computed with numpy.
    """
    case = published("additive_swing_goodwin_wright_office")
    inputs, tolerance = case["inputs"], case["published"]["tolerance_abs"]
    rounded = np.array(inputs["normalised_rounded_weights"]) / 100
    found = ranking.weighted_sum(inputs["values"], rounded)
    printed = case["published"]["values"] | case["published"]["recalled"]
    expected = [printed[name] for name in inputs["options"]]
    np.testing.assert_allclose(found, expected, rtol=0, atol=tolerance)
    exact = case["full_precision"]
    found = ranking.weighted_sum(inputs["values"], exact["swing_weights_exact"])
    np.testing.assert_allclose(found, exact["value_with_exact_weights"], atol=1e-9)


def test_weighted_sum_on_a_frozen_scale():
    """On fixed bounds the sum is 1 minus the distance of Dezert and others' example.

    Dezert, Tchamova, Han & Tacnet (2020), FUSION, example 1; read in a transcription.
    """
    case = published("additive_fixed_bounds_dezert_2020_ex1")
    inputs, printed = case["inputs"], case["published"]
    bounds, is_benefit = (
        np.array(inputs["bounds_min_max"]),
        np.array(inputs["types"]) > 0,
    )
    scale = np.where(is_benefit[:, None], bounds, bounds[:, ::-1])
    scores = scales.scores(inputs["matrix"], scale)
    found = ranking.weighted_sum(scores, inputs["weights"])
    distance = printed["values"]["distance"]
    np.testing.assert_allclose(1 - found, distance, atol=printed["tolerance_abs"])
    exact = case["full_precision"]
    np.testing.assert_allclose(found, exact["additive_value"], atol=1e-9)
    assert ranking.ranks(found).tolist() == exact["rank"]


def test_weighted_sum_of_ratios_to_the_best():
    """Ten machine tools get the sums and ranks that Chakraborty and others print.

    Chakraborty, Zavadskas & Antucheviciene (2015), Economic Computation and Economic
    Cybernetics Studies and Research 49(1), example 2; read in a transcription. Benefits
    as share of the largest, costs as the smallest divided by the figure.
    """
    case = published("wsm_maxnorm_chakraborty_2015_machines")
    inputs, printed = case["inputs"], case["published"]
    matrix = np.array(inputs["matrix"])
    is_benefit = np.array(inputs["types"]) > 0
    scores = np.where(
        is_benefit, matrix / matrix.max(axis=0), matrix.min(axis=0) / matrix
    )
    found = ranking.weighted_sum(scores, inputs["weights"])
    tolerance = printed["tolerance_abs"]
    np.testing.assert_allclose(
        found, printed["values"]["weighted_sum"], rtol=0, atol=tolerance
    )
    assert ranking.ranks(found).tolist() == printed["values"]["rank_printed"]
    exact = case["full_precision"]["weighted_sum"]
    np.testing.assert_allclose(found, exact, rtol=0, atol=1e-9)


def test_weighted_sum_with_an_exact_tie():
    """Two alternatives with 22.0 share rank 1 and the third is rank 3.

    Triantaphyllou (2000) as given in Wikipedia, “Weighted sum model”; read there.
    """
    case = published("wsm_raw_units_triantaphyllou")
    found = ranking.weighted_sum(case["inputs"]["matrix"], case["inputs"]["weights"])
    printed = case["published"]["values"]["score"]
    np.testing.assert_allclose(found, printed, rtol=0, atol=1e-9)
    assert ranking.ranks(found).tolist() == [3, 1, 1]


def test_pareto_front_of_hotels():
    """Of eight hotels by price and distance, three are dominated by none.

    Points as in paretoset's README (after Börzsönyi and others, 2001), read there; the
    mask computed with paretoset 1.2.5.
    """
    case = published("pareto_hotels")
    found = ranking.pareto_front(case["inputs"]["points"], [False, False])
    assert found.tolist() == case["full_precision"]["mask"]


def test_pareto_front_keeps_equals():
    """Two equal alternatives do not dominate each other; both beat a worse third."""
    found = ranking.pareto_front([[2, 1], [1, 1], [1, 1]], [False, True])
    assert found.tolist() == [False, True, True]


@few
@given(matrices())
def test_pareto_front_by_its_definition(table):
    """Those on the front are those that no other matches everywhere and beats once."""
    matrix, _, is_benefit = table
    towards = np.where(is_benefit, matrix, -matrix)
    expected = [
        not any((a >= b).all() and (a > b).any() for a in towards) for b in towards
    ]
    assert ranking.pareto_front(matrix, is_benefit).tolist() == expected


def test_ties_share_the_lowest_number():
    """After two firsts comes a third; a difference of less than 1e-9 is a tie."""
    assert ranking.ranks([0.5, 0.9, 0.9 + 5e-10, 0.5 - 2e-9]).tolist() == [3, 1, 1, 4]


def test_a_chain_of_ties_is_one_tie():
    """Neighbours within 1e-9 tie, so all of the chain share a rank, in any order."""
    chain = np.array([0.5, 0.5 - 8e-10, 0.5 - 16e-10, 0.4])
    for order in ([0, 1, 2, 3], [2, 0, 3, 1], [3, 2, 1, 0]):
        expected = np.array([1, 1, 1, 4])[order]
        assert ranking.ranks(chain[order]).tolist() == expected.tolist()


@few
@given(st.lists(st.integers(-5, 5), min_size=1, max_size=8))
def test_ranks_count_those_that_are_better(scores):
    """A rank is one more than the number of alternatives with a higher score."""
    expected = [1 + sum(other > score for other in scores) for score in scores]
    assert ranking.ranks(scores).tolist() == expected


def test_ranks_of_nobody():
    """No alternatives, no ranks."""
    assert ranking.ranks(np.zeros((3, 0))).shape == (3, 0)


def test_kendall_tau_with_ties():
    """τ-b with ties on both sides is that of SciPy's documentation.

    scipy.stats.kendalltau, Examples; read there.
    """
    case = published("kendall_tau_b_ties_scipy_doc")
    found = ranking.kendall_tau(case["inputs"]["x"], case["inputs"]["y"])
    assert found == pytest.approx(case["published"]["values"]["tau_b"], abs=1e-12)


def test_kendall_tau_without_ties():
    """τ of nine lots of canned tuna is 16/36 on our ranks as on the figures.

    Hollander & Wolfe (1973), p. 187 ff., as in R's ?cor.test; read there.
    """
    case = published("kendall_tau_hollander_wolfe_tuna")
    x, y = (ranking.ranks(case["inputs"][axis]) for axis in "xy")
    found = ranking.kendall_tau(x, y)
    assert found == pytest.approx(case["published"]["values"]["tau"], abs=1e-10)
    assert found == pytest.approx(16 / 36, abs=1e-12)


@pytest.mark.parametrize(
    "pair", [([], []), ([1], [1]), ([1, 1, 1], [1, 2, 3]), ([1, 2], [1, 1])]
)
def test_kendall_tau_where_it_is_undefined(pair):
    """With fewer than two alternatives, or all tied, there is no τ."""
    assert ranking.kendall_tau(*pair) is None


def test_scipy_is_loaded_only_when_needed():
    """Importing the package's methods does not load scipy, which is slow."""
    code = (
        "import sys; from scoring.decision import criteria, ranking, weights; "
        "sys.exit('scipy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0


@given(
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=2, max_size=12)
)
def test_tau_is_scipys(pairs):
    """With and without ties, τ-b is that of scipy.stats.kendalltau."""
    from scipy.stats import kendalltau

    ranks_a, ranks_b = zip(*pairs, strict=True)
    found = ranking.kendall_tau(ranks_a, ranks_b)
    if len(set(ranks_a)) < 2 or len(set(ranks_b)) < 2:
        assert found is None
    else:
        assert found == pytest.approx(kendalltau(ranks_a, ranks_b).statistic)
