"""Every figure that was written, with its range: what the model's numbers rest on.

A figure's range comes from what was written, or from its basis; an unknown one gets the
range of the other machines, so that silence is not rewarded.
"""

from dataclasses import replace

from scoring.evidence.ranges import evidence
from scoring.evidence.sheet_figures import FIELDS, VEHICLE
from scoring.evidence.unknowns import filled
from scoring.inputs.dimensions import RATING
from scoring.inputs.quantity import STATED, Quantity, quantities_of, quantity_at
from scoring.model.money.landed import parts_of_terms

NOT_PAID = Quantity(0.0, 0.0, 0.0, "", "price", STATED)


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
            found[machine.name, path] = evidence(
                machine.name, path, quantity, brief, note
            )
    return found | filled(brief, machines, found)


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
        yield evidence("brief", path, quantity, brief)
