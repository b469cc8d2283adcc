"""Weights from picking one of two: against corners worked out, and hidden weights."""

from itertools import combinations

import numpy as np
import pytest

from scoring.decision.picked_pairs import (
    FIRST,
    SAME,
    SECOND,
    Offer,
    Pick,
    all_that_fits,
    fits,
    half_spaces,
    largest,
    next_pair,
    standing,
)


def corners_of(picks):
    """Return the corners of what fits for three criteria, by cutting every two lines.

    The triangle of weights lies in a plane: x = w1, y = w2, w3 = 1 − x − y.
    """
    rows = np.vstack([half_spaces(picks, 3), -np.eye(3)])
    lines = [(r[0] - r[2], r[1] - r[2], -r[2]) for r in rows]  # a x + b y <= c
    found = []
    for (a, b, c), (d, e, f) in combinations(lines, 2):
        if abs(a * e - b * d) > 1e-12:
            x, y = np.linalg.solve([[a, b], [d, e]], [c, f])
            if all(p * x + q * y <= r + 1e-9 for p, q, r in lines):
                found.append((x, y, 1 - x - y))
    return np.array(found)


@pytest.mark.parametrize("seed", range(12))
def test_regret_is_that_of_the_corners(seed):
    """A linear goal is largest in a corner: regrets agree with all corners tried.

    But for the ten-thousandth that each criterion weighs at least.
    """
    rng = np.random.default_rng(seed)
    scores, hidden = rng.random((4, 3)), rng.dirichlet(np.ones(3))
    picks = [picked(hidden, Offer(0, 1, 0.6)), picked(hidden, Offer(2, 1, 0.3))]
    picks = picks[: seed % 3]
    worth = corners_of(picks) @ scores.T
    lost = (worth.max(axis=1, keepdims=True) - worth).max(axis=0)
    now = standing(scores, picks)
    assert now.regret == pytest.approx(lost.min(), abs=1e-3)
    assert now.most_lost == pytest.approx(lost[now.best], abs=1e-3)


def picked(weights, pair):
    """Return the Pick of somebody with these weights."""
    is_first = weights[pair.one] >= pair.level * weights[pair.other]
    return Pick(pair, FIRST if is_first else SECOND)


def questions(seed, most):
    """Return (true best, [Standing]) of somebody with hidden weights who is asked."""
    rng = np.random.default_rng(seed)
    scores, hidden = rng.random((8, 11)), rng.dirichlet(np.ones(11))
    picks, found = [], []
    for _ in range(most + 1):
        found.append(standing(scores, picks))
        pair = next_pair(picks, found[-1], scores)
        if pair is None:
            break
        picks.append(picked(hidden, pair))
    return int((scores @ hidden).argmax()), found


@pytest.mark.slow
def test_the_true_best_is_found_in_seven_questions_in_the_median():
    """Eight machines, eleven criteria, weights even over all: half need at most seven.

    Found: from then on the same machine, the true one, comes first.
    """
    needed = []
    for seed in range(25):
        true, found = questions(seed, most=9)
        is_right = [now.best == true for now in found]
        wrong = [n for n, right in enumerate(is_right) if not right]
        needed.append(wrong[-1] + 1 if wrong else 0)
    assert np.median(needed) <= 7


@pytest.mark.parametrize("seed", range(4))
def test_regret_never_rises(seed):
    """Each answer leaves less that fits, so the smallest largest loss cannot grow."""
    regrets = [now.regret for now in questions(seed, most=8)[1]]
    assert all(b <= a + 1e-7 for a, b in zip(regrets, regrets[1:], strict=False))


def test_one_machine_better_in_all_needs_no_question():
    """Nothing can be lost with it, whatever the weights."""
    scores = np.array([[0.9, 0.8, 0.7], [0.5, 0.5, 0.5]])
    now = standing(scores, [])
    assert (now.best, now.regret, now.share) == (0, 0.0, 1.0)
    assert next_pair([], now, scores) is None


def test_two_criteria_are_settled_by_halving():
    """Machines (1, 0) and (0, 1): whichever counts more decides, asked at once."""
    scores = np.eye(2)
    now = standing(scores, [])
    assert now.regret == pytest.approx(1.0, abs=1e-3)
    pair = next_pair([], now, scores)
    assert pair.level == pytest.approx(1.0, abs=0.15)
    after = standing(scores, [Pick(Offer(0, 1, 1.0), FIRST)])
    assert after.best == 0 and after.regret == pytest.approx(0.0, abs=1e-9)


def test_answers_that_contradict_each_other_fit_nothing():
    """1 over 2, 2 over 3 and 3 over 1, each by half more: a circle."""
    circle = [Pick(Offer(a, b, 1.0), FIRST) for a, b in ((0, 1), (1, 2))]
    assert fits(circle, 3)
    circle += [Pick(Offer(0, 2, 0.5), SECOND)]
    assert not fits(circle, 3)
    assert standing(np.eye(3), circle) is None


def test_about_the_same_is_a_tenth_on_either_side():
    """w1 between 0.9 and 1.1 times half of w2: by hand at w2 = 1 − w1 alone."""
    rows = half_spaces([Pick(Offer(0, 1, 0.5), SAME)], 2)
    most = largest(np.array([[1.0, 0.0], [-1.0, 0.0]]), rows)[0]
    assert most == pytest.approx([0.55 / 1.55, -0.45 / 1.45])


def test_what_fits_is_spread_over_all_of_it():
    """Over the whole triangle the mean is 1/3 each, the variance 1/18 (Dirichlet)."""
    weights = all_that_fits(np.eye(3), np.empty((0, 3)))
    assert weights.mean(axis=0) == pytest.approx([1 / 3] * 3, abs=0.04)
    assert weights.var(axis=0) == pytest.approx([1 / 18] * 3, rel=0.2)
    assert weights.sum(axis=1) == pytest.approx(np.ones(len(weights)))
    rows = half_spaces([Pick(Offer(0, 1, 0.5), FIRST)], 3)
    some = all_that_fits(largest(np.eye(3), rows)[1], rows)
    assert (some @ rows.T <= 1e-9).all()
