"""Which kinds of job stand in view on the first screen: what tells most."""

from scoring.page.answer.walls import MOST_JOBS, telling
from scoring.words.can_do import CANNOT, DOES, DOUBTFUL, CanDo


def cells(*kinds):
    return [CanDo(kind, "said", "why") for kind in kinds]


def test_what_the_leader_cannot_do_is_in_view_however_rare():
    """A rare job that it cannot do, a doubtful one, then the most work; in order."""
    can = cells(DOES, DOES, CANNOT, DOES, DOUBTFUL)
    assert telling(can, [1.0, 5.0, 0.1, 2.0, 0.2]) == [1, 2, 4]


def test_the_most_work_is_in_view_where_all_can_be_done():
    """Of five kinds the three with the most jobs a month."""
    assert telling(cells(*[DOES] * 5), [1.0, 5.0, 0.1, 2.0, 0.2]) == [0, 1, 3]


def test_few_kinds_are_all_in_view():
    """There is nothing to choose."""
    assert telling(cells(*[CANNOT] * MOST_JOBS), [1.0] * MOST_JOBS) == [0, 1, 2]
