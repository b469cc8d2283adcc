"""Every figure that was written, with its range: what the model's numbers rest on.

A figure's range comes from what was written, or from its basis; what nobody tells gets
a wide guess, so that silence is not rewarded.
"""

import re
from dataclasses import replace

from scoring.evidence.ranges import evidence
from scoring.evidence.sheet_figures import FIELDS, VEHICLE
from scoring.evidence.unknowns import filled, untold
from scoring.inputs.dimensions import RATING, SHARE
from scoring.inputs.quantity import STATED, Quantity, quantities_of, quantity_at
from scoring.model.money.landed import parts_of_terms

JOBS = re.compile(r"work\.(\d+)\.per_month")
# How far a number of jobs may be off, by what it rests on; own estimate, no source.
JOBS_SPREAD = {
    "sold": (-0.15, 0.0, 0.10),
    "enquiries": (-0.60, -0.25, 0.20),
    "guess": (-0.90, -0.50, 0.50),
}
SURFACES_UNTOLD = Quantity(
    *(0.0, 0.5, 1.0), "", "number", "estimated", (0.0, 1.0), "0..0.5..1"
)
APART = ("bank.", "also.")  # they move no figure of the answer
NOT_PAID = Quantity(0.0, 0.0, 0.0, "", "price", STATED)


def gather(brief, machines, rating_names):
    """Return {(owner, path): Evidence} for every figure of the brief and the machines.

    Raises
    ------
    InputFaults
        For guesses of the brief that cannot be read.
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
    for surface, needs in (machine.surfaces or {}).items():
        paths += [f"surfaces.{surface}.{field}" for field in needs]
    for path in paths:
        quantity = quantity_at(machine, path)
        if quantity is None:
            quantity = RATING.unknown if path.startswith("ratings.") else untold(path)
            quantity = None if path in _stood_in_for(machine) else quantity
        if quantity is not None and quantity.is_unknown:
            quantity = _by_terms(machine, path, quantity)
        if quantity is not None:
            yield path, quantity, ""
    if machine.surfaces is None and any(job.surface for job in brief.work):
        yield "surfaces", SURFACES_UNTOLD, "not told: ask what it prints on"
    for passes, (quantity, origin) in machine.speeds().items():
        yield f"speed.{passes}", quantity, "" if origin == "stated" else origin


def _stood_in_for(machine):
    """Return the keys that a sheet leaves out because another stands for them."""
    no_white = ("ink.white", "ink.white_price", "white.time_factor")
    found = [f.path for f in FIELDS if f.instead]
    return [*found, *(no_white if machine.white.mode == "none" else ())]


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
    """Yield the Evidence of every figure of the brief.

    A number of jobs without a range spreads by what it rests on.
    """
    for path, quantity in [*quantities_of(brief), *_untold_of(brief)]:
        if not path.startswith(APART):
            yield brief_figure(brief, path, quantity)


def brief_figure(brief, path, quantity):
    """Return the Evidence of a figure that stands, or would stand, in a brief."""
    figure = evidence("brief", path, quantity, brief)
    if path == "demand":
        figure = replace(figure, told=1.0)  # what is told of jobs holds for all
    of_job = JOBS.fullmatch(path)
    if of_job and not quantity.is_explicit and not brief.leads_read:
        figure = _by_basis(figure, brief.work[int(of_job[1])].basis)
    return figure


def _untold_of(brief):
    """Return [(path, unknown Quantity)] of what a brief needs and does not tell."""
    crew = brief.crew
    is_asked = crew.paid == "by_month" and crew.people > 1 and crew.on_costs is None
    return [("crew.on_costs", SHARE.unknown)] if is_asked else []


def _by_basis(figure, basis):
    """Return a number of jobs a month with the range of what it rests on."""
    ends = [figure.told * (1 + share) for share in JOBS_SPREAD[basis]]
    return replace(figure, low=ends[0], likely=ends[1], high=ends[2])
