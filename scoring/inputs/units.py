"""Units of measure: pint is asked for the unit alone, and not for the usual ones."""

import re
from functools import cache

from scoring.errors import shown
from scoring.inputs.quantity import Wrong

MAX_UNIT = 40
UNIT_CHARACTERS = re.compile(r"[A-Za-zµ²³/ ]*")
ALIASES = {
    "mins": "minute",
    "hrs": "hour",
    "hr": "hour",
    "h": "hour",
    "min": "minute",
    "fl oz": "fluid_ounce",
    "sq ft": "ft²",
    "sq m": "m²",
    "l": "litre",
    "days": "day",
    "months": "month",
    "years": "year",
}
FOOT_M = 0.3048  # this, the inch, pound and fluid ounce: exact by definition
# {(as written, internal): factor}. What sheets mostly say needs no pint, which takes a
# third of a command's time to start.
USUAL = {
    ("h", "min"): 60.0,
    ("mm", "m"): 0.001,
    ("cm", "m"): 0.01,
    ("in", "m"): 0.0254,
    ("ft", "m"): FOOT_M,
    ("ft²/h", "m²/h"): FOOT_M**2,
    ("ft³", "m³"): FOOT_M**3,
    ("g", "kg"): 0.001,
    ("lb", "kg"): 0.45359237,
    ("l", "ml"): 1000.0,
    ("fl oz", "ml"): 29.5735295625,
}


def factor_between(unit_text, dimension, text):
    """Return how many internal units one of the written units is.

    Raises
    ------
    Wrong
        If it is no unit, or one of another dimension.
    """
    unit = re.sub(r"\b([a-z]+)\^?([23])\b", _power, unit_text.strip())
    if len(unit) > MAX_UNIT or not UNIT_CHARACTERS.fullmatch(unit):
        raise Wrong(f"{shown(text)}: no such unit", dimension.allowed)
    if (unit, dimension.unit) in USUAL:
        return USUAL[unit, dimension.unit]
    ours = _parsed(unit)
    if ours is None:
        raise Wrong(f"{shown(text)}: no such unit", dimension.allowed)
    wanted = _parsed(dimension.unit)
    if ours.dimensionality != wanted.dimensionality:
        got = DIMENSION_WORDS.get(str(ours.dimensionality), "something else")
        raise Wrong(f"{shown(text)} is {got}, not {dimension.name}", dimension.allowed)
    return float(_registry().Quantity(1.0, ours).to(wanted).magnitude)


def _power(found):
    return found[1] + {"2": "²", "3": "³"}[found[2]]


DIMENSION_WORDS = {
    "[time]": "a time",
    "[mass]": "a mass",
    "[length]": "a length",
    "[length] ** 2": "an area",
    "[length] ** 3": "a volume",
    "[length] / [time]": "a speed",
    "[length] ** 2 / [time]": "a printing speed",
}


@cache
def _registry():
    import pint  # slow to import, and not every command reads a file

    return pint.UnitRegistry(cache_folder=None)


@cache
def _parsed(unit):
    """Return pint's unit of a text, None where there is none."""
    parts = [ALIASES.get(part.strip(), part.strip()) for part in unit.split("/")]
    try:
        return _registry().parse_units("/".join(parts))
    except Exception:  # pint raises many kinds for what is simply no unit
        return None
