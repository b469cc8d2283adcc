"""Figures as people read them: digits, units, metric or US customary."""

import math

GROUP = "\u202f"  # narrow no-break space between thousands
MINUS = "\u2212"
# internal unit → (US customary unit, how many of it one internal unit is)
US_UNITS = {
    "kg": ("lb", 1 / 0.45359237),
    "m": ("ft", 1 / 0.3048),
    "m²": ("ft²", 1 / 0.3048**2),
    "m²/h": ("ft²/h", 1 / 0.3048**2),
    "m³": ("ft³", 1 / 0.3048**3),
    "m/s": ("ft/s", 1 / 0.3048),
    "km": ("mi", 1 / 1.609344),
    "km/h": ("mph", 1 / 1.609344),
    "ml": ("fl oz", 1 / 29.5735295625),
    "ml/m²": ("fl oz/ft²", 0.3048**2 / 29.5735295625),
}
SCALES = {"0–6": "of 6", "1–5": "of 5"}  # a rating reads as "4 of 5"
PER_METRIC = {
    "/m²": ("/ft²", 0.3048**2),
    "/km": ("/mi", 1.609344),
    "/l": ("/gal", 3.785411784),
}
SHORT = 0.1  # metres; below it millimetres, or inches, read better


def in_units(value, unit, is_us=False):
    """Return (value, unit) in metric or in US customary units.

    Source
    ------
    NIST SP 811 (2008), appendix B.8, exact factors; from memory.

    Examples
    --------
    >>> in_units(24, "kg", is_us=True)[1]
    'lb'
    """
    if not is_us:
        return value, unit
    if unit in US_UNITS:
        us_unit, factor = US_UNITS[unit]
        return value * factor, us_unit
    for metric, (us, factor) in PER_METRIC.items():
        if unit.endswith(metric):
            return value * factor, unit.removesuffix(metric) + us
    return value, unit


def figure(value, unit="", is_us=False):
    """Return a figure with its unit, as many digits as a decision needs.

    Examples
    --------
    >>> figure(0.254, "share"), figure(96.4, "min"), figure(6.42, "day")
    ('25 %', '96 min', '6.4 days')
    >>> figure(0.006, "m"), figure(0.006, "m", is_us=True), figure(2.4, "m")
    ('6 mm', '0.24 in', '2.4 m')
    >>> figure(0.999, "day"), figure(1.2, "day/year"), figure(1.2, "day")
    ('1 day', '1 day/year', '1.2 days')
    >>> figure(None, "min"), figure(1234.6, "EUR").replace(GROUP, " ")
    ('–', '1 235 EUR')
    """
    if value is None or math.isnan(value):
        return "–"
    if math.isinf(value):
        return "never" if unit == "months" else "no limit"
    if unit == "m" and 0 < abs(value) < SHORT:
        value, unit = (value / 0.0254, "in") if is_us else (1000 * value, "mm")
    else:
        value, unit = in_units(float(value), unit, is_us)
    if unit == "share":
        return f"{number(100 * value, 0)} %"
    if unit in ("day", "day/year"):
        many = unit.replace("day", "days")
        shown = number(value, _places(value, many))
        return f"{shown} {unit if shown == '1' else many}"
    unit = SCALES.get(unit, unit)
    return f"{number(value, _places(value, unit))} {unit}".strip()


def about(value, unit="", is_us=False):
    """Return a reckoned figure with its unit; of more than three digits, three count.

    What people wrote, a step of the workings and a limit that is compared keep theirs.

    Examples
    --------
    >>> [about(x, "EUR").replace(GROUP, " ") for x in (13205.4, 999.6, -57)]
    ['13 200 EUR', '1 000 EUR', '−57 EUR']
    >>> about(1234, "m²", is_us=True).replace(GROUP, " ")
    '13 300 ft²'
    """
    if value is None or not math.isfinite(value):
        return figure(value, unit, is_us)
    shown, its_unit = in_units(float(value), unit, is_us)
    if abs(shown) < 1000:
        return figure(value, unit, is_us)
    return figure(round(shown, 2 - math.floor(math.log10(abs(shown)))), its_unit)


def _places(value, unit):
    """Return how many digits after the point help."""
    if unit in ("min", "months") or (unit[:3].isupper() and "/" not in unit):
        return 0
    if unit.endswith("/year"):
        return 0
    return (
        0
        if abs(value) >= 100
        else 1
        if abs(value) >= 10 or unit.startswith("days")
        else 2
    )


def number(value, places=0, is_column=False):
    """Return digits grouped by a narrow space, without trailing zeros after the point.

    In a column of figures to the cent they stay, so that points stand in a line.

    Examples
    --------
    >>> number(0.7), number(2.50, 2), number(-3), number(2.5, 2, is_column=True)
    ('1', '2.5', '−3', '2.50')
    """
    text = f"{abs(value):,.{places}f}".replace(",", GROUP)
    if "." in text and not is_column:
        text = text.rstrip("0").rstrip(".")
    is_negative = value < 0 and any(digit in text for digit in "123456789")
    return (MINUS if is_negative else "") + text


def joined(words, last="and"):
    """Return words as a list in a sentence.

    Examples
    --------
    >>> joined(["a", "b", "c"])
    'a, b and c'
    """
    words = list(words)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def in_100(share):
    """Return a share of the draws in words.

    Examples
    --------
    >>> in_100(0.414), in_100(0.004), in_100(0.997)
    ('41 of 100', 'less than 1 of 100', 'more than 99 of 100')
    """
    n = round(100 * share)
    if n == 0:
        return "less than 1 of 100"
    return f"{n} of 100" if n < 100 or share == 1 else "more than 99 of 100"
