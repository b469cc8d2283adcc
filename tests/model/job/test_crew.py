"""Who carries every piece, and what hired carriers cost; worked out by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.model.job import crew
from scoring.model.job.crew import ALONE, HIRED, NOBODY, OWN_CREW, WITH_AID
from scoring.model.job.site_time import site_time
from tests.model.builders import business, jobs, machines

# capacity, price, minutes a job, on wheels alone, up stairs too
RAMP = (80.0, 240.0, 8.0, True, False)
CLIMBER = (60.0, 900.0, 12.0, False, True)
TAIL_LIFT = (200.0, 1900.0, 5.0, False, False)


def carried(pieces, job=None, rolls=False, bought=(), aids=(), **more):
    """Return the Carrying of pieces (kg) with the aids of the brief that are bought."""
    of_machine = ("crew", "hires_first", "may_hire")
    way = {key: more.pop(key) for key in of_machine if key in more}
    machine = machines(
        {"heaviest_lift_kg": max(pieces)},
        pieces=pieces,
        rolls=rolls,
        bought=bought,
        **way,
    )
    return crew.carrying(machine, jobs(job or {}), business(aids=aids, **more))


def way(*pieces, **more):
    return carried(pieces, **more).way.item()


def test_who_carries_by_the_team_handling_filter():
    """A 25 kg limit: 25 kg alone, 33 kg two, 37 kg three, 38 kg nobody."""
    # two: 2 × 25 × 2/3 = 33.3; three: 3 × 25 × 1/2 = 37.5 (HSE team handling)
    assert way(25) == ALONE
    assert way(33, people=2) == OWN_CREW
    assert way(33) == HIRED
    assert way(33, may_hire=False) == NOBODY
    assert way(37, people=2) == HIRED
    assert way(37, people=2, may_hire=False) == NOBODY
    assert way(38, people=3) == NOBODY


def test_every_piece_is_screened():
    """58 + 26 + 16 kg at 12 kg a person; a rail of 57 kg beside a base on a ramp."""
    # Alone with 12 kg the base may roll up a ramp; 26 and 16 kg stay to be lifted.
    small = {"lift_limit_kg": 12, "may_hire": False}
    found = carried((58, 26, 16), aids=[RAMP], bought=[True], **small)
    assert found.way.item() == NOBODY
    assert found.short_kg.item() == pytest.approx(58 - 12)  # without wheels
    assert way(21, **small) == NOBODY
    # With wheels under the base alone, the heaviest by hand is the rail.
    machine = machines(pieces=(58, 57), bought=[True], may_hire=False)
    machine = machine._replace(piece_rolls=np.array([[[True, False]]]))
    found = crew.carrying(machine, jobs(), business(aids=[RAMP]))
    assert found.way.item() == NOBODY
    assert found.by_hand_kg.item() == 57
    assert found.short_kg.item() == 57 - 25


def test_an_aid_takes_what_it_can():
    """A ramp needs wheels, each aid has its rating, what is not bought does nothing."""
    one = {"aids": [RAMP], "bought": [True], "may_hire": False}
    assert way(80, rolls=True, **one) == WITH_AID
    assert way(81, rolls=True, **one) == NOBODY
    assert way(50, **one) == NOBODY
    assert way(50, rolls=True, **one | {"bought": [False]}) == NOBODY
    both = one | {"aids": [RAMP, CLIMBER], "bought": [True, True]}
    found = carried((50, 60), **both)
    assert found.way.item() == WITH_AID
    assert found.aid_price.item() == 240 + 900
    assert found.aid_min.item() == 12  # the ramp takes none of them


def test_up_stairs_go_hands_or_a_stair_climber():
    """A 58 kg base on wheels up three flights: no ramp, no tail-lift; the climber."""
    stairs = {"job": {"stairs": 3}, "rolls": True, "may_hire": False}
    aids = [RAMP, TAIL_LIFT, CLIMBER]
    assert way(58, aids=aids, bought=[True, True, False], **stairs) == NOBODY
    assert way(58, aids=aids, bought=[False, False, True], **stairs) == WITH_AID
    assert way(61, aids=aids, bought=[True, True, True], **stairs) == NOBODY
    assert way(33, people=2, **stairs) == OWN_CREW
    # one machine on the level and up stairs
    machine = machines(pieces=(58,), rolls=True, bought=[True], may_hire=False)
    both = jobs({}, {"stairs": 1})
    found = crew.carrying(machine, both, business(aids=[RAMP]))
    assert found.way[0, 0].tolist() == [WITH_AID, NOBODY]


def test_so_many_go_as_are_needed_and_no_fewer_than_planned():
    """36 kg takes three: one owner and two hired, or the crew's own two and one."""
    found = carried((36,))
    assert (found.people_needed.item(), found.own.item(), found.hired.item()) == (
        3,
        1,
        2,
    )
    pair = carried((36,), people=2)
    assert (pair.own.item(), pair.hired.item(), pair.present.item()) == (2, 1, 3)
    asks = carried((36,), people=2, hires_first=True)
    assert (asks.own.item(), asks.hired.item()) == (1, 2)
    # A light machine: one of two goes, unless two are to go at least.
    assert carried((20,), people=2).own.item() == 1
    assert carried((20,), people=2, crew=2).own.item() == 2
    up = {"people": 2, "crew": (1, 2)}
    assert carried((20,), **up).own.item() == 1
    assert carried((20,), job={"stairs": 1}, **up).own.item() == 2


def test_trips_follow_pieces_and_people():
    """Pieces of 20, 18 and 30 kg: 1 + 1 + 2 bearers; alone 3 trips, two people 2."""
    # alone with 25 kg: the 30 kg piece is beyond one, so help is hired: 4 bearers / 2
    assert crew.trips(carried((20, 18, 30))).item() == 2
    assert crew.trips(carried((20, 18, 15))).item() == 3
    assert crew.trips(carried((20, 18, 15), people=2, crew=2)).item() == 2
    assert crew.trips(carried((20,))).item() == 1
    # by an aid each takes one bearer
    lifted = carried((20, 18, 60), aids=[TAIL_LIFT], bought=[True])
    assert crew.trips(lifted).item() == 3


def test_stairs_and_aids_lengthen_the_carry():
    """5 min a trip, two flights: × 2 = 10; an aid of 12 min a job adds 6 each way."""
    found = carried((50,), job={"stairs": 2}, aids=[CLIMBER], bought=[True])
    assert crew.carry_minutes(jobs({"stairs": 2}), found).item() == 5 * 2 + 6


def hired_cost(mass, job, **buyer):
    """Return what hired carriers cost with one piece of this mass."""
    buyer = business(**buyer)
    machine = machines({"heaviest_lift_kg": mass})
    found = crew.carrying(machine, job, buyer)
    site = site_time(machine, job, buyer, crew.carry_minutes(job, found))
    return crew.hired_help_cost(buyer, found, site).item()


def test_hired_help_takes_the_cheaper_of_whole_visit_and_two_call_outs():
    """At 20 an hour and at least two hours a call: visit 185 min against 2 × 120."""
    # visit: carry 10 + 30 + 10 + 20 + 15 + mask 40 + print 60 = 185 min
    # two call-outs of at least 120 = 240 → whole visit 185/60 × 20 = 61.67
    assert hired_cost(30, jobs()) == pytest.approx(185 / 60 * 20)
    # a 12 × 2 m wall: print 240, 3 shifts 45 → 410 min; two call-outs 240 → 80
    assert hired_cost(30, jobs({"width_m": 12})) == pytest.approx(240 / 60 * 20)


def test_a_machine_built_anew_needs_its_carriers_every_day():
    """Three days of building anew cost three times the carriers of one."""
    # window 280, 12 × 2.5 m: three days (see the site-time test); on site 640 / 3 = 213
    # a day: min(213.3, 2 × 120 = 240) = 213.3 → 3 × 213.3 / 60 × 20 = 213.3
    wall = jobs({"width_m": 12, "height_m": 2.5, "stays_built": False})
    assert hired_cost(30, wall, day_min=280) == pytest.approx(640 / 60 * 20)


def test_nobody_hired_costs_nothing():
    """A piece that one person carries needs no hired help."""
    assert hired_cost(20, jobs()) == 0


def test_draws_and_machines_broadcast():
    """Two draws of the lift limit and three machines: shape (2, 3, 1)."""
    fleet = machines(*({"heaviest_lift_kg": m} for m in (20, 30, 36)))
    buyer = business()._replace(lift_limit_kg=np.array([[[25.0]], [[40.0]]]))
    ways = crew.carrying(fleet, jobs(), buyer).way
    assert ways[..., 0].tolist() == [[ALONE, HIRED, HIRED], [ALONE, ALONE, ALONE]]


masses = st.lists(st.floats(1, 90), min_size=1, max_size=4)


@given(
    pieces=masses,
    lighter=st.floats(0.1, 1),
    stairs=st.integers(0, 1),
    bought=st.lists(st.booleans(), min_size=3, max_size=3),
    rolls=st.booleans(),
    people=st.integers(1, 3),
)
def test_lighter_pieces_ask_for_no_more(pieces, lighter, stairs, bought, rolls, people):
    """With the same aids: no more people, no more trips of so many, no more minutes."""
    asked = {
        "job": {"stairs": stairs},
        "rolls": rolls,
        "bought": bought,
        "aids": [RAMP, CLIMBER, TAIL_LIFT],
        "people": people,
        "crew": 3,
    }
    heavy = carried(pieces, **asked)
    light = carried([lighter * mass for mass in pieces], **asked)
    assert light.people_needed.item() <= heavy.people_needed.item()
    assert light.short_kg.item() <= heavy.short_kg.item()
    assert crew.trips(light).item() <= crew.trips(heavy).item()
