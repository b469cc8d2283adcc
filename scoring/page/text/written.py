"""What files hold, in words: each entry, its figure with its range, its basis."""

from scoring.inputs.quantity import Quantity, parts_of
from scoring.words.figures import figure, joined, number

LEAF = (Quantity, str, bool, int, float)
BASES = {
    "measured": "measured",
    "quoted": "quoted by the seller",
    "estimated": "estimated",
    "stated": "as you state it",
    "unknown": "not told",
}


def basis(name):
    """Return a figure's basis in words, "" where it has none of its own."""
    return BASES.get(name, "")


def leaves(record, path=""):
    """Yield (dotted path, value) of what a record holds, plain lists as one.

    Names are left out: what has one is called by it.
    """
    for key, value in parts_of(record).items():
        here = f"{path}{key}"
        is_list = isinstance(value, tuple) and all(isinstance(x, LEAF) for x in value)
        if key == "name":
            continue
        if is_list or value is None or isinstance(value, LEAF):
            yield here, value
        else:
            yield from leaves(value, f"{here}.")


def is_written(record, path):
    """Return whether the file itself says this, or a default stands in for it."""
    for key in path.split("."):
        written = getattr(record, "model_fields_set", None)
        if written is not None and key not in written:
            return False
        record = parts_of(record)[key]
    return True


def value_text(value, is_us):
    """Return what a file says of one thing, figures in the units chosen."""
    if value is None:
        return "–"
    if isinstance(value, Quantity):
        if value.is_unknown:
            return "not told"
        return amount(value.low, value.likely, value.high, value.unit, is_us)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return joined(str(word).replace("_", " ") for word in value) or "–"
    return str(value).replace("_", " ") if isinstance(value, str) else number(value, 2)


def amount(low, likely, high, unit, is_us):
    """Return a figure with its range in words: likely (lowest to highest)."""
    ends = [figure(end, unit, is_us) for end in (low, likely, high)]
    if ends[0] == ends[2]:
        return ends[1]
    first, last = (end.partition(" ")[0] for end in (ends[0], ends[2]))
    return f"{ends[1]} ({first} to {last})"
