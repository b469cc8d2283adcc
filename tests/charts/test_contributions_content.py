"""The bars of the ranking are the scores, weighed; worked by hand on two machines."""

import pytest

from scoring import evaluate
from scoring.charts.contributions import bars, table
from tests.cases import brief, machine

# Only two things weigh: three quarters the lift, on a scale from 40 to 0 kg, a quarter
# the price to the door, on 20 000 to 0 EUR.
WEIGHED = (
    "weights: {heaviest_lift: 3, upfront: 1}\n"
    "scale: {heaviest_lift: [40, 0], upfront: [20000, 0]}\n"
)


def two():
    """Return the Evaluation of a light, dear machine and a heavy, cheap one."""
    light = machine(name="Alder", lift=10, price=15000)
    heavy = machine(name="Birch", lift=24, price=5000)
    return evaluate(brief(more=WEIGHED), [light, heavy])


def test_a_part_is_score_times_weight():
    """Alder: lift 0.75 · 0.75, price 0.25 · 0.25; Birch 0.4 · 0.75, 0.75 · 0.25."""
    first, second = bars(two())
    assert (first.line, second.line) == ("1. Alder", "2. Birch")
    parts = [
        [part.contribution for part in bar.parts if part.contribution]
        for bar in (first, second)
    ]
    assert sorted(parts[0]) == pytest.approx([0.0625, 0.5625])
    assert sorted(parts[1]) == pytest.approx([0.1875, 0.3])
    assert (first.score, second.score) == pytest.approx((0.625, 0.4875))


def test_the_table_has_each_machines_own_figures():
    """Places, scores and raw figures stand in the row of their machine."""
    head, (first, second) = table(two())
    assert first[0].startswith("Alder") and second[0].startswith("Birch")
    assert (first[1], first[2]) == ("1", "0.625")
    assert float(second[2]) == pytest.approx(0.4875, abs=6e-4)
    lift = head.index(next(name for name in head if "lift" in name))
    assert (first[lift], second[lift]) == ("10 kg", "24 kg")


def test_a_star_marks_what_the_seller_has_not_told():
    """A machine whose answering days are unknown has a star there, the others none."""
    silent = machine(("{response: 1 day,", "{response: unknown,"), name="Cedar")
    told = [machine(name="Alder", response=1), machine(name="Birch", response=3)]
    head, rows = table(evaluate(brief(), [silent, *told]))
    column = head.index(next(name for name in head if "running again" in name))
    stars = {row[0].split(" ")[0]: row[column].endswith("*") for row in rows}
    assert stars == {"Cedar": True, "Alder": False, "Birch": False}


def test_a_machine_in_doubt_is_marked_in_the_table():
    """24 kg told, 30 % more possible, 25 kg lifted: ranked, and said to be in doubt."""
    both = [machine(lift=10), machine(name="Birch", lift=24)]
    evaluation = evaluate(brief(closed="[-0.3, 0, 0.3]"), both)
    _, rows = table(evaluation, False)
    assert [row[0].partition(" (")[0] for row in rows] == ["Alder", "Birch"]
    assert "in doubt" not in rows[0][0] and "(in doubt" in rows[1][0]
