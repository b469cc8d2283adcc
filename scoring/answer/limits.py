"""Which machines the buyer's limits rule out, and by how much."""

from enum import StrEnum
from typing import NamedTuple

import numpy as np

from scoring.model.job.lifting import LARGEST_TEAM, team_limit_kg
from scoring.model.job.vehicle import NONE_FITS

SLACK = 1e-9


class LimitKind(StrEnum):
    """What a limit of the brief is about."""

    LIFT = "lift"
    VEHICLE = "vehicle"
    CASH = "cash"  # on the day
    LOW_POINT = "low_point"  # cash and credit by the month
    HIGHEST_UPFRONT = "highest_upfront"
    MUST_HAVE = "must_have"
    MUST_SERVE = "must_serve"


MUSTS = (LimitKind.MUST_HAVE, LimitKind.MUST_SERVE)  # a plan can keep or break them
FUNDS = (LimitKind.CASH, LimitKind.LOW_POINT)
PRICED = (*FUNDS, LimitKind.HIGHEST_UPFRONT)  # a lower price mends them


class Limit(NamedTuple):
    """One limit of the brief against every machine; arrays (draw, machine).

    A machine breaks it where `figure` exceeds `allowed`. For must-haves a figure of 1
    is missing; `subject` says which one, or which measure of the vehicle.
    """

    kind: LimitKind
    subject: str
    figure: np.ndarray
    allowed: np.ndarray
    unit: str

    @property
    def is_broken(self):
        return self.figure > self.allowed + SLACK


def limits(brief, features, figures, outcome, by_month):
    """Return every Limit of the brief.

    `features` holds each machine's features in use; `figures` are what the model is
    given, `outcome` what follows from them and `by_month` its Months.
    """
    found = own_limits(brief, figures, outcome, by_month)
    return found + must_limits(brief, features, figures.jobs, outcome)


def own_limits(brief, figures, outcome, by_month):
    """Return the Limits that no plan changes: what is lifted, loaded and paid."""
    machines, _, business = figures
    upfront = outcome.upfront[..., 0]
    found = [_lift(machines, business, outcome)]
    found += _vehicle(machines, business, outcome)
    return found + money_limits(brief, business, upfront, by_month)


def money_limits(brief, business, upfront, by_month):
    """Return the Limits that a lower price mends; `upfront` is (draw, machine)."""
    found = []
    if business.payment.way != "lease":
        found.append(
            _money(LimitKind.CASH, upfront, business.cash + business.credit, brief)
        )
    if tells_timing(brief) and not brief.owned:  # rigs bring money of their own
        lowest, funds = by_month.lowest, by_month.funds
        found.append(Limit(LimitKind.LOW_POINT, "", -lowest, funds, brief.currency))
    if brief.limits.highest_upfront is not None:
        found.append(
            _money(LimitKind.HIGHEST_UPFRONT, upfront, business.highest_upfront, brief)
        )
    return found


def must_limits(brief, features, jobs, outcome):
    """Return the Limits that a plan can keep or break: must-haves and must-serves."""
    upfront, found = outcome.upfront[..., 0], []
    for feature in brief.limits.must_have:
        is_missing = np.array([[feature not in have for have in features]])
        found.append(_missing(LimitKind.MUST_HAVE, feature, is_missing, upfront))
    for k in np.flatnonzero(jobs.is_must[0, 0]):
        found.append(
            _missing(
                LimitKind.MUST_SERVE,
                brief.work[k].name,
                ~outcome.can_do[..., k],
                upfront,
            )
        )
    return found


def tells_timing(brief):
    """Return whether the brief says how the machine is paid for or how work comes.

    Only then does cash by the month rule out: nothing is ruled out by the toolkit's own
    estimates alone.
    """
    return bool({"payment", "trade"} & brief.model_fields_set)


def _money(kind, upfront, allowed, brief):
    return Limit(kind, "", upfront, allowed[..., 0] + 0 * upfront, brief.currency)


def _missing(kind, subject, is_missing, like):
    return Limit(kind, subject, is_missing + 0 * like, 0 * like, "")


def _vehicle(machines, business, outcome):
    """Return what the machine asks of a vehicle against the buyer's own.

    A larger one that can be hired or bought costs money instead of ruling out.
    """
    is_out = outcome.loaded.way[..., 0] == NONE_FITS
    found = []
    for subject, figure, allowed, unit in (
        ("length", machines.longest_piece_m, business.vehicle_length_m, "m"),
        ("volume", machines.loaded_m3, business.vehicle_m3, "m³"),
        ("payload", machines.loaded_kg, business.payload_kg, "kg"),
    ):
        figure, allowed = figure[..., 0] + 0 * is_out, allowed[..., 0]
        allowed = np.where(is_out, allowed, np.maximum(allowed, figure))
        found.append(Limit(LimitKind.VEHICLE, subject, figure, allowed, unit))
    return found


def helps(brief):
    """Return whether the brief allows hired help."""
    return brief.crew.hired_help is not None and brief.crew.hired_help.allowed


def _lift(machines, business, outcome):
    """Return the heaviest piece that is lifted by hand against what may be lifted.

    On the way to the kind of job that asks least of those who carry.
    """
    carried = outcome.carried
    shape = np.broadcast_shapes(carried.by_hand_kg.shape, carried.short_kg.shape)
    easiest = carried.short_kg.argmin(axis=-1)[..., None]
    mass, short = (
        np.take_along_axis(np.broadcast_to(each, shape), easiest, -1)[..., 0]
        for each in (carried.by_hand_kg, carried.short_kg)
    )
    team = np.where(machines.may_hire, LARGEST_TEAM, business.people)
    allowed = team_limit_kg(np.minimum(team, LARGEST_TEAM), business.lift_limit_kg)
    allowed = np.where(short > 0, mass - short, np.maximum(allowed[..., 0], mass))
    return Limit(LimitKind.LIFT, "", mass, allowed, "kg")
