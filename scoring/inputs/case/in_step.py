"""What has to change together: a form changes one field, a file is read as a whole.

Without this a price by the job could never take the place of one by the area, as both
together and neither are faults.
"""

from scoring.inputs.case.edit import REMOVED, at
from scoring.inputs.dimensions import KILOGRAMS
from scoring.inputs.quantity import UNKNOWN, Wrong

# Records that are told whole: a key that is typed first brings the others with it.
WHOLE = {
    "odour": {"preparing": UNKNOWN, "printing": UNKNOWN},
    "carriage": {"strip_width": UNKNOWN, "head_speed": UNKNOWN, "turnaround": UNKNOWN},
}
HIRED = {"allowed": False, "rate": UNKNOWN}
PRICES = {"per_job": ("per_m2", "minimum", "bands"), "per_m2": ("per_job", "bands")}
PRICES |= {"bands": ("per_m2", "per_job")}


def brief_in_step(before, after, changes):
    """Bring what else a brief says into step with {dotted path: value}, in place."""
    for path, value in changes.items():
        parts = path.split(".")
        if parts[0] == "work" and parts[2:3] == ["price"] and value is not REMOVED:
            price = at(after, ".".join(parts[:3]))
            for other in PRICES.get(".".join(parts[3:4]), ()):
                price.pop(other, None)
        if parts[0] == "work" and parts[2:] == ["name"]:
            _rename(after, at(before, path), value)
        if path.startswith("crew.hired_help.") and at(after, "crew.hired_help"):
            _fill(after["crew"]["hired_help"], HIRED)


def sheet_in_step(before, after, changes):
    """Bring what a machine sheet says elsewhere into step, as `brief_in_step`."""
    for path, value in changes.items():
        first, _, rest = path.partition(".")
        if first in WHOLE and rest and isinstance(after.get(first), dict):
            _fill(after[first], WHOLE[first])
        if path == "heaviest_lift" and value is not REMOVED:
            heaviest = _heaviest(before)
            if heaviest is not None:
                after["pieces"][heaviest]["mass"] = value
        if first == "pieces" and _heaviest(after) is not None:
            after["heaviest_lift"] = after["pieces"][_heaviest(after)]["mass"]


def _fill(record, usual):
    for key, value in usual.items():
        record.setdefault(key, value)


def _rename(data, old, new):
    """Let what must be served keep to a kind of job that is called otherwise."""
    must = at(data, "limits.must_serve")
    if isinstance(must, list) and old in must:
        must[must.index(old)] = new


def _heaviest(data):
    """Return the place of the heaviest of the pieces, None where it cannot be told."""
    masses = []
    for piece in data.get("pieces") or []:
        try:
            masses.append(KILOGRAMS.parse(piece["mass"]).likely)
        except (Wrong, KeyError, TypeError):
            return None
    if not masses or None in masses:
        return None
    return max(range(len(masses)), key=masses.__getitem__)
