"""Timed print tests → printing speeds, their ranges, and the carriage's own figures."""

import math
from collections import defaultdict
from typing import NamedTuple

import numpy as np

from scoring.inputs.dimensions import AREA_SPEED
from scoring.inputs.quantity import Quantity

PRINT_TEST = "print test"
TOO_FEW = "too few runs"
SAME_SIZE = 0.10  # sides that differ by less count as timed; own estimate, no source
FASTEST_TIMES = 0.5  # no run is twice as fast as the fastest; own estimate, no source
# Student's t, two-sided 95 % (one-sided 0.975), for 1 to 30 degrees of freedom.
# Source: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2, as read in
# two pages that reprint it; the same values as Table A.3 (X = .975) after JASA 1959.
T_95 = (
    *(12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228),
    *(2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086),
    *(2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042),
)
NORMAL_95 = 1.960


class Repeats(NamedTuple):
    """One print, timed once or more: minutes a print, low and high None for one run."""

    passes: int
    width_m: float
    height_m: float
    direction: str
    n_runs: int
    low: float | None
    likely: float
    high: float | None
    remark: str


def t_interval(values):
    """Return (low, mean, high) of the two-sided 95 % t-interval of a mean.

    Parameters
    ----------
    values : two figures or more, of independent runs
        The interval is as wide as the values' own unit.

    Source
    ------
    Mean ± t(0.975, n − 1) · s / √n, Student (1908), Biometrika 6(1), 1–25,
    doi:10.1093/biomet/6.1.1. Beyond 30 degrees of freedom the normal 1.960 stands in.

    Examples
    --------
    >>> [round(end, 2) for end in t_interval([9.8, 10.4, 10.1, 11.0, 9.7])]
    [9.55, 10.2, 10.85]
    """
    values = np.asarray(values, dtype=float)
    n = len(values)
    t = T_95[n - 2] if n - 1 <= len(T_95) else NORMAL_95
    half = t * values.std(ddof=1) / math.sqrt(n)
    mean = values.mean()
    return float(mean - half), float(mean), float(mean + half)


def repeats(tests):
    """Return the Repeats of each different print, in order of passes, then size.

    Prints are the same if passes, direction and both sides (to the millimetre) are.
    Three runs or more have the 95 % t-interval of their mean as low and high; two have
    themselves; one has none.

    Examples
    --------
    >>> from scoring.inputs.machine import PrintTest
    >>> times = ("8 min", "8.4 min")
    >>> [both] = repeats(
    ...     [PrintTest(passes=4, width="1 m", height="1 m", time=t) for t in times]
    ... )
    >>> both.low, round(both.likely, 2), both.high, both.remark
    (8.0, 8.2, 8.4, 'too few runs')
    """
    runs = defaultdict(list)
    for test in tests:
        runs[_kind(test)].append(test)
    return tuple(_repeats(same) for _, same in sorted(runs.items()))


def _repeats(same):
    """Return the Repeats of the runs of one print."""
    first, times = same[0], [test.time.likely for test in same]
    sides = first.width.likely, first.height.likely
    low, likely, high, remark = _range(times)
    return Repeats(
        first.passes, *sides, first.direction, len(same), low, likely, high, remark
    )


def _kind(test):
    """Return what makes two prints the same print."""
    sides = (round(side.likely, 3) for side in (test.width, test.height))
    return test.passes, *sides, test.direction


def _range(times):
    """Return (low, likely, high, remark) of the minutes of one print."""
    if len(times) == 1:
        return None, times[0], None, ""
    if len(times) == 2:
        return min(times), sum(times) / 2, max(times), TOO_FEW
    low, mean, high = t_interval(times)
    least = FASTEST_TIMES * min(times)
    if low < least:
        # Few runs that scatter widely: the interval may reach 0 min, an endless speed.
        return least, mean, high, "the runs scatter widely"
    return low, mean, high, ""


def tested_speeds(tests):
    """Return {pass mode: Quantity in m²/h} of timed prints, an area rate each.

    All prints of a mode count by their area. Repeats of one print give the range (see
    `repeats`); different prints of one mode span from the slowest to the fastest. One
    run is one measured figure without a range. The note says “too few runs” where a
    print was timed just twice.

    Examples
    --------
    >>> from scoring.inputs.machine import PrintTest
    >>> test = PrintTest(passes=4, width="3 ft", height="3 ft", time="33 min")
    >>> round(tested_speeds([test])[4].likely, 2)
    1.52
    """
    by_mode = defaultdict(list)
    for repeated in repeats(tests):
        by_mode[repeated.passes].append(repeated)
    return {passes: _speed(prints) for passes, prints in by_mode.items()}


def _speed(prints):
    """Return the Quantity in m²/h of the Repeats of one pass mode."""
    n_runs = sum(p.n_runs for p in prints)
    area = sum(p.n_runs * p.width_m * p.height_m for p in prints)
    likely = 60 * area / sum(p.n_runs * p.likely for p in prints)
    slowest = min(_rate(p, p.likely if p.high is None else p.high) for p in prints)
    fastest = max(_rate(p, p.likely if p.low is None else p.low) for p in prints)
    remark = ", ".join(dict.fromkeys(p.remark for p in prints if p.remark))
    n = "one timed print" if n_runs == 1 else f"{n_runs} timed prints"
    text = f"{likely:.2f} m²/h from {n}" + (f", {remark}" if remark else "")
    return Quantity(
        min(slowest, likely),
        likely,
        max(fastest, likely),
        AREA_SPEED.unit,
        AREA_SPEED.kind,
        "measured",
        AREA_SPEED.bounds,
        text,
        note=remark,
    )


def _rate(print_, minutes):
    return 60 * print_.width_m * print_.height_m / minutes


def comparable(tests_a, tests_b):
    """Return in what two machines' timed prints differ, "" if one print is in both.

    Where none is, the two that come nearest are compared: image, passes, direction.

    Examples
    --------
    >>> from scoring.inputs.machine import PrintTest
    >>> a = PrintTest(passes=4, width="3 ft", height="3 ft", time="33 min")
    >>> b = PrintTest(passes=8, width="0.9144 m", height="3 ft", time="75 min")
    >>> comparable([a], [a, b])
    ''
    >>> comparable([a], [b])
    'The timed prints cannot be compared: 4 passes here, 8 there.'
    """
    if not tests_a or not tests_b:
        return "The timed prints cannot be compared: one machine has none."
    pairs = ([_differences(a, b) for b in tests_b] for a in tests_a)
    nearest = min((said for row in pairs for said in row), key=len)
    if not nearest:
        return ""
    return f"The timed prints cannot be compared: {'; '.join(nearest)}."


def _differences(a, b):
    """Return in what two timed prints differ, a few words each."""
    said = []
    (passes_a, *size_a, way_a), (passes_b, *size_b, way_b) = _kind(a), _kind(b)
    if size_a != size_b:
        said.append(f"an image of {_size(a)} here, {_size(b)} there")
    if passes_a != passes_b:
        said.append(f"{_passes(passes_a)} here, {passes_b} there")
    if way_a != way_b:
        said.append(f"printed in {DIRECTIONS[way_a]} here, {DIRECTIONS[way_b]} there")
    return said


DIRECTIONS = {"both": "both directions", "one": "one direction"}


def _passes(n):
    return "1 pass" if n == 1 else f"{n} passes"


def _size(test):
    """Return the sides of a print as they were written."""
    return f"{test.width.text} × {test.height.text}"


def inferred(tests, passes, width, height):
    """Return in a few words that a print is inferred, "" if it was timed like this.

    Timed like this: the same passes, and both sides within 10 % (own estimate, no
    source). Time goes by strokes and their length, so another shape is another speed.

    Parameters
    ----------
    passes : of the mode used
    width, height : m, of one printed rectangle

    Examples
    --------
    >>> from scoring.inputs.machine import PrintTest
    >>> test = PrintTest(passes=4, width="3 ft", height="3 ft", time="33 min")
    >>> inferred([test], 4, 0.9, 0.9)
    ''
    >>> inferred([test], 4, 3, 2.4)
    'inferred from a print of 3 ft × 3 ft'
    >>> inferred([test], 8, 0.9, 0.9)
    'inferred from 4 passes'
    >>> inferred([], 8, 0.9, 0.9)
    'no print was timed'
    """
    if not tests:
        return "no print was timed"

    def far(test):
        sides = (test.width.likely / width, test.height.likely / height)
        stretch = max(abs(math.log(side)) for side in sides)
        return abs(math.log(test.passes / passes)), stretch

    nearest = min(tests, key=far)
    of_mode, of_size = far(nearest)
    said = []
    if of_mode > 0:
        said.append(_passes(nearest.passes))
    if of_size > math.log(1 + SAME_SIZE):
        said.append(f"a print of {_size(nearest)}")
    return "inferred from " + " and ".join(said) if said else ""
