"""Weighted sum, TOPSIS, Pareto front, ranks and τ against what others publish."""

import subprocess
import sys

import numpy as np
import pymcdm
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pymcdm import normalizations

from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision.scale import default_scale
from scoring.errors import ScoringError
from tests.decision.published import published
from tests.decision.tables import few, matrices, scored

TABLES = [
    "topsis_hwang_yoon_1981_fighter",
    "topsis_lecture_cars_four_options",
    "topsis_papathanasiou_ploskas_2018_facility",
]
MOUNTAIN = "topsis_opricovic_tzeng_2004_mountain_minmax"
NAN, INF = float("nan"), float("inf")


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


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: ranking.topsis([[1.0], [NAN]], [1.0], [True]),
            "the figures hold nan; each must be a finite number",
        ),
        (
            lambda: ranking.pareto_front([[INF], [1.0]], [True]),
            "the figures hold inf; each must be a finite number",
        ),
        (
            lambda: ranking.weighted_sum([[-INF]], [1.0]),
            "the scores hold -inf; each must be a finite number",
        ),
        (
            lambda: ranking.ranks([0.5, NAN]),
            "the scores hold nan; each must be a finite number",
        ),
        (
            lambda: ranking.topsis([[1.0], [2.0]], [-1.0], [True]),
            "the weights hold -1.0; each must be 0 or more",
        ),
        (
            lambda: ranking.topsis([[1.0], [2.0]], [0.0], [True]),
            "the weights sum to 0; at least one must be above 0",
        ),
        (
            lambda: ranking.weighted_sum([[1.0, 2.0]], [INF, 1.0]),
            "the weights hold inf; each must be a finite number",
        ),
        (
            lambda: ranking.weighted_sum([[1.0, 2.0]], [[1.0, 0.0], [0.0, 0.0]]),
            "the weights sum to 0; at least one must be above 0",
        ),
        (
            lambda: ranking.weighted_sum([[1.0, 2.0]], [1.0]),
            "weights of shape (1,) for scores of shape (1, 2); "
            "one weight for each column is needed",
        ),
        (
            lambda: ranking.weighted_sum([1.0, 2.0], [0.5, 0.5]),
            "weights of shape (2,) for scores of shape (2,); "
            "one weight for each column is needed",
        ),
        (
            lambda: ranking.weighted_sum(np.ones((3, 1, 2)), np.ones((4, 2))),
            "weights of shape (4, 2) for scores of shape (3, 1, 2); "
            "one weight for each column is needed",
        ),
        (
            lambda: ranking.weighted_sum([[1.0]], 1.0),
            "the weights are one number; one for each is needed",
        ),
        (
            lambda: ranking.weighted_sum(np.ones((2, 0)), []),
            "the weights sum to 0; at least one must be above 0",
        ),
        (
            lambda: ranking.topsis([[1.0, 2.0]], [1.0, 1.0, 1.0], [True, True]),
            "weights of shape (3,) for figures of shape (1, 2); "
            "one weight for each column is needed",
        ),
        (
            lambda: ranking.topsis([1.0, 2.0], [0.5, 0.5], [True, True]),
            "figures of shape (2,); a table is needed",
        ),
        (
            lambda: ranking.topsis([[1.0, 2.0]], [0.5, 0.5], [True]),
            "2 criteria, but whether more is better has shape (1,); "
            "one for each is needed",
        ),
        (
            lambda: ranking.topsis([[1.0]], [1.0], [True], among=[True, False]),
            "1 alternatives have figures, and a choice of shape (2,) says who is among "
            "them; one for each is needed",
        ),
        (
            lambda: ranking.kendall_tau([1, 2, 3], [1, 2]),
            "rankings of shape (3,) and (2,); one rank in each for every alternative "
            "is needed",
        ),
        (
            lambda: ranking.kendall_tau([[1, 2]], [[1, 2]]),
            "rankings of shape (1, 2) and (1, 2); one rank in each for every "
            "alternative is needed",
        ),
        (
            lambda: ranking.kendall_tau([1, NAN, 3], [1, 2, 3]),
            "the ranks hold nan; each must be a finite number",
        ),
    ],
)
def test_faults_in_plain_sentences(call, message):
    """What cannot be ranked is refused with the value found and what is allowed."""
    with pytest.raises(ScoringError) as fault:
        call()
    assert str(fault.value) == message


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
