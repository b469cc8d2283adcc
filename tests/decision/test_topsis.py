"""TOPSIS against what others publish."""

import numpy as np
import pymcdm
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pymcdm import normalizations

from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.errors import ScoringError
from tests.decision.published import published
from tests.decision.tables import few, scored

TABLES = [
    "topsis_hwang_yoon_1981_fighter",
    "topsis_lecture_cars_four_options",
    "topsis_papathanasiou_ploskas_2018_facility",
]
MOUNTAIN = "topsis_opricovic_tzeng_2004_mountain_minmax"


def topsis_of(case):
    inputs = case["inputs"]
    is_benefit = np.array(inputs["types"]) > 0
    return ranking.topsis(inputs["matrix"], inputs["weights"], is_benefit)


def test_topsis_with_fixed_ideals_as_published():
    """Scores that reach 0 and 1 on each criterion have the ideals of their own range.

    So the published closeness with min–max figures is that with fixed ideals: Opricovic
    & Tzeng (2004), EJOR 156(2), doi:10.1016/S0377-2217(03)00020-1.
    """
    case = published(MOUNTAIN)
    exact = case["full_precision"]
    found = ranking.topsis_fixed(exact["normalised"], case["inputs"]["weights"])
    printed = case["published"]["values"]["closeness"]
    np.testing.assert_allclose(
        found.closeness, printed, atol=case["published"]["tolerance_abs"]
    )
    for name, of in (("to_ideal", "d_plus"), ("to_anti_ideal", "d_minus")):
        np.testing.assert_allclose(getattr(found, name), exact[of], atol=1e-9)


@few
@given(scored(), st.data())
def test_fixed_ideals_reverse_no_two(table, data):
    """Whoever is left out, the closeness of the others stays to the last digit."""
    scores, weights = table
    kept = data.draw(st.lists(st.sampled_from(range(len(scores))), min_size=1))
    whole = ranking.topsis_fixed(scores, weights).closeness
    np.testing.assert_array_equal(
        ranking.topsis_fixed(scores[kept], weights).closeness, whole[kept]
    )


def test_fixed_ideals_take_scores_only():
    """A figure that is no score gets a sentence."""
    with pytest.raises(ScoringError, match="not between 0 and 1"):
        ranking.topsis_fixed([[1.5, 0.0]], [0.5, 0.5])


@pytest.mark.parametrize("name", TABLES)
def test_topsis_closeness_as_published(name):
    """Three published tables give their closeness to the last printed digit.

    Hwang & Yoon (1981), doi:10.1007/978-3-642-48318-9, pp. 133–134; a teaching table of
    four alternatives (its digits are another program's output); Papathanasiou & Ploskas
    (2018), ch. 1. All read in transcriptions.
    """
    case = published(name)
    tolerance = case["published"]["tolerance_abs"]
    if isinstance(tolerance, dict):
        tolerance = tolerance["closeness"]
    printed = case["published"]["values"]["closeness"]
    np.testing.assert_allclose(
        topsis_of(case).closeness, printed, rtol=0, atol=tolerance
    )


@pytest.mark.parametrize("name", TABLES)
def test_topsis_in_full_precision(name):
    """Closeness, both distances and the ranks agree with numpy and pymcdm 1.4.0."""
    case = published(name)
    exact, found = case["full_precision"], topsis_of(case)
    for mine, theirs in [
        (found.closeness, exact["closeness"]),
        (found.to_ideal, exact["d_plus"]),
        (found.to_anti_ideal, exact["d_minus"]),
    ]:
        np.testing.assert_allclose(mine, theirs, rtol=0, atol=exact["tolerance_abs"])
    assert ranking.ranks(found.closeness).tolist() == exact["rank"]


def test_topsis_distances_as_published():
    """Hwang & Yoon's distances and ranks come out as they print them.

    Read in a transcription. Their normalised cost column is slightly off, so the last
    digit of a distance may be one out; the ranks do not change.
    """
    case = published(TABLES[0])
    printed, found = case["published"], topsis_of(case)
    for mine, theirs in [(found.to_ideal, "d_plus"), (found.to_anti_ideal, "d_minus")]:
        tolerance = printed["tolerance_abs"][theirs]
        np.testing.assert_allclose(mine, printed["values"][theirs], atol=tolerance)
    assert ranking.ranks(found.closeness).tolist() == printed["values"]["rank"]


def test_topsis_normalises_by_vector_not_by_range():
    """On the mountain table vector normalisation puts A1 first, not the printed A2.

    Opricovic & Tzeng (2004), doi:10.1016/S0377-2217(03)00020-1, read in a
    transcription; they normalise by range. The vector answer was computed with pymcdm
    1.4.0.
    """
    case = published(MOUNTAIN)
    found = topsis_of(case).closeness
    np.testing.assert_allclose(found, case["vector_variant"]["closeness"], atol=1e-9)
    assert ranking.ranks(found).tolist() == case["vector_variant"]["rank"]


def test_topsis_of_the_range_variant_as_published():
    """With the column lengths taken into the weights, A2 leads at .617 as printed.

    Fed the min–max scores, `topsis` divides each column by its length: √(1² + .75²) and
    √(.5² + 1²). Weights times those lengths undo it. Values as above, from the print.
    """
    case = published(MOUNTAIN)
    scores = np.array(case["full_precision"]["normalised"])
    lengths = np.array([1.25, np.sqrt(1.25)])
    weights = np.array(case["inputs"]["weights"]) * lengths
    found = ranking.topsis(scores, weights, [True, True])
    printed = case["published"]
    tolerance = printed["tolerance_abs"]
    np.testing.assert_allclose(
        found.closeness, printed["values"]["closeness"], rtol=0, atol=tolerance
    )
    exact = case["full_precision"]
    np.testing.assert_allclose(found.closeness, exact["closeness"], atol=1e-9)
    np.testing.assert_allclose(found.to_ideal, exact["d_plus"], atol=1e-9)
    # A1 and A3 tie in the print, which lists them as 2 and 3.
    assert ranking.ranks(found.closeness).tolist() == [2, 1, 2]


def random_table(seed):
    rng = np.random.default_rng(seed)
    n, m = rng.integers(2, 9), rng.integers(1, 8)
    matrix = rng.uniform(1, 100, (n, m)) * 10.0 ** rng.integers(-3, 5, m)
    return matrix, rng.dirichlet(np.ones(m)), rng.random(m) < 0.5


@pytest.mark.parametrize("seed", range(200))
def test_random_tables_against_pymcdm(seed):
    """TOPSIS and the weighted sum of min–max scores agree with pymcdm's.

    Computed with pymcdm 1.4.0, its normalisation passed explicitly.
    """
    matrix, weights, is_benefit = random_table(seed)
    types = np.where(is_benefit, 1, -1)
    theirs = pymcdm.methods.TOPSIS(normalizations.vector_normalization)
    found = ranking.topsis(matrix, weights, is_benefit).closeness
    np.testing.assert_allclose(
        found, theirs(matrix, weights, types, validation=False), atol=1e-9
    )

    ends = np.stack([matrix.min(axis=0), matrix.max(axis=0)], axis=-1)
    scale = np.where(is_benefit[:, None], ends, ends[:, ::-1])
    theirs = pymcdm.methods.WSM(normalizations.minmax_normalization)
    found = ranking.weighted_sum(scales.scores(matrix, scale), weights)
    np.testing.assert_allclose(
        found, theirs(matrix, weights, types, validation=False), atol=1e-9
    )


@pytest.mark.parametrize("is_benefit", [[True], [False]])
def test_one_criterion_is_a_ruler(is_benefit):
    """With one criterion closeness is the place between worst and best: 0, 1/4, 1."""
    found = ranking.topsis([[10.0], [20.0], [50.0]], [1.0], is_benefit).closeness
    expected = [0, 0.25, 1] if is_benefit[0] else [1, 0.75, 0]
    np.testing.assert_allclose(found, expected, atol=1e-12)


def test_a_column_of_zeros_counts_nothing():
    """A criterion on which all figures are 0 changes nobody's closeness."""
    matrix = np.array([[3.0, 0.0, 1.0], [1.0, 0.0, 2.0], [2.0, 0.0, 9.0]])
    weights = np.array([0.3, 0.3, 0.4])
    with_zeros = ranking.topsis(matrix, weights, [True] * 3)
    without = ranking.topsis(matrix[:, [0, 2]], weights[[0, 2]], [True] * 2)
    for mine, theirs in zip(with_zeros, without, strict=True):
        np.testing.assert_allclose(mine, theirs, atol=1e-12)


@pytest.mark.parametrize(
    "matrix",
    [
        [[7.0, -2.0]] * 3,
        [[0.0, 0.0]] * 3,
        [[7.0, -2.0]],
        [[0.3, 1.0], [0.1 + 0.2, 1.0]],
    ],
    ids=["the same", "zeros", "one alone", "the same but for rounding"],
)
def test_equal_alternatives_all_have_closeness_one(matrix):
    """Where nothing sets the alternatives apart, each is as good as the ideal."""
    found = ranking.topsis(matrix, [0.5, 0.5], [True, False])
    assert found.closeness.tolist() == [1.0] * len(matrix)


def test_a_criterion_of_weight_zero_decides_nothing():
    """Alternatives that differ only where the weight is 0 are equal."""
    found = ranking.topsis([[1.0, 5.0], [1.0, 9.0]], [1.0, 0.0], [True, True])
    assert found.closeness.tolist() == [1.0, 1.0]


@pytest.mark.parametrize("size", [1e200, 1e307, 1e-200, 1e-300])
def test_huge_and_tiny_figures(size):
    """The unit of a column may be absurd: nothing overflows, closeness stays."""
    case = published(TABLES[0])
    inputs = case["inputs"]
    matrix = np.array(inputs["matrix"])
    matrix = matrix / matrix.max(axis=0) * [size, 1, 1, 1 / size, 1, size]
    is_benefit = np.array(inputs["types"]) > 0
    with np.errstate(over="raise", invalid="raise", divide="raise"):
        found = ranking.topsis(matrix, inputs["weights"], is_benefit)
    exact = case["full_precision"]["closeness"]
    np.testing.assert_allclose(found.closeness, exact, atol=1e-9)
