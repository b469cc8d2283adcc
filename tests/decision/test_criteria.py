"""The standard criteria, and scales by hand and by what must always hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from scoring.decision.criteria import STANDARD
from scoring.decision.scale import default_scale, scores, separates
from tests.decision.tables import few

INF, NAN = float("inf"), float("nan")


def test_the_standard_criteria_in_order():
    """Eleven criteria stand in the order of the decision matrix, with directions."""
    directions = {criterion.id: criterion.is_benefit for criterion in STANDARD}
    assert list(directions.items()) == [
        ("upfront", False),
        ("year_result", True),
        ("ready_time", False),
        ("heaviest_lift", False),
        ("odour", False),
        ("support", False),
        ("print_quality", True),
        ("software_ease", True),
        ("work_served", True),
        ("site_hours", False),
        ("days_lost", False),
    ]


def test_what_counts_twice_is_not_in_use():
    """The criteria that also act through the money are exactly those switched off."""
    ids = {criterion.id for criterion in STANDARD}
    for criterion in STANDARD:
        assert bool(criterion.double_counts) != criterion.in_use
        assert set(criterion.double_counts) <= ids


def test_every_criterion_says_what_it_means():
    """Each has its own label, an explanation, a unit and what it is derived from."""
    assert len({criterion.label for criterion in STANDARD}) == len(STANDARD)
    for criterion in STANDARD:
        assert criterion.label and criterion.term and criterion.unit
        assert criterion.derived_from


@pytest.mark.parametrize(
    ("figures", "low", "high"),
    [
        # the spread 16 600 has steps of 10 000
        ([12300, 28900], 10000, 30000),
        # the spread 800 has steps of 100
        ([12300, 13100], 12300, 13100),
        ([12310, 13190], 12300, 13200),
        # below 0 as well: outward is down
        ([-450, 320], -500, 400),
        # 0.3 and 0.7 stand on their step of 0.1, though 0.7 − 0.3 is not quite 0.4
        ([0.3, 0.7], 0.3, 0.7),
        ([0.31, 0.68], 0.3, 0.7),
        # nor are 100 · 0.29 and 100 · 0.07 quite 29 and 7
        ([0.29, 0.37], 0.29, 0.37),
        ([0.01, 0.07], 0.01, 0.07),
        # a spread of exactly 100, and of one that is 0.1 but for rounding
        ([250, 350], 200, 400),
        ([0.2, 0.3], 0.2, 0.3),
    ],
)
def test_default_scale_by_hand(figures, low, high):
    """Anchors are rounded outward to the power of ten at or below the spread."""
    raw = np.array([figures, figures], float).T
    scale = default_scale(raw, [True, False])
    assert scale.tolist() == [[low, high], [high, low]]


def test_default_scale_without_a_spread():
    """All figures the same: worst is best, every score is 1 and nothing separates."""
    raw = [[7.0, 0.3], [7.0, 0.1 + 0.2]]
    scale = default_scale(raw, [True, False])
    assert scale.tolist() == [[7.0, 7.0], [0.3, 0.3]]
    assert separates(scale).tolist() == [False, False]
    assert scores(raw, scale).tolist() == [[1, 1], [1, 1]]


def test_default_scale_takes_the_finite_figures():
    """What is not achievable sets no anchor; where nothing is, both anchors are 0."""
    raw = [[12.0, INF], [INF, NAN], [38.0, INF]]
    scale = default_scale(raw, [False, False])
    assert scale.tolist() == [[40, 10], [0, 0]]
    assert scores(raw, scale)[:, 1].tolist() == [0, 0, 0]


def test_flat_above_in_the_scale_and_in_the_score():
    """Above what clients notice a better rating earns nothing, and sets no anchor.

    Capped at 4: figures 2, 3, 4, 4; spread 2, step 1, anchors 2 and 4; (3 − 2)/2 = 1/2.
    """
    raw = [[2.0], [3.0], [4.5], [4.9]]
    scale = default_scale(raw, [True], [4.0])
    assert scale.tolist() == [[2, 4]]
    assert scores(raw, scale, [4.0])[:, 0].tolist() == [0, 0.5, 1, 1]


def test_flat_above_between_two_steps():
    """The best anchor is not rounded beyond what counts: 4.5 scores 1, 3 scores 0.

    Capped at 4.5: figures 3.2 and 4.5, step 1; 3.2 is rounded to 3, 5 brought to 4.5.
    """
    scale = default_scale([[3.2], [4.8]], [True], [4.5])
    assert scale.tolist() == [[3, 4.5]]
    found = scores([[3.0], [4.5], [4.8]], scale, [4.5])
    assert found[:, 0].tolist() == [0, 1, 1]


def test_flat_above_on_a_scale_of_ones_own():
    """On a written scale 1 to 5, capped at 4, a rating of 4 is as good as 5."""
    found = scores([[1.0], [2.5], [4.0], [5.0]], [[1, 5]], [4.0])
    assert found[:, 0].tolist() == [0, 0.5, 1, 1]


def test_flat_above_all_figures():
    """If every rating is above what counts, the criterion separates nothing."""
    raw = [[4.6], [4.9]]
    scale = default_scale(raw, [True], [4.5])
    assert separates(scale).tolist() == [False]
    assert scores(raw, scale, [4.5])[:, 0].tolist() == [1, 1]


def test_none_caps_nothing():
    """Where a criterion has no `flat_above`, its figures count in full."""
    raw = [[1.0, 1.0], [9.0, 9.0]]
    found = default_scale(raw, [True, True], [None, 5.0])
    assert found.tolist() == [[1, 9], [1, 5]]
    found = scores(raw, [[0, 10], [0, 10]], [None, 5.0])
    assert found.tolist() == [[0.1, 0.2], [0.9, 1.0]]


def test_scores_by_hand():
    """From 30 (worst) to 10 (best), 25 is a quarter; beyond an anchor is the anchor."""
    found = scores([[25.0], [30.0], [44.0], [10.0], [2.0]], [[30, 10]])
    assert found[:, 0].tolist() == [0.25, 0, 0, 1, 1]


@pytest.mark.parametrize("figure", [INF, -INF, NAN])
def test_what_is_not_achievable_scores_nothing(figure):
    """A figure that is not finite scores 0, in any direction, capped or flat."""
    raw = [[figure] * 4]
    scale = [[0, 1], [1, 0], [5, 5], [0, 1]]
    found = scores(raw, scale, [None, None, None, 0.5])
    assert found.tolist() == [[0, 0, 0, 0]]


def test_scores_of_many_draws_in_one_call():
    """Draws stacked on the first axis give what one call a draw gives."""
    raw = np.random.default_rng(5).uniform(-2, 12, (4, 3, 2))
    scale = [[0, 10], [10, 0]]
    one_each = [scores(draw, scale) for draw in raw]
    np.testing.assert_array_equal(scores(raw, scale), one_each)


FIGURES = arrays(
    float, (4, 2), elements=st.floats(-1e6, 1e6).map(lambda figure: round(figure, 3))
)


@few
@given(FIGURES)
def test_the_default_scale_holds_every_figure(raw):
    """No figure lies beyond an anchor, and none is further off than one step.

    But for rounding, for which 1e-8 of the spread is allowed.
    """
    worst, best = default_scale(raw, [False, True]).T
    low, high = np.array([best[0], worst[1]]), np.array([worst[0], best[1]])
    spread = raw.max(axis=0) - raw.min(axis=0)
    slack = 1e-8 * spread + 1e-12 * abs(raw).max(axis=0)
    assert (low <= raw.min(axis=0) + slack).all()
    assert (high >= raw.max(axis=0) - slack).all()
    assert (raw.min(axis=0) - low <= spread + slack).all()
    assert (high - raw.max(axis=0) <= spread + slack).all()


@few
@given(FIGURES)
def test_a_better_figure_never_scores_less(raw):
    """Scores lie in 0–1 and follow the figures, up for benefits and down for costs."""
    found = scores(raw, default_scale(raw, [True, False]))
    assert (found >= 0).all() and (found <= 1).all()
    up, down = raw.argsort(axis=0).T
    assert (np.diff(found[up, 0]) >= 0).all()
    assert (np.diff(found[down, 1]) <= 0).all()


def test_arguments_are_left_alone():
    """Nothing changes what it is given."""
    raw, scale = np.array([[1.0, NAN], [3.0, 2.0]]), np.array([[1.0, 3.0], [0.0, 4.0]])
    for given_array in (raw, scale):
        given_array.setflags(write=False)
    scores(raw, scale, [2.0, None])
    made = default_scale(raw, [True, False], [2.0, None])
    assert made.flags.writeable
