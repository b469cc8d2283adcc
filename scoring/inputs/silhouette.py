"""What a carriage sweeps of a picture, strip by strip, and what it may skip."""

import math
from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError


class Strips(NamedTuple):
    """The strips of a picture from the left, for drawing; each of shape (strip,)."""

    left: np.ndarray  # pixels from the left edge
    right: np.ndarray
    first: np.ndarray  # topmost inked row, -1 in a strip without ink
    last: np.ndarray  # lowest inked row, counted in; -1 in a strip without ink


def strips(inked, swath):
    """Return the Strips that the carriage sweeps, with first and last inked rows.

    Parameters
    ----------
    inked : bool, shape (h, w)
        True where there is ink; row 0 is the top.
    swath : pixels, above 0
        Need not be whole: w · strip width / width of the wall. A pixel on the border
        of two strips is inked in both.

    Raises
    ------
    ScoringError
        If the picture has no pixels or the swath is not above 0.
    """
    edges, rows = _rows(inked, swath)
    has_ink = rows.any(axis=0)
    first = np.where(has_ink, rows.argmax(axis=0), -1)
    last = np.where(has_ink, len(rows) - 1 - rows[::-1].argmax(axis=0), -1)
    return Strips(edges[:-1], edges[1:], first, last)


def blank_share(inked, swath, jumps_gaps=False):
    """Return the share of the sweep length that needs no ink.

    Parameters
    ----------
    inked : bool, shape (h, w)
    swath : pixels, above 0
    jumps_gaps : bool
        True where the machine jumps the gaps between inked rows too.

    Returns
    -------
    share of all strips' full height
        0 if every strip runs from edge to edge, 1 for a picture without ink. A last
        strip that is cut off by the edge is swept at full length like the others.

    Raises
    ------
    ScoringError
        As `strips`.

    Examples
    --------
    >>> lower_half = np.repeat([[False], [True]], 10, axis=1)
    >>> blank_share(lower_half, swath=5)
    0.5
    """
    if jumps_gaps:
        return float(1 - _rows(inked, swath)[1].mean())
    found = strips(inked, swath)
    travelled = np.where(found.first < 0, 0, found.last - found.first + 1)
    return float(1 - travelled.sum() / (len(inked) * len(travelled)))


def _rows(inked, swath):
    """Return the strips' edges (strip + 1,) and where they have ink (row, strip)."""
    inked = np.asarray(inked, dtype=bool)
    if inked.ndim != 2 or not inked.size:
        raise ScoringError("the picture has no pixels")
    if not (math.isfinite(swath) and swath > 0):
        raise ScoringError(f"a swath of {swath} pixels; more than 0")
    # Strips thinner than a pixel see the same column, so one a pixel tells as much.
    swath = max(swath, 1.0)
    width = inked.shape[1]
    n_strips = max(1, math.ceil(width / swath - 1e-9))
    edges = np.minimum(swath * np.arange(n_strips + 1), width)
    edges[-1] = width
    starts = np.floor(edges[:-1] + 1e-9).astype(int)
    ends = np.ceil(edges[1:] - 1e-9).astype(int)
    rows = [
        inked[:, start:end].any(axis=1) for start, end in zip(starts, ends, strict=True)
    ]
    return edges, np.stack(rows, axis=1)
