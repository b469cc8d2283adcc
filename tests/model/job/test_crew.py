"""Who carries, in which order, and what hired carriers cost; worked out by hand."""

import numpy as np
import pytest

from scoring.model.job import crew
from scoring.model.job.crew import ALONE, HIRED, NOBODY, OWN_CREW, WITH_AID
from scoring.model.job.site_time import site_time
from tests.model.builders import business, jobs, machines

RAMP = (80.0, 240.0, 8.0, True)
CLIMBER = (60.0, 900.0, 12.0, False)


def way(mass, **buyer):
    machine = machines({"heaviest_lift_kg": mass})
    return crew.carrying(machine, business(**buyer)).way.item()


def test_order_is_alone_then_aid_then_second_person_then_nobody():
    """A 25 kg limit: 25 kg alone, 33 kg two, 37 kg three, 38 kg nobody; aids first."""
    # two: 2 × 25 × 2/3 = 33.3; three: 3 × 25 × 1/2 = 37.5 (HSE team handling)
    assert way(25) == ALONE
    assert way(33, people=2) == OWN_CREW
    assert way(33) == HIRED
    assert way(37, people=2) == HIRED
    assert way(38, people=3) == NOBODY
    assert way(33, people=2, aids=[RAMP]) == WITH_AID
    assert way(81, people=2, aids=[RAMP]) == NOBODY


def test_ramp_needs_wheels_and_the_cheapest_aid_that_does_is_used():
    """A base without wheels takes the stair climber though the ramp is cheaper."""
    rigid = machines({"heaviest_lift_kg": 50, "heaviest_rolls": False})
    rolling = machines({"heaviest_lift_kg": 50})
    buyer = business(aids=[RAMP, CLIMBER])
    assert crew.carrying(rigid, buyer).aid_price.item() == 900
    assert crew.carrying(rolling, buyer).aid_price.item() == 240


def test_two_hired_where_one_is_there_and_three_are_needed():
    """36 kg takes three by the filter: one owner and two hired."""
    carried = crew.carrying(machines({"heaviest_lift_kg": 36}), business())
    assert carried.people_needed.item() == 3
    assert carried.hired.item() == 2
    assert carried.present.item() == 3


def test_trips_follow_pieces_and_people():
    """Pieces of 20, 18 and 30 kg: 1 + 1 + 2 bearers; alone 3 trips, two people 2."""
    # alone with 25 kg: the 30 kg piece is beyond one, so help is hired: 4 bearers / 2
    pieces = machines({"heaviest_lift_kg": 30}, pieces=(20, 18, 30))
    alone = business()
    assert crew.trips(pieces, alone, crew.carrying(pieces, alone)).item() == 2
    light = machines({"heaviest_lift_kg": 20}, pieces=(20, 18, 15))
    assert crew.trips(light, alone, crew.carrying(light, alone)).item() == 3
    pair = business(people=2)
    assert crew.trips(light, pair, crew.carrying(light, pair)).item() == 2
    unlisted = machines()
    assert crew.trips(unlisted, alone, crew.carrying(unlisted, alone)).item() == 1


def test_stairs_and_aids_lengthen_the_carry():
    """5 min a trip, two flights: × 2 = 10; an aid of 8 min a job adds 4 each way."""
    machine = machines({"heaviest_lift_kg": 50})
    buyer = business(aids=[RAMP])
    carried = crew.carrying(machine, buyer)
    minutes = crew.carry_minutes(machine, jobs({"stairs": 2}), buyer, carried)
    assert minutes.item() == 5 * 2 + 4


def hired_cost(machine, job, **buyer):
    buyer = business(**buyer)
    carried = crew.carrying(machine, buyer)
    carry = crew.carry_minutes(machine, job, buyer, carried)
    site = site_time(machine, job, buyer, carry)
    return crew.hired_help_cost(buyer, carried, site).item()


def test_hired_help_takes_the_cheaper_of_whole_visit_and_two_call_outs():
    """At 20 an hour and at least two hours a call: visit 185 min against 2 × 120."""
    # visit: carry 10 + 30 + 10 + 20 + 15 + mask 40 + print 60 = 185 min
    # two call-outs of at least 120 = 240 → whole visit 185/60 × 20 = 61.67
    heavy = {"heaviest_lift_kg": 30}
    assert hired_cost(machines(heavy), jobs()) == pytest.approx(185 / 60 * 20)
    # a 12 × 2 m wall: print 240, 3 shifts 45 → 410 min; two call-outs 240 → 80
    long_wall = jobs({"width_m": 12})
    assert hired_cost(machines(heavy), long_wall) == pytest.approx(240 / 60 * 20)


def test_a_machine_built_anew_needs_its_carriers_every_day():
    """Three days of building anew cost three times the carriers of one."""
    # window 280, 12 × 2.5 m: three days (see the site-time test); on site 640 / 3 = 213
    # a day: min(213.3, 2 × 120 = 240) = 213.3 → 3 × 213.3 / 60 × 20 = 213.3
    wall = jobs({"width_m": 12, "height_m": 2.5, "stays_built": False})
    cost = hired_cost(machines({"heaviest_lift_kg": 30}), wall, day_min=280)
    assert cost == pytest.approx(640 / 60 * 20)


def test_nobody_hired_costs_nothing():
    """A piece that one person carries needs no hired help."""
    assert hired_cost(machines(), jobs()) == 0


def test_draws_and_machines_broadcast():
    """Two draws of the lift limit and three machines: shape (2, 3, 1)."""
    fleet = machines(*({"heaviest_lift_kg": m} for m in (20, 30, 36)))
    buyer = business()._replace(lift_limit_kg=np.array([[[25.0]], [[40.0]]]))
    ways = crew.carrying(fleet, buyer).way
    assert ways[..., 0].tolist() == [[ALONE, HIRED, HIRED], [ALONE, ALONE, ALONE]]
