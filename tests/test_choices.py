"""Keep, add or replace a rig: small cases worked by hand, and the demo."""

import pytest

from scoring import evaluate, load_brief, load_machines
from scoring.choices import KEEP, choices, verdict
from tests.cases import brief, job, machine

OWNED = "owned: [{machine: Alder, age: 2, resale: 3000 EUR}]\n"
WAGE = ", wage: 20 EUR/h"


def by_name(machines, **more):
    """Return {choice: Choice} for an operator who owns an Alder."""
    asked = brief(job(per_month=15), more=OWNED, **more)
    return {
        choice.name: choice for choice in choices(evaluate(asked, machines)).choices
    }


def birch(**figures):
    """Return a machine like Alder under another name."""
    return machine(name="Birch", **figures)


def test_one_person_cannot_run_two_rigs_on_two_sites():
    """Alone, a second rig adds nothing: the ten days of the one crew are full."""
    # 10 bookable days a month, 15 jobs of a day wanted: 10 · 12 · 500 = 60 000 with one
    # rig or two.
    found = by_name([machine(), birch()])
    assert found[KEEP].year_result == pytest.approx(60000)
    assert found["add Birch"].added_result == pytest.approx(0)
    assert found["add Birch"].payback_months == float("inf")
    assert found["add Birch"].npv == pytest.approx(-10000)


def test_a_second_crew_is_paid_and_does_the_rest():
    """Two people run two rigs: five more jobs a month, less the second one's wages."""
    # 15 · 12 · 500 = 90 000, less 5 days · 12 · 8 h · 20 = 9 600: 80 400. Added 20 400
    # for 10 000: 12 · 10 000/20 400 = 5.88 months; 5 · 20 400 − 10 000 = 92 000 at 0 %.
    found = by_name([machine(), birch()], people=2, crew=WAGE)
    added = found["add Birch"]
    assert found[KEEP].year_result == pytest.approx(60000)
    assert added.n_crews == 2
    assert added.year_result == pytest.approx(80400)
    assert added.added_result == pytest.approx(20400)
    assert added.added_upfront == pytest.approx(10000)
    assert added.payback_months == pytest.approx(120000 / 20400)
    assert added.npv == pytest.approx(92000)
    assert sum(added.assignment["wall"].values()) == pytest.approx(15)


def test_a_replaced_rig_brings_its_resale():
    """Replacing Alder by Birch costs its price less what Alder brings."""
    found = by_name([machine(), birch(price=12000)])
    assert found["replace Alder by Birch"].added_upfront == pytest.approx(9000)
    assert [rig.name for rig in found["replace Alder by Birch"].rigs] == ["Birch"]


def test_a_second_of_the_same_saves_some_upkeep():
    """The rig that needs one day for what takes the other two gets that work."""
    # Upkeep 1 000 each: 1 000 + 850. With one crew nothing else changes.
    text = ("upkeep: 0 EUR/year", "upkeep: 1000 EUR/year")
    found = by_name([machine(text), birch()])
    alike = found["add Alder"]
    assert alike.year_result == pytest.approx(60000 - 1850)
    assert [rig.name for rig in alike.rigs] == ["Alder", "Alder (2)"]


def test_each_rig_does_what_it_is_better_at():
    """The rig that prints in a day what takes the other two gets that work."""
    # 24 m² tall: at 4 m²/h 360 + 85 = 445, one day; at 2 m²/h 720 + 85, two days.
    big = job(name="big", per_month=4, width=6, height=4, price=900)
    small = job(name="small", per_month=6)
    asked = brief(big, small, more=OWNED, people=2, crew=WAGE)
    slow, fast = machine(speed="4: 2 m²/h"), birch()
    found = {c.name: c for c in choices(evaluate(asked, [slow, fast])).choices}
    plan = found["add Birch"].assignment
    assert plan["big"] == pytest.approx({"Birch": 4})
    assert sum(plan["small"].values()) == pytest.approx(6)


def test_without_a_rig_the_choices_are_what_to_buy():
    """A buyer without a rig chooses among machines, against buying nothing."""
    asked = brief(job(per_month=4))
    found = choices(evaluate(asked, [machine(), birch(price=20000)]))
    assert [c.name for c in found.choices] == ["buy Alder", "buy Birch"]
    assert verdict(found).startswith(
        "Buying Alder comes first: 24\u202f000 EUR/year more than"
    )


def test_choices_of_the_demo():
    """With a full diary, adding a rig beats keeping, and no choice is listed twice."""
    machines = load_machines("profiles/machines")
    found = choices(evaluate(load_brief("profiles/briefs/second-rig.yaml"), machines))
    names = [choice.name for choice in found.choices]
    assert len(set(names)) == len(names) and KEEP in names
    best = found.choices[found.order[0]]
    assert best.added_result > 0 and best.name.startswith("add ")
    for choice in found.choices:
        for wanted in found.evaluation.brief.work:
            done = sum(choice.assignment[wanted.name].values())
            assert done <= wanted.per_month.likely + 1e-6
    assert set(found.left_out) == {
        "Corrandale Frame",
        "Pellimar Dovetail",
        "Thrumble Lite",
        "Varnholt Column",
    }
