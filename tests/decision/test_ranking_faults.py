"""What cannot be ranked is refused in a sentence."""

import numpy as np
import pytest

from scoring.decision import ranking
from scoring.errors import ScoringError

NAN, INF = float("nan"), float("inf")


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
