"""What may be written in each kind of field: our own grammar reads the number."""

import math
import re
from dataclasses import dataclass, replace
from datetime import date

from scoring.errors import SHOWN, shown
from scoring.inputs.quantity import (
    BASES,
    MONEY_TEXT,
    UNKNOWN,
    Quantity,
    Wrong,
    nearest,
)
from scoring.inputs.units import factor_between

DIGITS = r"-?\d+(?:\.\d+)?"
RANGE = rf"({DIGITS})(?:\.\.({DIGITS}))?(?:\.\.({DIGITS}))?"
NOTE = 2000  # characters
WRITTEN = re.compile(rf"{RANGE}\s*(.*)", re.DOTALL)


@dataclass(frozen=True)
class Dimension:
    """What may be written in one kind of field.

    `unit` is the internal one; that of money says `currency`, and `per` what it is for.
    """

    name: str  # "a mass"
    unit: str
    kind: str
    example: str
    bounds: tuple[float, float] = (0.0, math.inf)
    is_money: bool = False
    per: str = ""
    may_be_bare: bool = False  # a number without a unit
    longest_unit: float = math.inf  # of a unit allowed, in internal units

    @property
    def allowed(self):
        """What may be written, in a few words."""
        low, high = (_digits(bound) for bound in self.bounds)
        within = ""
        if self.may_be_bare:
            within = f" from {low} to {high}" if high != "inf" else f", {low} or more"
        return f"{self.name}{within}, such as {self.example}"

    @property
    def unknown(self):
        """The figure nobody has told."""
        return Quantity(
            *(None, None, None), self.unit, self.kind, UNKNOWN, self.bounds, UNKNOWN
        )

    def parse(self, written, basis="estimated"):
        """Return the Quantity of a short or long form; Wrong if it is none.

        `basis` is that of a figure which states none.
        """
        if not isinstance(written, dict):
            return self._short(written, {}, basis)
        unknown_keys = [key for key in written if key not in LONG_FORM]
        if unknown_keys:
            first = unknown_keys[0]
            raise Wrong(
                f"unknown key {shown(first)}{nearest(first, LONG_FORM)}",
                f"the keys {', '.join(LONG_FORM)}",
            )
        return self._short(written.get("value"), written, basis)

    def _short(self, written, more, basis):
        """Return the Quantity of what stands in `value`, with the long form's rest."""
        basis = more.get("basis", basis)
        if "basis" in more and basis not in BASES:
            raise Wrong(f"basis {shown(basis)}", ", ".join(BASES))
        about = {
            "as_of": _day(more.get("as_of", "")),
            "note": _note(more.get("note", "")),
        }
        if written == UNKNOWN or (basis == UNKNOWN and written is None):
            return replace(self.unknown, **about)
        if basis == UNKNOWN:
            raise Wrong(
                f"{shown(written)} is given, yet its basis is unknown", "not both"
            )
        text = self._text(written)
        numbers, unit_text = _split(text, self)
        factor, unit = self._unit(unit_text, text)
        low, likely, high = (self._checked(x * factor, text) for x in numbers)
        if not low <= likely <= high:
            raise Wrong(
                f"{shown(text)} does not rise", "low..high or low..likely..high"
            )
        return Quantity(
            low, likely, high, unit, self.kind, basis, self.bounds, text, **about
        )

    def _text(self, written):
        """Return what was written as text; Wrong for what cannot be a figure."""
        if written is None:
            raise Wrong("is empty", self.allowed)
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            raise Wrong(f"{shown(written)} is not a figure", self.allowed)
        if isinstance(written, float) and not math.isfinite(written):
            raise Wrong(f"{written} is not a finite number", self.allowed)
        return written.strip() if isinstance(written, str) else _digits(written)

    def _unit(self, unit_text, text):
        """Return (factor to the internal unit, the unit as shown)."""
        if not unit_text:
            if self.may_be_bare:
                return 1.0, self.unit
            raise Wrong(f"{shown(text)} has no unit", self.allowed)
        if self.is_money:
            return _money(self, unit_text, text)
        if self.unit == "share" and unit_text == "%":
            return 0.01, self.unit
        if self.unit == unit_text:
            return 1.0, self.unit
        if self.unit in ("share", "", "dB"):
            raise Wrong(f"{shown(text)} is not {self.name}", self.allowed)
        factor = factor_between(unit_text, self, text)
        if factor > self.longest_unit:
            raise Wrong(f"{shown(text)} is not a working time", self.allowed)
        return factor, self.unit

    def _checked(self, value, text):
        low, high = self.bounds
        if not math.isfinite(value):
            raise Wrong(f"{shown(text)} is too large", self.allowed)
        if value < low:
            least = self._bound(low)
            raise Wrong(f"{shown(text)} is below {least}", f"{least} or more")
        if value > high:
            most = self._bound(high)
            raise Wrong(f"{shown(text)} is above {most}", f"{most} or less")
        return value

    def _bound(self, bound):
        """Return a bound with its unit."""
        if self.unit == "share":
            return f"{_digits(100 * bound)} %"
        return f"{_digits(bound)} {'' if self.is_money else self.unit}".strip()

    def json_schema(self):
        """Return the JSON Schema of the short and the long form."""
        plain = ["string", "number"] if self.may_be_bare else ["string"]
        value = {"type": plain, "examples": [self.example]}
        long_form = {
            "type": "object",
            "additionalProperties": False,
            "properties": {
                "value": value,
                "basis": {"enum": list(BASES)},
                "as_of": {"type": "string", "format": "date"},
                "note": {"type": "string"},
            },
        }
        return {"description": self.allowed, "anyOf": [value, long_form]}


LONG_FORM = ("value", "basis", "as_of", "note")


def _digits(number):
    """Return a number without a trailing .0."""
    if isinstance(number, float) and math.isfinite(number) and number == int(number):
        return str(int(number))
    return str(number)


def _day(text):
    """Return an ISO date as it was written."""
    if text == "":
        return ""
    try:
        return date.fromisoformat(str(text)).isoformat()
    except ValueError:
        raise Wrong(f"as_of {shown(text)} is not a day", "such as 2026-09-14") from None


def _note(text):
    """Return a note as text."""
    if isinstance(text, dict | list) or len(str(text)) > NOTE:
        raise Wrong("note is too long or no text", f"text of {NOTE} characters at most")
    return str(text)


def _split(text, dimension):
    """Return ((low, likely, high), unit text); Wrong with the figure as mended."""
    found = WRITTEN.fullmatch(text)
    unit = found[4].strip() if found else ""
    if not found or re.match(r"[\d.,–\-]", unit):
        mended = _mended(text)
        if mended:
            raise Wrong(f"{shown(text)} cannot be read", f"write {mended}")
        raise Wrong(f"{shown(text)} is not a figure", dimension.allowed)
    low, likely, high = (None if x is None else float(x) for x in found.groups()[:3])
    if high is None:
        high = low if likely is None else likely
        likely = (low + high) / 2
    return (low, likely, high), unit


def _mended(text):
    """Return the figure as it should be written, "" where that is not plain."""
    if len(text) > SHOWN:
        return ""
    mended = re.sub(r"(?<=\d)[, \u202f\u00a0'](?=\d{3}(?!\d))", "", text)
    mended = re.sub(r"(?<=\d),(?=\d)", ".", mended)
    mended = re.sub(r"(?<=\d)\s*[–—-]\s*(?=\d)", "..", mended)
    mended = re.sub(r"(?<![\d.])\.(?=\d)", "0.", mended)
    mended = re.sub(r"(?<=\d)\.(?![\d.])", "", mended)
    mended = mended.replace("\u2212", "-")
    found = WRITTEN.fullmatch(mended)
    if not found or re.match(r"[\d.,–\-]", found[4]) or mended == text:
        return ""
    numbers = [float(x) for x in found.groups()[:3] if x is not None]
    return mended if numbers == sorted(numbers) else ""


def _money(dimension, unit_text, text):
    """Return (factor, unit) of money, or money for something."""
    found = MONEY_TEXT.fullmatch(unit_text)
    per = dimension.per
    if not found or bool(found[2]) != bool(per):
        raise Wrong(f"{shown(text)} is not {dimension.name}", dimension.allowed)
    if not per:
        return 1.0, found[1]
    within = Dimension(dimension.name, per, "", dimension.example)
    factor = 1.0 if found[2].strip() == per else factor_between(found[2], within, text)
    return 1 / factor, f"{found[1]}/{per}"


DAY_MIN = 1440
# The most that a field takes: far above what the trade knows, and low enough that no
# product of such figures is infinite.
A_WEEK = 7.0 * DAY_MIN
TEN_YEARS = 3650.0
MOST_MONEY = 1e12

MINUTES = Dimension(
    *("a time", "min", "time", "28 min"),
    bounds=(0.0, A_WEEK),
    longest_unit=DAY_MIN / 24,
)
WORK_HOURS = Dimension(
    *("a time of work", "min", "time", "4 h"),
    bounds=(0.0, A_WEEK),
    longest_unit=DAY_MIN,
)
STRIP_WIDTH = Dimension("a length", "m", "length", "0.05 m", bounds=(1e-3, 10.0))
RAIL = Dimension("a length", "m", "length", "3 m", bounds=(0.1, 1000.0))
METRES = Dimension("a length", "m", "length", "2.4 m", bounds=(0.0, 1000.0))
SQUARE_METRES = Dimension("an area", "m²", "length", "6 m²", bounds=(0.0, 1e6))
CUBIC_METRES = Dimension("a volume", "m³", "length", "0.9 m³", bounds=(0.0, 1e4))
KILOGRAMS = Dimension("a mass", "kg", "mass", "24 kg", bounds=(0.0, 1e5))
MILLILITRES = Dimension("an amount of ink", "ml", "ink", "8 ml", bounds=(0.0, 1e6))
INK_USE = Dimension("ink for each area", "ml/m²", "ink", "8 ml/m²", bounds=(0.0, 1e4))
AREA_SPEED = Dimension(
    "a printing speed", "m²/h", "speed", "1.7 m²/h", bounds=(1e-3, 1e4)
)
LIFE_M2 = Dimension("an area", "m²", "life", "4000 m²", bounds=(0.01, 1e7))
METRES_PER_SECOND = Dimension(
    "a speed", "m/s", "speed", "0.5 m/s", bounds=(1e-3, 100.0)
)
KM_PER_HOUR = Dimension("a speed", "km/h", "number", "50 km/h", bounds=(1.0, 1000.0))
KILOMETRES = Dimension("a distance", "km", "length", "14 km", bounds=(0.0, 20_000.0))
DAYS = Dimension("a number of days", "day", "time", "3 day", bounds=(0.0, TEN_YEARS))
IDLE_DAYS = Dimension(
    "a number of days", "day", "time", "3 day", bounds=(0.01, TEN_YEARS)
)
WATTS = Dimension("a power", "W", "number", "700 W", bounds=(0.0, 1e6))
DECIBELS = Dimension("a sound level", "dB", "number", "62 dB", bounds=(0.0, 200.0))
SHARE = Dimension(
    "a share", "share", "share", "12 %", bounds=(0.0, 1.0), may_be_bare=True
)
RATE = Dimension(
    "a rate", "share", "number", "8 %", bounds=(-0.5, 1.0), may_be_bare=True
)
LIFE_MONTHS = Dimension(
    "a number of months", "", "life", "30", bounds=(0.01, 1200.0), may_be_bare=True
)
WORKING_DAY = Dimension(
    *("a length of day", "min", "time", "8 h"), bounds=(1.0, 1440.0), longest_unit=60
)
WEEK_DAYS = Dimension(
    "a number of days", "", "number", "5", bounds=(0.1, 7.0), may_be_bare=True
)
YEAR_WEEKS = Dimension(
    "a number of weeks", "", "number", "44", bounds=(0.1, 52.2), may_be_bare=True
)
MARGIN = Dimension(
    "a share", "share", "share", "10 %", bounds=(0.0, 0.9), may_be_bare=True
)
BLANK_SHARE = Dimension(
    "a share", "share", "share", "30 %", bounds=(0.0, 0.99), may_be_bare=True
)
PRINT_SIDE = Dimension("a length", "m", "length", "2.4 m", bounds=(0.01, 1000.0))
JOBS_PER_MONTH = Dimension(
    "a number", "", "number", "4", bounds=(0.0, 300.0), may_be_bare=True
)
MONTHS = Dimension(
    "a number of months", "", "number", "3", bounds=(0.0, 120.0), may_be_bare=True
)
FACTOR = Dimension("a factor", "", "number", "2", bounds=(1.0, 20.0), may_be_bare=True)
NUMBER = Dimension(
    "a number", "", "number", "4", bounds=(0.0, 1000.0), may_be_bare=True
)
TIMES = Dimension(
    "a factor", "", "number", "0.5..1..2", bounds=(0.0, 100.0), may_be_bare=True
)
LIFE_JOBS = Dimension(
    "a number", "", "life", "60..110..180", bounds=(0.01, 1e6), may_be_bare=True
)
RATING = Dimension("a rating", "", "rating", "4", bounds=(1.0, 5.0), may_be_bare=True)
INTENSITY = Dimension(
    "an odour intensity", "", "rating", "2", bounds=(0.0, 6.0), may_be_bare=True
)
MONEY = Dimension(
    *("a sum of money", "currency", "price", "23900 EUR"),
    bounds=(0.0, MOST_MONEY),
    is_money=True,
)


def money_per(per, example):
    """Return the dimension of money for an area, a litre, an hour …"""
    return Dimension(
        *(f"money per {per}", f"currency/{per}", "price", example),
        bounds=(0.0, MOST_MONEY),
        is_money=True,
        per=per,
    )


TIME_PER_M2 = Dimension(
    "a time for each area", "min/m²", "time", "4 min/m²", bounds=(0.0, 600.0)
)
MONEY_PER_M2 = money_per("m²", "90 EUR/m²")
MONEY_PER_LITRE = money_per("l", "130 EUR/l")
MONEY_PER_HOUR = money_per("h", "24 EUR/h")
MONEY_PER_KM = money_per("km", "0.45 EUR/km")
MONEY_PER_YEAR = money_per("year", "600 EUR/year")
