"""Who stands where in each draw, and who ties: thousands of draws in one sort.

Axes are (draw, alternative) for scores, (draw, place) for what comes of them.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from scoring.decision.ranking import TIE
from scoring.errors import ScoringError

CHUNK = 1024  # draws sorted at a time: 40 alternatives then stay in the cache
SLACK = 4  # steps of a key: two roundings of half a step, that of the tie, the index
MOST_BITS = 11  # those of a float's exponent, which an index may take
INFINITE = "a score is infinite; each must be finite, or NaN where ruled out"
NO_TIE = np.iinfo(np.int64).max  # the gap from one draw to the next


class Order(NamedTuple):
    """Draws in order, the best first, laid end to end: shape (n_draws × n,)."""

    who: np.ndarray  # the alternative; n more where it is ruled out, which goes last
    starts: np.ndarray | None  # bool: not tied with the place before; None: no ties


def in_order(scores):
    """Return the Order of a chunk of draws.

    From 1.5 × a power of two, far above all scores, each score is taken away: what is
    left lies between that power and its double. There floats share one exponent and one
    step, so that their bits, read as a whole number, fall as the score rises, and count
    steps: a gap of keys is a gap of scores. The exponent's bits, all alike, make room
    for the alternative's index below, so that one sort in place moves both.

    A gap is wrong by fewer than SLACK steps, by rounding. A draw with a gap that near
    to the limit of a tie is settled by its scores; any other gap surely is a tie or is
    not, and within a tie the order does not count.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        At most CHUNK draws; more is better. NaN: ruled out, tied with nobody.

    Raises
    ------
    ScoringError
        If a score is infinite.
    """
    scores = np.ascontiguousarray(scores)
    bound, has_out = _bound(scores)
    exponent = int(np.frexp(bound)[1]) + 2  # a quarter of the power holds all scores
    n_bits = (2 * scores.shape[1] - 1).bit_length()
    near = int(np.ldexp(TIE, 52 - exponent))  # steps within which is a tie
    if n_bits > MOST_BITS or near <= 2 * SLACK:  # no room, or steps like a tie
        return _by_scores(scores)
    keys = _keys(scores, 2.0**exponent, n_bits, has_out)
    gaps = keys[1:] - keys[:-1]
    gaps[scores.shape[1] - 1 :: scores.shape[1]] = NO_TIE
    keys &= (1 << n_bits) - 1
    if gaps.min(initial=NO_TIE) > near + SLACK << n_bits:
        return Order(keys, None)
    return _with_ties(scores, keys, gaps, near << n_bits, SLACK << n_bits)


def _bound(scores):
    """Return the largest size of a score, 1 or more, and whether one is NaN."""
    lowest, largest = scores.min(), scores.max()
    has_out = bool(np.isnan(largest))
    if has_out:
        lowest = np.fmin.reduce(scores, axis=None, initial=0.0)
        largest = np.fmax.reduce(scores, axis=None, initial=0.0)
    bound = max(1.0, largest, -lowest)
    if bound == np.inf:
        raise ScoringError(INFINITE)
    return bound, has_out


def _keys(scores, power, n_bits, has_out):
    """Return keys, sorted by draw, laid end to end; the ruled out behind, far apart."""
    n = scores.shape[1]
    rest = 1.5 * power - scores
    is_out = np.isnan(scores) if has_out else False
    if has_out:
        behind = 1.75 + (1 + np.arange(n)) / (4 * (n + 1))
        np.copyto(rest, power * behind, where=is_out)
    keys = rest.view(np.int64).ravel()
    keys <<= n_bits
    keys |= tiled(n, 1)[: keys.size]
    if has_out:
        keys += n * is_out.ravel()
    keys.reshape(scores.shape).sort(axis=1)
    return keys


def _with_ties(scores, who, gaps, near, slack):
    """Return the Order by the gaps between keys; by scores where they do not tell."""
    n = scores.shape[1]
    starts = np.ones(who.shape, bool)
    np.greater(gaps, near - slack, out=starts[1:])
    unsure = np.flatnonzero(starts[1:] != (gaps > near + slack)) // n
    if unsure.size:
        unsure = np.unique(unsure)
        sure = _by_scores(scores[unsure])
        who.reshape(-1, n)[unsure] = sure.who.reshape(-1, n)
        starts.reshape(-1, n)[unsure] = sure.starts.reshape(-1, n)
    return Order(who, starts)


def _by_scores(scores):
    """Return the Order by its definition: slower, but sure."""
    who = np.argsort(-scores, axis=1)  # NaN goes last
    falling = np.take_along_axis(scores, who, axis=1)
    starts = np.ones(scores.shape, bool)
    starts[:, 1:] = ~(falling[:, :-1] <= falling[:, 1:] + TIE)  # NaN ties with none
    who += scores.shape[1] * np.isnan(falling)
    return Order(who.ravel(), starts.ravel())


def runs(starts):
    """Return where each run starts, and its length; the first starts at once."""
    first = np.flatnonzero(starts)
    sizes = np.empty_like(first)
    np.subtract(first[1:], first[:-1], out=sizes[:-1])
    sizes[-1:] = starts.size - first[-1:]
    return first, sizes


def spread(figures, starts):
    """Return each run's figure for all in it; np.repeat takes twice as long."""
    run = np.cumsum(starts)
    run -= 1
    return figures.take(run)


@lru_cache(maxsize=8)
def tiled(n, step):
    """Return 0, step, … of n places, CHUNK times over; read only.

    Kept, and of one axis: added to rows of forty, numpy's loop would start every forty.
    """
    row = np.tile(step * np.arange(n), CHUNK)
    row.setflags(write=False)
    return row
