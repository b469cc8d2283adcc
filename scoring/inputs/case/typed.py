"""What people type into a form → a figure as a file has it."""

import re

from scoring.inputs.quantity import UNKNOWN, Wrong

NOT_TOLD = ("not told", UNKNOWN, "?")
BETWEEN = re.compile(r"(?<=[\d.])\s*(?:\.{2,3}|–|—|-|\bto\b)\s*(?=\d)")
# Digits in groups: spaces of any width and apostrophes part thousands only.
GROUPED = re.compile(r"(?<=\d)[  \u2009\u202f'’](?=\d{3}(?!\d))")
NUMBER = re.compile(r"\d+(?:[.,]\d+)*")
BARE = re.compile(r"-?\d+(?:\.\d+)?(?:\.\.\d+(?:\.\d+)?){0,2}")
UNIT = re.compile(r"[^\d.\s-].*")


def unit_of(dimension, currency="EUR"):
    """Return the unit that a bare number in a form is of, "" where it has none.

    Examples
    --------
    >>> from scoring.inputs.dimensions import MONEY_PER_M2, SHARE, WORKING_DAY
    >>> [unit_of(d, "CHF") for d in (MONEY_PER_M2, SHARE, WORKING_DAY)]
    ['CHF/m²', '%', 'h']
    """
    found = UNIT.search(dimension.example)
    unit = found[0] if found else ""
    return unit.replace("EUR", currency, 1) if dimension.is_money else unit


def figure_of(typed, dimension, currency="EUR"):
    """Return what was typed as a file has it, `unknown` for “not told”.

    A comma may stand for the decimal point, a dash or “to” between the ends of a range;
    a bare number is of the form's unit (`unit_of`), and any other unit may be typed.

    Raises
    ------
    Wrong
        If it is no figure of that kind, or reads as two different numbers.

    Examples
    --------
    >>> from scoring.inputs.dimensions import KILOGRAMS, MINUTES, MONEY
    >>> figure_of("20,5", KILOGRAMS), figure_of("52 lb", KILOGRAMS)
    ('20.5 kg', '52 lb')
    >>> figure_of("18 - 22,5", MINUTES), figure_of("20 000", MONEY, "CHF")
    ('18..22.5 min', '20000 CHF')
    >>> figure_of("20,000", MONEY)
    Traceback (most recent call last):
    ...
    scoring.inputs.quantity.Wrong: '20,000' may be 20 or 20000; write 20000 or 20.0
    """
    entry = str(typed).strip()
    if entry.lower() in NOT_TOLD:
        return UNKNOWN
    entry = GROUPED.sub("", entry).replace("\u2212", "-")
    parts = BETWEEN.split(entry)
    is_money = dimension.is_money
    parts = [NUMBER.sub(lambda n: _number(n[0], is_money), p, count=1) for p in parts]
    text = "..".join(parts)
    if BARE.fullmatch(text):
        text = f"{text} {unit_of(dimension, currency)}".strip()
    dimension.parse(text)
    return int(text) if text.isdecimal() and len(text) < 16 else text


def _number(token, is_money):
    """Return digits with a decimal point from one way or the other of writing them."""
    marks = [mark for mark in token if not mark.isdigit()]
    if not marks:
        return token
    groups = re.split(r"[.,]", token)
    last = marks[-1]
    is_thousands = all(len(group) == 3 for group in groups[1:]) and len(groups[0]) < 4
    if len(set(marks)) == 2:
        if marks.count(last) > 1 or not all(len(group) == 3 for group in groups[1:-1]):
            raise Wrong(f"{token!r} is not a figure", "digits, such as 1234.5")
        return f"{''.join(groups[:-1])}.{groups[-1]}"
    if len(marks) > 1:
        if not is_thousands:
            raise Wrong(f"{token!r} is not a figure", "digits, such as 1234.5")
        return "".join(groups)
    may_be_thousands = is_thousands and not groups[0].startswith("0")
    if may_be_thousands and (last == "," or is_money):
        whole, small = "".join(groups), f"{float('.'.join(groups)):g}"
        plain = small if "." in small else f"{small}.0"
        raise Wrong(f"{token!r} may be {small} or {whole}", f"write {whole} or {plain}")
    return ".".join(groups)
