"""What is best with less work than is told."""

from scoring.questions.changed import supposed, times_work
from scoring.questions.fleet.choices import choices
from scoring.questions.fleet.less_work import less_work
from tests.page.pages import half_of


def test_each_share_of_the_work_is_that_work_supposed():
    """At 80 % the choices are those of a buyer who has 80 % of each kind of job."""
    evaluation = half_of("second-rig")
    ((share, found),) = less_work(evaluation, (0.8,))
    then = choices(supposed(evaluation, times_work(evaluation, 0.8)))
    assert share == 0.8 and found.order == then.order
    assert [c.added_result for c in found.choices] == [
        c.added_result for c in then.choices
    ]


def test_less_work_never_leaves_more():
    """What a choice adds to the year's result does not grow as work falls away."""
    evaluation = half_of("second-rig")
    results = [
        {c.name: c.year_result for c in found.choices}
        for _, found in less_work(evaluation, (0.5, 0.75, 1.0))
    ]
    for name in results[0].keys() & results[2].keys():
        there = [each[name] for each in results if name in each]
        assert there == sorted(there), name
