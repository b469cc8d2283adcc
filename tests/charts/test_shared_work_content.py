"""Who does what as bars: the parts sum to what is wanted, in the rigs' colours."""

import pytest

from scoring import evaluate
from scoring.charts.base import GREY, colours
from scoring.charts.shared_work import NOBODY, shared_work_rows, shared_work_spec
from scoring.questions.fleet.choices import choices
from tests.cases import brief, job, machine
from tests.questions.fleet.test_choices import OWNED, WAGE, birch


@pytest.fixture(scope="module")
def found():
    """More work than two rigs do: 14 days' jobs of one kind, 16 of another."""
    kinds = job(name="hall", per_month=14), job(name="attic", per_month=16)
    asked = brief(*kinds, more=OWNED, people=2, crew=WAGE)
    return choices(evaluate(asked, [machine(), birch()]))


def chosen(found, name):
    return next(choice for choice in found.choices if choice.name == name)


def test_the_parts_of_each_bar_sum_to_what_is_wanted(found):
    """14 and 16 a month: what rigs do, as `assignment` has it, and what nobody does."""
    both = chosen(found, "add Birch")
    rows = shared_work_rows(found, both)
    wanted = {"hall · 14 wanted": 14, "attic · 16 wanted": 16}
    assert rows.groupby("job")["jobs"].sum().to_dict() == pytest.approx(wanted)
    done = rows[rows["rig"] != NOBODY].groupby("rig")["jobs"].sum().to_dict()
    by_rig = {}
    for each in both.assignment.values():
        for rig, jobs in each.items():
            by_rig[rig] = by_rig.get(rig, 0.0) + jobs
    assert done == pytest.approx(by_rig)
    left = rows[rows["rig"] == NOBODY]["jobs"].sum()
    assert left == pytest.approx(30 - sum(by_rig.values())) and left > 0


def test_fewer_rigs_leave_more_undone(found):
    """With the old rig alone nobody does what the second would have done."""

    def undone(name):
        rows = shared_work_rows(found, chosen(found, name))
        return rows[rows["rig"] == NOBODY]["jobs"].sum()

    assert undone("keep what you have") > undone("add Birch")


def test_each_rig_has_its_machines_colour(found):
    """The same colour as on every screen; what is not done is grey."""
    spec = shared_work_spec(found, chosen(found, "add Birch"))
    colour = spec["layer"][0]["encoding"]["color"]["scale"]
    shown = dict(zip(colour["domain"], colour["range"], strict=True))
    of_machine = colours(found.evaluation.names)
    assert shown == {
        "Alder": of_machine["Alder"],
        "Birch": of_machine["Birch"],
        NOBODY: GREY,
    }


def test_two_rigs_of_one_machine_are_told_apart(found):
    """Alike in colour, unlike in how strong it is."""
    twins = next(
        (c for c in found.choices if len({r.machine for r in c.rigs}) < len(c.rigs)),
        None,
    )
    assert twins is not None
    faint = shared_work_spec(found, twins)["layer"][0]["encoding"]["opacity"]["scale"]
    first, second, _ = faint["range"]
    assert first != second
