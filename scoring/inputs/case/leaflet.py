"""What a leaflet tells of a machine → its sheet; what it does not tell is unknown."""

from typing import NamedTuple

from scoring.errors import ScoringError
from scoring.inputs.case.typed import NOT_TOLD, figure_of, unit_of
from scoring.inputs.dimensions import (
    AREA_SPEED,
    KILOGRAMS,
    METRES,
    MINUTES,
    MONEY,
    MONEY_PER_LITRE,
    MONEY_PER_YEAR,
    Dimension,
)
from scoring.inputs.quantity import UNKNOWN, Wrong
from scoring.inputs.sheet_writer import written_anew

NOTE = "from a leaflet"
QUOTED = "quoted"
PLAN = "the maker's plan"
MODE = 4  # passes, where a leaflet gives a speed and no pass mode; own estimate


class Told(NamedTuple):
    """One field of a leaflet: its key in the sheet, what it is, its dimension."""

    key: str
    label: str
    dimension: Dimension | None
    example: str

    def unit(self, currency):
        """Return the unit of a bare number, "" where there is none."""
        return unit_of(self.dimension, currency) if self.dimension else ""


LEAFLET = (
    Told("name", "Name", None, "as on the leaflet"),
    Told("price", "Price", MONEY, "12 900"),
    Told("fee", "Yearly fee", MONEY_PER_YEAR, "0 if none"),
    Told("speed", "Printing speed", AREA_SPEED, "4,5"),
    Told("passes", "At how many passes", None, "4"),
    Told("assembly_time", "Building it up", MINUTES, "20"),
    Told("heaviest_lift", "Heaviest piece", KILOGRAMS, "16"),
    Told("max_print_height", "Highest it prints", METRES, "2,5"),
    Told("ink_price", "Ink", MONEY_PER_LITRE, "90"),
)


def sheet_of(typed, currency, as_of=""):
    """Return the YAML of a machine sheet of what a leaflet tells.

    Each figure is `quoted`, with its day; “not told” or nothing makes it unknown.

    Parameters
    ----------
    typed : {key of LEAFLET: text}
    currency : of bare sums
    as_of : ISO day, optional

    Raises
    ------
    ScoringError
        With everything that cannot be read, a line each.
    """
    said, found = [], {}
    for field in LEAFLET:
        entry = str(typed.get(field.key, "")).strip()
        try:
            found[field.key] = _read(field, entry, currency, as_of)
        except Wrong as wrong:
            said.append(f"{field.label}: {wrong}")
    if said:
        raise ScoringError("\n".join(said))
    passes = found["passes"] or MODE
    return written_anew(
        {
            "name": found["name"],
            "price": found["price"],
            "speed": {passes: found["speed"]},
            "assembly_time": found["assembly_time"],
            "pack_down_time": UNKNOWN,
            "prime_time": UNKNOWN,
            "move_time": UNKNOWN,
            "heaviest_lift": found["heaviest_lift"],
            "odour": {"preparing": UNKNOWN, "printing": UNKNOWN},
            "ink": {"price": found["ink_price"]},
            "max_print_height": found["max_print_height"],
            "lowest_print_height": UNKNOWN,
            "side_clearance": UNKNOWN,
            "head_gap": UNKNOWN,
            "subscription_fees": [{"name": PLAN, "fee": found["fee"]}],
        }
    )


def copy_of(text, name):
    """Return a sheet's text under another name, comments and all."""
    from scoring.inputs.case.edit import edited

    return edited(text, {"name": name})


def _read(field, entry, currency, as_of):
    """Return one field as the sheet has it."""
    is_told = bool(entry) and entry.lower() not in NOT_TOLD
    if field.key == "name":
        if not is_told:
            raise Wrong("is missing", "the machine's name, or one of your own")
        return entry
    if field.key == "passes":
        if is_told and not (entry.isdecimal() and 1 <= int(entry) <= 99):
            raise Wrong(f"{entry!r} is no number of passes", "1 to 99, such as 4")
        return int(entry) if is_told else None
    if not is_told:
        return UNKNOWN
    value = figure_of(entry, field.dimension, currency)
    about = {"as_of": as_of} if as_of else {}
    return {"value": value, "basis": QUOTED, **about, "note": NOTE}
