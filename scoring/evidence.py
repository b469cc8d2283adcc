"""Every figure that was written, with its range: what the model's numbers rest on.

A figure's range comes from what was written, or from its basis; an unknown one gets the
range of the other machines, so that silence is not rewarded.
"""

from dataclasses import dataclass, replace

import numpy as np

from scoring.errors import InputFault, InputFaults
from scoring.inputs.dimensions import RATING
from scoring.inputs.quantity import STATED, Quantity, quantities_of, quantity_at, spread
from scoring.model.money.landed import parts_of_terms

# what a machine asks of a vehicle, and the brief's key that it is held against
VEHICLE = {
    "vehicle.longest_piece": "length",
    "vehicle.volume": "volume",
    "vehicle.mass": "payload",
}
HIGH, LOW = "high", "low"
NOT_PAID = Quantity(0.0, 0.0, 0.0, "", "price", STATED)


@dataclass(frozen=True)
class Evidence:
    """One figure as written: low, likely, high in `unit`, and why."""

    owner: str  # a machine's name, or "brief"
    path: str  # the dotted key, as in the file
    low: float
    likely: float
    high: float
    unit: str
    basis: str
    text: str
    currency: str | None = None
    note: str = ""

    @property
    def is_unknown(self):
        return self.basis == "unknown"


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


def gather(brief, machines, rating_names):
    """Return {(owner, path): Evidence} for every figure of the brief and the machines.

    Raises
    ------
    InputFaults
        Where a figure is unknown and fewer than two machines tell theirs.
    """
    found = {(e.owner, e.path): e for e in _brief_evidence(brief)}
    for machine in machines:
        for path, quantity, note in _machine_quantities(brief, machine, rating_names):
            found[machine.name, path] = _evidence(
                machine.name, path, quantity, brief, note
            )
    return found | _filled(brief, machines, found)


def _evidence(owner, path, quantity, brief, note=""):
    """Return the figure with its range; an unknown one still without."""
    none = (np.nan, np.nan, np.nan)
    low, likely, high = none if quantity.is_unknown else spread(quantity, brief.trust)
    return Evidence(
        owner,
        path,
        low,
        likely,
        high,
        quantity.unit,
        quantity.basis,
        quantity.text,
        quantity.currency,
        note or quantity.note,
    )


def _machine_quantities(brief, machine, rating_names):
    """Yield (path, Quantity, note) of every figure that one machine sheet has.

    Each size or mass in a vehicle counts where the brief says what its vehicle takes.
    """
    told = brief.vehicle.model_fields_set
    paths = [f.path for f in FIELDS if VEHICLE.get(f.path, f.path) in {f.path, *told}]
    paths += [f"ratings.{name}" for name in rating_names]
    paths += [f"pieces.{k}.mass" for k in range(len(machine.pieces))]
    paths += [
        f"subscription_fees.{k}.fee" for k, _ in enumerate(machine.subscription_fees)
    ]
    for feature, effect in machine.effects.items():
        paths += [f"effects.{feature}.{field}" for field in effect]
    for path in paths:
        quantity = quantity_at(machine, path)
        if quantity is None and path.startswith("ratings."):
            quantity = RATING.unknown
        if quantity is not None and quantity.is_unknown:
            quantity = _by_terms(machine, path, quantity)
        if quantity is not None:
            yield path, quantity, ""
    for passes, (quantity, origin) in machine.speeds().items():
        yield f"speed.{passes}", quantity, "" if origin == "stated" else origin


def _by_terms(machine, path, unknown):
    """Return 0 for a part of the landed cost that the quote's terms leave to nobody.

    Either the price holds it, or neither side owes it to the other.
    """
    part, terms = path.removeprefix("landed_cost."), machine.landed_cost.terms
    if part == path or terms is None:
        return unknown
    parts = parts_of_terms(terms)
    if part in parts.held:
        return replace(NOT_PAID, unit=unknown.unit, text=f"in the price under {terms}")
    if part in parts.not_asked:
        text = f"nobody owes it under {terms}: ask whether the way is insured"
        return replace(NOT_PAID, unit=unknown.unit, text=text)
    return unknown


def _brief_evidence(brief):
    """Yield the Evidence of every figure of the brief."""
    for path, quantity in quantities_of(brief):
        yield _evidence("brief", path, quantity, brief)


def in_brief_currency(evidence, found, brief):
    """Return what one unit of the figure's currency is in the brief's, likely value."""
    if evidence.currency in (None, brief.currency):
        return 1.0
    return found["brief", f"exchange.{evidence.currency}"].likely


def _filled(brief, machines, found):
    """Return the unknown figures with the range of the machines that tell theirs.

    Low is the best of the others, likely their worse quartile, high their worst; which
    end is better is the field's.
    """
    filled, faults = {}, []
    for (owner, path), evidence in found.items():
        if not evidence.is_unknown:
            continue
        known = np.array(_told(path, machines, found, brief))
        if known.size < 2:
            if _matters(path, owner, brief, machines):
                faults.append(_fault(owner, path, machines, known.size))
            known = np.zeros(1)
        best, likely, worst = _unknown_range(known, _better(path))
        filled[owner, path] = replace(
            evidence,
            low=min(best, worst),
            likely=likely,
            high=max(best, worst),
            currency=None,
            note="not told: best, worse quartile and worst of the other machines",
        )
    if faults:
        raise InputFaults(faults)
    return filled


def _told(path, machines, found, brief):
    """Return the likely figures of the machines that tell theirs, brief's currency."""
    figures = (found.get((machine.name, path)) for machine in machines)
    return [
        figure.likely * in_brief_currency(figure, found, brief)
        for figure in figures
        if figure is not None and not figure.is_unknown
    ]


def _unknown_range(known, better):
    """Return (best, likely, worst): the likely one is the worse quartile."""
    if better == HIGH:
        return known.max(), np.quantile(known, 0.25), known.min()
    return known.min(), np.quantile(known, 0.75), known.max()


def is_high_better(path):
    """Return whether the high end of a machine's figure is the better one."""
    return _better(path) == HIGH


def _better(path):
    """Return which end of a figure is the better one."""
    if path.split(".")[0] in ("speed", "ratings"):
        return HIGH
    return next((field.better for field in FIELDS if field.path == path), LOW)


def _matters(path, owner, brief, machines):
    """Return whether an unknown figure can change the answer."""
    if path == "landed_cost.import_tax":
        return not brief.money.import_tax_recovered
    if path.startswith("ink.white"):
        machine = next(m for m in machines if m.name == owner)
        has_dark_wall = any(job.underbase for job in brief.work)
        return machine.white.mode != "none" and has_dark_wall
    return True


def _fault(owner, path, machines, n_known):
    machine = next(m for m in machines if m.name == owner)
    return InputFault(
        machine.source,
        machine.line_of(path),
        path,
        f"unknown, and only {n_known} of the machines loaded tell theirs",
        "give a range such as low..high, or load two machines that tell it",
    )
