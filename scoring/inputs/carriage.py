"""Timed prints → how fast the head sweeps and turns."""

import math
from collections import defaultdict
from typing import NamedTuple

import numpy as np

SLACK = 1e-9  # so that a width of whole strips does not cost another stroke


class Fit(NamedTuple):
    """How the carriage moves, as timed prints tell it."""

    head_speed: float  # m/min
    turnaround: float  # min at each end of a stroke, 0 or more
    residual: float  # min a print, root mean square of timed − fitted


def strokes(width_m, passes, strip_width_m):
    """Return how often the carriage sweeps to print a width in so many passes.

    Source
    ------
    Step = strip / passes and passes − 1 strokes to run out: the usual multi-pass
    geometry, structure after Torpey & Sengun, NIP14 (1998), as read in abstract.

    Examples
    --------
    >>> strokes(6.0, 4, 0.05)
    483
    """
    return math.ceil(width_m * passes / strip_width_m - SLACK) + passes - 1


def fit_carriage(tests, strip_width):
    """Return the Fit of minutes = strokes · (height / v + turn), None if there is none.

    Least squares of the minutes, over all prints of one direction in which some pass
    mode was timed at two heights or more; prints in both directions come before those
    in one. Of prints in one direction the head speed is that of a stroke and its way
    back together, as a job printed in the same way needs it.

    Parameters
    ----------
    tests : prints with figures above 0
        Any that are not are left out, since a fault tells of them.
    strip_width : m, above 0

    Returns
    -------
    Fit or None
        None where the area rate must do: one height only, or minutes that do not rise
        with the height. A turnaround that would come out below 0 is 0, and the speed is
        fitted anew.
    """
    usable = [test for test in tests if _is_usable(test)]
    for direction in ("both", "one"):
        alike = [test for test in usable if test.direction == direction]
        if _has_two_heights(alike):
            return _fitted(alike, strip_width)
    return None


def _is_usable(test):
    return all((q.low or 0) > 0 for q in (test.width, test.height, test.time))


def _has_two_heights(tests):
    heights = defaultdict(set)
    for test in tests:
        heights[test.passes].add(round(test.height.likely, 3))
    return any(len(found) > 1 for found in heights.values())


def _fitted(tests, strip_width):
    """Return the Fit with neither term below 0; None where the time ignores height."""
    height = np.array([test.height.likely for test in tests])
    minutes = np.array([test.time.likely for test in tests])
    n = np.array(
        [strokes(test.width.likely, test.passes, strip_width) for test in tests], float
    )
    way = n * height
    (per_m, turn), *_ = np.linalg.lstsq(np.stack([way, n], axis=1), minutes)
    if turn < 0:
        per_m, turn = way @ minutes / (way @ way), 0.0
    if per_m <= SLACK:
        return None
    residual = minutes - way * per_m - n * turn
    rms = math.sqrt((residual**2).mean())
    return Fit(float(1 / per_m), float(turn), rms)
