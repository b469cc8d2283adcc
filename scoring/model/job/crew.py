"""Who has to be there to carry: alone, with an aid, with a second person, or nobody.

Every piece is screened. The buyer decides for each machine which aids are bought and
how many people go out at least; on each job as many more go as its pieces ask for.
Screening figures, never a legal limit; on stairs no lifting figure applies.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.job.lifting import LARGEST_TEAM, people_needed, team_limit_kg
from scoring.model.numbers import over_jobs

ALONE, WITH_AID, OWN_CREW, HIRED, NOBODY = range(5)
STAIR_SHARE = 0.5  # each flight adds half the level carry; own estimate, no source


class Carrying(NamedTuple):
    """How the pieces are carried to each kind of job; (draw, machine, job or 1)."""

    way: np.ndarray  # ALONE .. NOBODY
    people_needed: np.ndarray  # by the team-handling filter, inf when none will do
    own: np.ndarray  # of the crew, on each visit
    hired: np.ndarray  # people from outside on each visit
    present: np.ndarray  # own crew and hired
    bearers: np.ndarray  # over all pieces, as each asks for so many
    by_hand_kg: np.ndarray  # the heaviest piece that no aid takes, 0 for none
    short_kg: np.ndarray  # of it beyond what may be lifted; 0 where it is carried
    is_aided: np.ndarray  # bool: a piece that one person does not lift goes by an aid
    aid_min: np.ndarray  # minutes a job
    aid_price: np.ndarray  # of the aids bought, (draw, machine, 1)


def carrying(machines, jobs, business):
    """Return the Carrying of every machine to every kind of job.

    On the level an aid takes the pieces within its rating, a ramp those on wheels; up
    stairs only a stair climber does. The crew's own people go before others are hired,
    unless the buyer's way is to hire first. What nobody may carry is reckoned with as
    many hired as the filter asks, three at most together: screening rules it out, and
    this says what it would cost.
    """
    price = np.where(machines.aid_bought, business.aid_price, 0.0)
    aid_price = over_jobs(price)
    has_stairs = np.broadcast_to(jobs.stairs > 0, (1, 1, np.shape(jobs.stairs)[-1]))
    level = machines.crew_level, machines.aid_bought
    if not has_stairs.any():
        return Carrying(*_on(machines, business, *level), aid_price)
    climbing = machines.aid_bought & business.aid_climbs
    climbed = _on(machines, business, machines.crew_stairs, climbing)
    if has_stairs.all():
        return Carrying(*climbed, aid_price)
    pairs = zip(climbed, _on(machines, business, *level), strict=True)
    return Carrying(*(np.where(has_stairs, *pair) for pair in pairs), aid_price)


def _on(machines, business, at_least, is_at_hand):
    """Return the fields of Carrying but the last, each (draw, machine, 1).

    With so many people `at_least`, and the aids that are at hand.
    """
    is_piece = np.isfinite(machines.piece_kg)
    mass = np.where(is_piece, machines.piece_kg, 0.0)
    limit = business.lift_limit_kg
    by_hand = people_needed(mass, limit)
    is_able, aid_min = _aids(machines, business, mass, by_hand > 1, is_at_hand)
    by_hand_kg = _most(np.where(is_able, 0.0, mass))
    is_aided = _most(is_able & (by_hand > 1)) > 0
    asked = np.where(is_able, 1.0, by_hand)
    needed = _most(asked)
    team = business.people + np.where(machines.may_hire, LARGEST_TEAM, 0)
    is_carried = needed <= team
    wanted = np.maximum(np.minimum(needed, LARGEST_TEAM), at_least)
    own = np.minimum(wanted, np.where(machines.hires_first, 1, business.people))
    hired = np.where(machines.may_hire | ~is_carried, wanted - own, 0.0)
    most = team_limit_kg(np.clip(team, 1, LARGEST_TEAM), limit)
    present = own + hired
    bearers = np.where(machines.piece_rolls, 1.0, asked)
    bearers = over_jobs(np.minimum(bearers, present), is_piece)
    way = np.select(
        [~is_carried, hired > 0, own > 1, is_aided], [NOBODY, HIRED, OWN_CREW, WITH_AID]
    )
    short_kg = np.where(is_carried, 0.0, np.maximum(by_hand_kg - most, 0.0))
    return (
        *(way, needed, own, hired, present, bearers),
        *(by_hand_kg, short_kg, is_aided, aid_min),
    )


def _most(of_pieces):
    return of_pieces.max(axis=-1, keepdims=True)


def _aids(machines, business, mass, is_heavy, is_at_hand):
    """Return (bool (draw, machine, piece): an aid takes it, minutes a job).

    Each heavy piece goes by the first of the aids at hand, the cheapest, that takes it.
    """
    is_able, minutes = np.zeros(mass.shape, bool), 0.0
    for a in np.flatnonzero(np.any(is_at_hand, axis=(0, 1))):
        one = (..., slice(a, a + 1))
        can = is_at_hand[one] & (mass <= business.aid_capacity_kg[one])
        can = can & (machines.piece_rolls | ~business.aid_needs_wheels[one])
        is_used = _most(can & ~is_able & is_heavy)
        minutes = minutes + np.where(is_used, business.aid_min_per_job[one], 0.0)
        is_able = is_able | can
    return is_able, minutes + np.zeros((*mass.shape[:-1], 1))


def trips(carried):
    """Return the trips from vehicle to wall, one way: (draw, machine, job or 1).

    1 or more. Each piece takes as many bearers as the team-handling filter asks; a
    piece that rolls, or goes by an aid, takes one.
    """
    return np.maximum(1.0, np.ceil(carried.bearers / carried.present - 1e-9))


def carry_minutes(jobs, carried):
    """Return minutes to carry everything in, one way: (draw, machine, job)."""
    one_trip = jobs.carry_min * (1 + STAIR_SHARE * jobs.stairs)
    return trips(carried) * one_trip + carried.aid_min / 2


def hired_help_cost(business, carried, site):
    """Return the cost of hired carriers a job: (draw, machine, job), currency.

    A carrying day costs the cheaper of the whole visit or two call-outs (in: carry and
    build; out: pack down and carry), each at least the minimum hours.
    """
    least = business.help_minimum_min
    builds = site.builds
    whole = np.maximum(site.on_site_min / builds, least)
    parts = site.parts
    half_carry = parts.carry / builds / 2
    call_in = np.maximum(half_carry + parts.assembly / builds, least)
    call_out = np.maximum(half_carry + parts.pack_down / builds, least)
    minutes = builds * np.minimum(whole, call_in + call_out)
    cost = carried.hired * minutes / 60 * business.help_rate_per_h
    return np.where(carried.hired > 0, cost, 0.0)
