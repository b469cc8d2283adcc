"""A question of two machines parts what fits, whichever criterion weighs more."""

import numpy as np
import pytest

from scoring.decision.picked_pairs import FIRST, Offer, Pick, next_pair, standing


@pytest.mark.parametrize("heavy", [0, 1])
def test_the_next_question_parts_what_fits(heavy):
    """One criterion weighs more than the other; the rivals meet at four times as much.

    The machine that is best in the heavy one leads where it weighs more than four
    times: (1, 0) against (0.75, 1). A question on one side of which all that fits lies
    would tell nothing.
    """
    light = 1 - heavy
    scores = np.zeros((2, 2))
    scores[0, heavy], scores[1, heavy], scores[1, light] = 1.0, 0.75, 1.0
    picks = [Pick(Offer(heavy, light, 1.0), FIRST)]
    now = standing(scores, picks)
    assert (now.weights[:, heavy] >= now.weights[:, light] - 1e-6).all()
    pair = next_pair(picks, now, scores)
    assert (pair.one, pair.other) == (light, heavy) and pair.level < 1
    is_first = now.weights[:, pair.one] >= pair.level * now.weights[:, pair.other]
    assert 0.2 < is_first.mean() < 0.8
