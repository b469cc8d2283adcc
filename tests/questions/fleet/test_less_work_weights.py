"""Less work is asked of the weights that stand on the screen, not the brief's."""

import pytest

from scoring.answer.ranking import reweigh
from scoring.questions.fleet.less_work import less_work
from tests.page.pages import half_of


def by_id(evaluation):
    ids = [criterion.id for criterion in evaluation.criteria]
    return dict(zip(ids, evaluation.weights.tolist(), strict=True))


def test_weights_that_were_moved_stay():
    """Odour weighs as much as all else: it does with 70 % of the work as well."""
    as_told = half_of("second-rig")
    moved = reweigh(as_told, {"odour": 1.0})
    assert by_id(moved)["odour"] > 5 * by_id(as_told)["odour"]
    ((_, found),) = less_work(moved, (0.7,))
    assert by_id(found.evaluation) == pytest.approx(by_id(moved))
