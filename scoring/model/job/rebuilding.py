"""A machine that is built anew each day: days, stands, and minutes left over.

Minutes; arrays broadcast over (draw, machine, job). Of the kinds of job that are built
anew, alone: most stay built, and cost nothing here.
"""

import numpy as np

from scoring.model.job.whole import SLACK, ceil, divided, floor

MOST_STANDS = 48  # that a job is cut into so as to fill its days


def stands_rebuilding(visit, build_day, measure_mask, least, a_stand, window):
    """Return the stands with which a machine built anew each day takes fewest days.

    Only whole stands are printed in a day, and a stand may be cut shorter than the rail
    is long, so that a longer rail is never worse. Of those that take as many days the
    fewest are returned.

    Parameters
    ----------
    visit : minutes with the fewest stands
    least : the fewest stands, by the rail
    a_stand : minutes that a stand more costs, all told
    """
    needed = days_rebuilding(visit, build_day, measure_mask, least, window)
    # No cut is better than one that fills every day to the minute.
    filled = ceil(divided(visit - build_day, window - build_day, np.inf))
    is_open = np.isfinite(filled) & (needed > np.maximum(filled, 2.0))
    arrays = (visit, build_day, measure_mask, least, a_stand, window)
    arrays = np.broadcast_arrays(*arrays, is_open)
    found, is_open = arrays[3].copy(), arrays[-1]
    visit, build_day, mask, least, a_stand, window = (
        each[is_open] for each in arrays[:-1]
    )
    bound = np.maximum(np.broadcast_to(filled, is_open.shape)[is_open], 2.0)
    best, days = least.copy(), np.full(least.shape, np.inf)
    left = np.arange(len(best))  # those whose days may still be fewer
    for n in range(int(least.min(initial=MOST_STANDS + 1)), MOST_STANDS + 1):
        stands = np.maximum(least[left], n)
        longer = visit[left] + (stands - least[left]) * a_stand[left]
        of = build_day[left], mask[left], stands, window[left]
        needed = days_rebuilding(longer, *of)
        is_fewer = needed < days[left]
        best[left[is_fewer]] = stands[is_fewer]
        days[left] = np.minimum(days[left], needed)
        left = left[days[left] > bound[left]]
        if not left.size:
            break
    found[is_open] = best
    return found


def days_rebuilding(visit, build_day, measure_mask, stands, window):
    """Return days when the machine is built anew each day; inf if it never ends.

    Only whole stands are printed in a day.
    """
    stand = (visit - build_day - measure_mask) / stands
    first = np.maximum(floor(divided(window - build_day - measure_mask, stand, 0)), 0)
    later = floor(divided(window - build_day, stand, 0))
    days = 1 + ceil(divided(stands - first, later, np.inf))
    return np.where(visit <= window + SLACK, 1.0, np.maximum(days, 2.0))


def spare_rebuilding(days, window, visit, build_day, mask, stands):
    """Return minutes to spare on the last of several days, built anew on each."""
    stand = (visit - build_day - mask) / stands
    room = window - build_day - mask
    first = np.maximum(floor(divided(room, stand, 0)), 0)
    later = floor(divided(window - build_day, stand, 0))
    left = stands - first - (days - 2) * later
    return window - build_day - left * stand


def places_rebuilt(jobs):
    """Return the places of the kinds of job built anew each day, None without any."""
    stays = np.atleast_1d(jobs.stays_built)
    places = np.flatnonzero(~stays.reshape(-1, stays.shape[-1]).all(axis=0))
    if not places.size:
        return None
    first, last = int(places[0]), int(places[-1])
    is_in_a_row = last - first + 1 == places.size  # then nothing is copied
    return slice(first, last + 1) if is_in_a_row else places


def of_kinds(record, places):
    """Return a record, or an array, of some kinds of job alone, the last axis."""
    if isinstance(record, tuple):
        parts = (of_kinds(part, places) for part in record)
        return type(record)(*parts) if hasattr(record, "_fields") else tuple(parts)
    if isinstance(record, np.ndarray) and record.shape[-1:] > (1,):
        return record[..., places]
    return record


def with_kinds(whole, places, some, shape):
    """Return an array of all kinds of job, (draw, machine, job), with those of some."""
    found = np.broadcast_to(whole, shape).copy("K")
    found[..., places] = some
    return found
