"""Of the ways to carry a machine the cheapest over the year is taken; by hand."""

import pytest

from scoring import evaluate
from scoring.model.job.crew import ALONE, HIRED, OWN_CREW, WITH_AID
from scoring.words.ruled_out import reasons
from scoring.words.workings.carrying import next_cheapest, who_carries
from scoring.words.workings.criteria import working
from tests.cases import brief, job, machine

TAIL_LIFT = "tail_lift: {price: 1900 EUR, minutes_per_job: 0 min, capacity: 200 kg}"
RAMP = "ramp: {price: 240 EUR, minutes_per_job: 0 min, capacity: 90 kg}"
HELP = "hired_help: {allowed: true, rate: 20 EUR/h, minimum: 2 h}"


def crew(*told):
    return "".join(f", {each}" for each in told)


def lived(asked, *machines):
    found = evaluate(asked, machines or [machine(lift=30)])
    return found, found.outcome.carried, found.outcome.year.result[0, 0, 0]


def test_no_tail_lift_is_bought_where_two_people_lift():
    """30 kg, two of a crew: 1 900 over 5 years is 380 a year; the second costs more."""
    # A visit of 20 + 15 + 10 + 30 + 10 + 120 min = 205 min, 48 a year: 164 h a year.
    # At 2 an hour the second person costs 328 a year, less than 380; at 3, 492.
    aids = f"aids: {{{TAIL_LIFT}}}"
    found, carried, year = lived(brief(people=2, crew=crew("wage: 2 EUR/h", aids)))
    assert carried.way[0, 0].tolist() == [OWN_CREW]
    assert found.outcome.upfront_lines.aids.item() == 0
    assert year == pytest.approx(24000 - 328)
    found, carried, year = lived(brief(people=2, crew=crew("wage: 3 EUR/h", aids)))
    assert carried.way[0, 0].tolist() == [WITH_AID]
    assert found.outcome.upfront_lines.aids.item() == 1900
    assert year == pytest.approx(24000)
    best = next_cheapest(found.ways[0])
    assert best.left == pytest.approx(24000 - 492)


def test_help_is_hired_where_the_crew_costs_more():
    """The whole visit at 20 an hour is 68.33; the second of the crew at 30 102.5."""
    asked = brief(people=2, crew=crew("wage: 30 EUR/h", HELP))
    _, carried, year = lived(asked)
    assert carried.way[0, 0].tolist() == [HIRED]
    assert year == pytest.approx(24000 - 48 * 205 / 60 * 20)


def test_who_is_not_needed_stays_away():
    """A machine of 20 kg: one of two goes, and no wage is paid."""
    _, carried, year = lived(
        brief(people=2, crew=crew("wage: 20 EUR/h")), machine(lift=20)
    )
    assert carried.way[0, 0].tolist() == [ALONE]
    assert year == 24000


def test_two_go_where_that_saves_a_day():
    """Two trips of 60 min each way alone, one for two; alone the day is too short."""
    # alone 20 + 15 + 10 + 30 + 10 + print 210 (14 m² at 4) + 240 carried = 535 min of
    # 480: two days; two people 415 min: one day. 12 walls a month wanted, 10 days:
    # alone 5 jobs of 500 = 2 500 a month; two 10 jobs of 500 less 415/60 · 10 = 69.17.
    walls = job(per_month=12, width=7, more="    carry: 60 min\n").replace(
        "    carry: 0 min\n", ""
    )
    pieces = (
        "pieces: [{name: all, mass: 20 kg, wheels: true}]",
        "pieces: [{name: one, mass: 20 kg}, {name: other, mass: 20 kg}]",
    )
    asked = brief(walls, people=2, crew=crew("wage: 10 EUR/h"))
    _, carried, year = lived(asked, machine(pieces, lift=20))
    assert carried.own.item() == 2
    assert year == pytest.approx(12 * 10 * (500 - 415 / 6))


def test_stairs_are_left_to_others_where_nobody_may_carry():
    """A base of 58 kg with a ramp: the level job is done, the one upstairs is not."""
    upstairs = job(name="loft", more="    stairs: 3\n")
    asked = brief(job(), upstairs, crew=crew(f"aids: {{{RAMP}}}"))
    found, carried, year = lived(asked, machine(lift=58))
    assert found.outcome.can_do[0, 0].tolist() == [True, False]
    assert year == 24000
    assert found.is_ranked[0]
    assert "up stairs nobody" in who_carries(found, 0)
    climber = "stair_climber: {price: 900 EUR, minutes_per_job: 0 min, capacity: 60 kg}"
    asked = brief(job(), upstairs, crew=crew(f"aids: {{{RAMP}, {climber}}}"))
    found, carried, year = lived(asked, machine(lift=58))
    # the climber serves both: no ramp is bought beside it
    assert found.outcome.upfront_lines.aids.item() == 900
    assert carried.way[0, 0].tolist() == [WITH_AID, WITH_AID]
    assert year == 48000


def test_a_rail_without_wheels_changes_something():
    """A base of 58 kg on a ramp beside a rail of 57 kg: nobody carries the rail."""
    rail = (
        "pieces: [{name: all, mass: 58 kg, wheels: true}]",
        "pieces: [{name: all, mass: 58 kg, wheels: true}, {name: rail, mass: 57 kg}]",
    )
    asked = brief(crew=crew(f"aids: {{{RAMP}}}"))
    found, *_ = lived(asked, machine(lift=58), machine(rail, name="Birch", lift=58))
    assert found.is_ranked.tolist() == [True, False]
    (why,) = reasons(found, 1)
    assert why.startswith(
        "The heaviest piece lifted by hand is reckoned at 57 kg; one person lifts up "
        "to 25 kg, 32 kg less. Smallest change: an aid rated for 57 kg"
    )


def test_one_person_of_12_kg_is_not_let_in_with_three_heavy_pieces():
    """58 + 26 + 16 kg are out at 12 kg a person, as a machine of 21 kg is."""
    three = (
        "pieces: [{name: all, mass: 58 kg, wheels: true}]",
        "pieces: [{name: all, mass: 58 kg, wheels: true}, {name: rail, mass: 26 kg}, "
        "{name: case, mass: 16 kg}]",
    )
    asked = brief(
        crew=crew(f"aids: {{{RAMP}}}"), edits=[("lift_limit: 25", "lift_limit: 12")]
    )
    found, *_ = lived(asked, machine(three, lift=58), machine(name="Birch", lift=21))
    assert not found.is_ranked[0]
    assert found.is_ranked[1]  # its one piece is on wheels: up the ramp
    no_wheels = (", wheels: true}", "}")
    found, *_ = lived(
        asked, machine(three, lift=58), machine(no_wheels, name="Birch", lift=21)
    )
    assert not found.is_ranked.any()


def test_a_sheet_without_pieces_is_no_lighter_for_it():
    """Without a list: six such pieces without wheels; a ramp does not help."""
    silent = ("pieces: [{name: all, mass: 30 kg, wheels: true}]\n", "")
    asked = brief(crew=crew(f"aids: {{{RAMP}}}"))
    found, *_ = lived(asked, machine(lift=30), machine(silent, name="Birch", lift=30))
    assert found.is_ranked.tolist() == [True, False]
    steps = working(found, "Birch", "heaviest_lift")
    assert any("none listed: reckoned as 6" in step.how for step in steps)


def test_the_working_says_which_way_and_what_the_next_would_cost():
    """A ramp for 240 is 48 a year over 5 years; hired help 3 280: 3 232 more."""
    asked = brief(crew=crew(f"aids: {{{RAMP}}}", HELP))
    found, *_ = lived(asked)
    steps = {step.what: step for step in working(found, "Alder", "heaviest_lift")}
    assert steps["left with it, aids paid for"].value == pytest.approx(24000 - 48)
    other = steps["it would cost more"]
    assert other.value == pytest.approx(3280 - 48)
    assert other.how == "the next cheapest: by hand, as few as will do"
