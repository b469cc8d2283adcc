"""How machines are judged, as a form has it: scales, criteria, trust, guesses."""

from scoring.inputs.brief import Brief, CriterionChange
from scoring.inputs.case.edit import at
from scoring.inputs.case.fields import CHANGES, NUMBERS, FormField, fields_of
from scoring.inputs.quantity import BASES, UNKNOWN

SPREAD = tuple(basis for basis in BASES if basis not in (UNKNOWN, "stated"))
OWN = ("rating", "better")  # of a criterion that is the buyer's own


def criterion_fields(name, is_own):
    """Return the FormFields of one criterion: its scale, then what a brief changes."""
    place = f"criteria.{name}."
    changed = [
        field
        for field in fields_of(CriterionChange, place)
        if is_own or field.path.removeprefix(place) not in OWN
    ]
    return (FormField(f"scale.{name}", NUMBERS), *changed)


def spread_field(basis, kind):
    """Return the FormField of how far a kind of figure may be off, by its basis."""
    return FormField(f"trust.{basis}.{kind}", CHANGES)


def together_field():
    """Return the FormField of how much one seller's figures err together."""
    return next(f for f in fields_of(Brief) if f.path == "trust.together")


def guess_change(data, key, typed):
    """Return {path: value}, the change of one of a brief's guesses; {} for none.

    The keys of guesses have dots in them, so that they are changed as a whole.
    """
    held, entry = at(data, "guesses", {}), typed.strip()
    if held.get(key, "") == entry:
        return {}
    rest = {name: text for name, text in held.items() if name != key}
    return {"guesses": rest | ({key: entry} if entry else {})}
