"""Who has to be there to carry: alone, with an aid, with a second person, or nobody.

A screening figure, never a legal limit; on stairs no lifting figure applies.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.job.lifting import people_needed

ALONE, WITH_AID, OWN_CREW, HIRED, NOBODY = range(5)
STAIR_SHARE = 0.5  # each flight adds half the level carry; own estimate, no source


class Carrying(NamedTuple):
    """How the heaviest lift is done; each of shape (draw, machine, 1)."""

    way: np.ndarray  # ALONE .. NOBODY
    people_needed: np.ndarray  # by the team-handling filter, inf when none will do
    hired: np.ndarray  # people from outside on each visit
    present: np.ndarray  # own crew and hired
    aid: np.ndarray  # index of the aid used, -1 for none
    aid_price: np.ndarray
    aid_min: np.ndarray  # minutes a job


def carrying(machines, business):
    """Return who carries, in the order alone, aid, own second person, hired help.

    Hired help is worked out whether or not the brief allows it, so that its cost can be
    named; screening decides.
    """
    mass = machines.heaviest_lift_kg
    needed = people_needed(mass, business.lift_limit_kg)
    can_aid = (mass <= business.aid_capacity_kg) & (
        machines.heaviest_rolls | ~business.aid_needs_wheels
    )
    is_alone = needed <= 1
    is_aided = ~is_alone & can_aid.any(axis=-1, keepdims=True)
    is_own = needed <= business.people
    way = np.select(
        [is_alone, is_aided, is_own, np.isfinite(needed)],
        [ALONE, WITH_AID, OWN_CREW, HIRED],
        NOBODY,
    )
    hired = np.where(way == HIRED, needed - business.people, 0.0)
    aid = np.where(is_aided, _first(can_aid), -1)
    return Carrying(
        way,
        needed,
        hired,
        business.people + hired,
        aid,
        _of_aid(business.aid_price, aid),
        _of_aid(business.aid_min_per_job, aid),
    )


def _first(can_aid):
    """Return the index of the first aid that will do; 0 where there is none."""
    if can_aid.shape[-1] == 0:
        return np.zeros(can_aid.shape[:-1] + (1,), int)
    return can_aid.argmax(axis=-1)[..., None]


def _of_aid(figure, aid):
    """Return the chosen aid's figure, 0 where none is used."""
    if figure.shape[-1] == 0:
        return np.zeros(aid.shape)
    figure = np.broadcast_to(figure, aid.shape[:-1] + figure.shape[-1:])
    return np.where(aid >= 0, np.take_along_axis(figure, np.maximum(aid, 0), -1), 0.0)


def trips(machines, business, carried):
    """Return the trips from vehicle to wall, one way: (draw, machine, 1), 1 or more.

    Each piece takes as many bearers as the team-handling filter asks; a piece that
    rolls, or goes by an aid, takes one. Without a list of pieces: one trip.
    """
    mass = machines.piece_kg
    is_piece = np.isfinite(mass)
    bearers = people_needed(np.where(is_piece, mass, 0.0), business.lift_limit_kg)
    is_single = machines.piece_rolls | (carried.aid >= 0) | ~np.isfinite(bearers)
    bearers = np.where(is_single, 1.0, np.minimum(bearers, carried.present))
    total = (bearers * is_piece).sum(axis=-1, keepdims=True)
    return np.maximum(1.0, np.ceil(total / carried.present - 1e-9))


def carry_minutes(machines, jobs, business, carried):
    """Return minutes to carry everything in, one way: (draw, machine, job)."""
    one_trip = jobs.carry_min * (1 + STAIR_SHARE * jobs.stairs)
    return trips(machines, business, carried) * one_trip + carried.aid_min / 2


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
