"""The map of the best machine moves all the work in number and in size."""

import pytest

from scoring import evaluate
from scoring.questions.best_map import _scaled_work, best_map
from scoring.questions.changed import changed
from tests.cases import brief, machine


def test_the_map_stands_at_the_buyers_own_work():
    """4 jobs a month of 4 × 2 m: the middle of the map's thirds is 4 jobs of 8 m²."""
    found = best_map(evaluate(brief(), [machine()]), n_steps=3)
    assert found.jobs_per_month.tolist() == pytest.approx([4, 8, 12])
    assert found.wall_m2.tolist() == pytest.approx([8, 16, 24])
    assert (found.own_jobs, found.own_wall_m2) == pytest.approx((4, 8))


def test_walls_grow_by_both_sides():
    """Four times the area is a wall twice as wide and twice as high: 8 × 4 m."""
    base = evaluate(brief(), [machine()])
    jobs = changed(base, _scaled_work(base, 1.0, 4.0)).figures.jobs
    assert (jobs.width_m.item(), jobs.height_m.item()) == pytest.approx((8, 4))
    assert jobs.per_month.item() == pytest.approx(4)
