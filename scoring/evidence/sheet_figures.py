"""Every key of a machine sheet, and every figure that the model uses: a row each.

`KEYS` says where each key of a sheet is shown and what settles it; `FIELDS` which
figure of the model it becomes, which end is better, what a sheet without it counts as.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

# what a machine asks of a vehicle, and the brief's key that it is held against
VEHICLE = {
    "vehicle.longest_piece": "length",
    "vehicle.volume": "volume",
    "vehicle.mass": "payload",
}
HIGH, LOW = "high", "low"


@dataclass(frozen=True)
class Field:
    """A figure of the model and the machine-sheet key that it comes from."""

    name: str
    path: str
    better: str
    factor: float = 1.0  # internal unit of the sheet → unit of the model
    absent: float | None = None  # value when the sheet has no such key at all
    instead: str | None = None  # the key that stands in for an absent one


# One row a figure; the model's names left, the sheet's keys right.
FIELDS = (
    Field("price", "price", LOW),
    Field("export_clearance", "landed_cost.export_clearance", LOW, absent=0.0),
    Field("freight", "landed_cost.freight", LOW),
    Field("insurance", "landed_cost.insurance", LOW),
    Field("duty", "landed_cost.duty", LOW),
    Field("import_tax", "landed_cost.import_tax", LOW),
    Field("broker", "landed_cost.broker", LOW, absent=0.0),
    Field("inland_freight", "landed_cost.inland_freight", LOW, absent=0.0),
    Field("vehicle_fitting", "landed_cost.vehicle_fitting", LOW, absent=0.0),
    Field("training", "landed_cost.training", LOW),
    Field("accessories", "landed_cost.accessories", LOW),
    Field("resale", "resale", HIGH),
    Field("upkeep", "upkeep", LOW),
    Field("strip_width_m", "carriage.strip_width", HIGH, absent=np.nan),
    Field("head_speed_m_per_min", "carriage.head_speed", HIGH, 60.0, np.nan),
    Field("turnaround_min", "carriage.turnaround", LOW, absent=np.nan),
    Field("white_time_factor", "white.time_factor", LOW, absent=1.0),
    Field("assembly_min", "assembly_time", LOW),
    Field("pack_down_min", "pack_down_time", LOW),
    Field("prime_min", "prime_time", LOW),
    Field("move_min", "move_time", LOW),
    Field("shift_min", "shift_time", LOW, instead="move_time"),
    Field("rail_length_m", "rail_length", HIGH, absent=np.inf),
    Field("heaviest_lift_kg", "heaviest_lift", LOW),
    Field("longest_piece_m", "vehicle.longest_piece", LOW, absent=0.0),
    Field("loaded_m3", "vehicle.volume", LOW, absent=0.0),
    Field("loaded_kg", "vehicle.mass", LOW, absent=0.0),
    Field("odour_preparing", "odour.preparing", LOW),
    Field("odour_printing", "odour.printing", LOW),
    Field("max_print_height_m", "max_print_height", HIGH, absent=np.inf),
    Field("lowest_print_height_m", "lowest_print_height", LOW, absent=0.0),
    Field("side_clearance_m", "side_clearance", LOW, absent=0.0),
    Field("head_gap_m", "head_gap", HIGH, absent=np.inf),
    Field("ink_colour_ml_per_m2", "ink.colour", LOW),
    Field("ink_white_ml_per_m2", "ink.white", LOW, absent=0.0),
    Field("ink_price_per_ml", "ink.price", LOW, 0.001),
    Field("white_price_per_ml", "ink.white_price", LOW, 0.001, instead="ink.price"),
    Field("purge_ml", "ink.purge", LOW),
    Field("idle_care_ml", "ink.idle_care", LOW),
    Field("idle_every_days", "ink.idle_every", HIGH),
    Field("smallest_order_ml", "ink.smallest_order", LOW, absent=0.0),
    Field("shelf_life_months", "ink.shelf_life", HIGH, absent=np.inf),
    Field("head_price", "wear.head_price", LOW),
    Field("head_life_m2", "wear.head_life", HIGH),
    Field("head_life_months", "wear.head_months", HIGH, absent=np.inf),
    Field("lamp_price", "wear.lamp_price", LOW),
    Field("lamp_life_m2", "wear.lamp_life", HIGH),
    Field("lamp_life_months", "wear.lamp_months", HIGH, absent=np.inf),
    Field("spoilt_share", "spoilt_share", LOW),
    Field("jobs_between_stoppages", "reliability.jobs_between_stoppages", HIGH),
    Field("days_down", "reliability.days_down", LOW),
    Field("response_days", "support.response", LOW),
    Field("parts_days", "support.parts_lead_time", LOW),
)


# Where a seller's figure errs to another side than its kind; own estimates, no source.
LESS = (-0.40, -0.15, 0.0)
MORE = (0.0, 0.15, 0.40)
SELLERS_SHARES = {
    "resale": LESS,
    "ink.idle_every": LESS,
    "max_print_height": LESS,
    "head_gap": LESS,
    "lowest_print_height": MORE,
    "side_clearance": MORE,
    "spoilt_share": (0.0, 0.5, 2.0),
}
SELLERS_STEPS = {"odour": (0.0, 0.5, 1.0), "ratings": (-0.8, -0.3, 0.0)}


class Settle(NamedTuple):
    """What settles a figure before paying."""

    how: str
    where: str  # "visit", "letter", "owners" or "diary"
    is_quick: bool


class Key(NamedTuple):
    """A key of the machine sheet: the group it is shown in, and what settles it."""

    name: str
    group: str
    how: str = ""  # "" where there is no figure to settle
    where: str = "visit"
    is_quick: bool = False

    @property
    def settle(self):
        """What settles it, None where there is nothing to settle."""
        return Settle(self.how, self.where, self.is_quick) if self.how else None


IN_WRITING = Settle("ask the seller for it in writing", "letter", True)
PRICE_OF = Settle("ask the seller for the price in writing", "letter", True)
MONEY, SPEED, TIME = "Money", "Speed", "Time on site"
CARRY, INK = "Lifting and van", "Ink, smell and wear"
WALL, STOPS, REST = "Reach and surfaces", "When it stands still", "The rest"
KEYS = (
    Key("price", MONEY, *IN_WRITING),
    Key("landed_cost", MONEY, *IN_WRITING),
    Key("resale", MONEY, *IN_WRITING),
    Key("upkeep", MONEY, *IN_WRITING),
    Key("subscription_fees", MONEY, *IN_WRITING),
    Key(
        "speed",
        SPEED,
        "time the same picture at the same pass mode twice",
    ),
    Key("pass_modes", SPEED),
    Key("print_tests", SPEED),
    Key(
        "carriage",
        SPEED,
        "time two prints of one width and two heights",
    ),
    Key("rail_length", SPEED, "measure the rail", "visit", True),
    Key("assembly_time", TIME, "time three builds by one person"),
    Key(
        "pack_down_time",
        TIME,
        "time it being packed down, three times",
    ),
    Key(
        "prime_time",
        TIME,
        "time purge, nozzle check and head gap",
    ),
    Key("move_time", TIME, "time the move to a second wall"),
    Key("shift_time", TIME, "time one shift along the wall", "visit", True),
    Key("built_by", TIME),
    Key("builds_before", TIME),
    Key("effects", TIME, "time it with the feature in use"),
    Key(
        "heaviest_lift",
        CARRY,
        "put the heaviest piece on a scale",
        "visit",
        True,
    ),
    Key("pieces", CARRY, "put each piece on a scale", "visit", True),
    Key(
        "vehicle",
        CARRY,
        "measure the crate and the longest piece, weigh it all",
        "visit",
        True,
    ),
    Key(
        "odour",
        INK,
        "three noses on the words of VDI 3882, at once, after an hour, after a day",
        "visit",
        True,
    ),
    Key(
        "ink",
        INK,
        "weigh the ink before and after a print of known area",
    ),
    Key(
        "white",
        INK,
        "time one print with and without white underneath",
    ),
    Key(
        "wear",
        INK,
        "ring two owners: how long heads and lamps lasted",
        "owners",
        True,
    ),
    Key(
        "spoilt_share",
        INK,
        "ring two owners: how many prints went wrong",
        "owners",
        True,
    ),
    Key(
        "max_print_height",
        WALL,
        "print up to the top and measure",
        "visit",
        True,
    ),
    Key(
        "lowest_print_height",
        WALL,
        "print to the floor and measure the strip left",
        "visit",
        True,
    ),
    Key(
        "side_clearance",
        WALL,
        "print into a corner and measure the strip left",
        "visit",
        True,
    ),
    Key(
        "head_gap",
        WALL,
        "measure the widest gap at which it still prints sharp",
        "visit",
        True,
    ),
    Key("surfaces", WALL, *IN_WRITING),
    Key("features", WALL),
    Key(
        "reliability",
        STOPS,
        "ring two owners: how often and how long it stood",
        "owners",
        True,
    ),
    Key(
        "support",
        STOPS,
        "ask in writing, and ring an owner who needed it",
        "letter",
        True,
    ),
    Key(
        "ratings",
        REST,
        "look at your own sample boards with two others",
        "visit",
        True,
    ),
    Key("power", REST),
    Key("noise", REST),
    Key("note", REST),
)


def groups():
    """Return {group: its keys}, in the order in which a sheet is shown."""
    found = {}
    for key in KEYS:
        found.setdefault(key.group, []).append(key.name)
    return found


def settle_of(path):
    """Return what settles a figure of a sheet, None where it has none to settle.

    Examples
    --------
    >>> settle_of("heaviest_lift").how, settle_of("wear.head_price").where
    ('put the heaviest piece on a scale', 'letter')
    """
    first, *_, last = path.split(".") if "." in path else (path, path)
    if last in ("smallest_order", "shelf_life"):
        return IN_WRITING
    key = next(key for key in KEYS if key.name == first)
    if last.endswith("price") and key.settle != IN_WRITING:
        return PRICE_OF
    return key.settle


def is_high_better(path):
    """Return whether the high end of a machine's figure is the better one."""
    return better(path) == HIGH


def better(path):
    """Return which end of a figure is the better one."""
    if path.split(".")[0] in ("speed", "ratings"):
        return HIGH
    return next((field.better for field in FIELDS if field.path == path), LOW)
