"""Minutes and days on site: one job of each type with each machine.

All arrays broadcast over (draw, machine, job); minutes unless the name says otherwise.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.job.rebuilding import (
    days_rebuilding,
    of_kinds,
    places_rebuilt,
    spare_rebuilding,
    stands_rebuilding,
    with_kinds,
)
from scoring.model.job.whole import SLACK, ceil, divided, floor

MOST_DAYS = 250  # of one job: a year of work at a few minutes a day is no way to do it


class Parts(NamedTuple):
    """Minutes of a whole job by what is done; they sum to the minutes on site."""

    arrival: np.ndarray
    carry: np.ndarray
    assembly: np.ndarray
    prime: np.ndarray
    measure_mask: np.ndarray
    surface: np.ndarray  # primer, its drying, varnish
    print: np.ndarray
    moves: np.ndarray
    closing: np.ndarray
    pack_down: np.ndarray


class SiteTime(NamedTuple):
    """What a job takes; days and all that follows from them are NaN if impossible."""

    parts: Parts
    print_min: np.ndarray
    visit_min: np.ndarray  # if all were done in one go
    window_min: np.ndarray  # of one day on site
    days: np.ndarray
    builds: np.ndarray  # 1, or one a day where the machine may not stay built
    on_site_min: np.ndarray
    spare_min: np.ndarray  # left on the last day
    is_lodged: np.ndarray  # bool: the crew stays overnight nearby
    passes: np.ndarray  # of the mode used, 0 where none is offered
    stands: np.ndarray
    drives: np.ndarray  # there and back
    road_days: np.ndarray  # whole days on the road, booked besides those on site
    nights: np.ndarray  # away from home


def fastest_mode(speed_m2_per_h, pass_modes, passes):
    """Return passes and m²/h of the fastest mode that has enough passes.

    Parameters
    ----------
    speed_m2_per_h : shape (draw, machine, 1, mode)
        Gross area an hour while printing; NaN where a mode is not offered.
    pass_modes : shape (mode,)
    passes : shape (job,)
        The fewest passes the job accepts.

    Returns
    -------
    (passes, speed), each of shape (draw, machine, job); 0 where no mode will do.
    """
    is_enough = pass_modes >= np.asarray(passes)[:, None]
    speed = np.where(is_enough & (speed_m2_per_h > 0), speed_m2_per_h, 0.0)
    best = speed.argmax(axis=-1)
    fastest = np.take_along_axis(speed, best[..., None], axis=-1)[..., 0]
    return np.where(fastest > 0, pass_modes[best], 0), fastest


def stands_a_wall(width_m, rail_length_m):
    """Return the rail positions one wall takes, 1 or more.

    Examples
    --------
    >>> stands_a_wall(np.array([3.0, 3.1, 6.0]), 3.0).tolist()
    [1.0, 2.0, 2.0]
    """
    return np.maximum(1.0, ceil(width_m / rail_length_m))


def scans(width_m, passes, strip_width_m):
    """Return the strokes of the carriage that print a width in so many passes.

    Source
    ------
    Step = swath / passes and passes − 1 strokes to run out: the usual multi-pass
    geometry, structure after Torpey & Sengun, NIP14 (1998), as read in abstract.
    """
    return ceil(width_m * passes / strip_width_m) + passes - 1


def print_minutes(machines, jobs, stands, passes, speed_m2_per_h):
    """Return minutes the head prints; NaN where the machine has no mode for the job.

    Stands meet at the edge of a stroke, so that a further stand costs the strokes that
    run out and no part of one.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    by_area = divided(60 * area_m2, speed_m2_per_h, np.nan)
    stroke = jobs.height_m / machines.head_speed_m_per_min + machines.turnaround_min
    one_go = scans(jobs.width_m, passes, machines.strip_width_m)
    strokes = jobs.walls * one_go + (stands - jobs.walls) * (passes - 1)
    by_stroke = strokes * stroke
    by_stroke = np.where(passes > 0, by_stroke, np.nan)
    minutes = np.where(np.isfinite(machines.strip_width_m), by_stroke, by_area)
    white = np.where(jobs.has_underbase, machines.white_time_factor, 1.0)
    inked = np.where(machines.skips_blank, 1 - jobs.blank_share, 1.0)
    return minutes * white * inked


def travel_minutes(jobs, business):
    """Return minutes there and back."""
    return 2 * 60 * jobs.distance_km / business.travel_km_per_h


def loading_minutes(machines, business):
    """Return minutes to load the van and to unload it: (draw, machine, 1).

    At either end of a day, by the mass of all pieces; own estimate, no source.
    """
    mass = np.nansum(machines.piece_kg, axis=-1, keepdims=True)
    return 2 * (business.loading_min + business.loading_min_per_kg * mass)


def road_days(away_min, business):
    """Return the whole days that a drive there and back books, of its shape.

    None where it leaves something of the day; it then falls in the evenings of a crew
    that stays overnight. Else each way takes whole days.

    Parameters
    ----------
    away_min : minutes on the road and loading, both ways

    Examples
    --------
    800 km at 55 km/h are 14.5 h: two days of 8 h each way. 200 km leave something.

    >>> from types import SimpleNamespace as Record
    >>> away_min = 2 * 60 * np.array([200, 300, 800]) / 55
    >>> road_days(away_min, Record(day_min=480)).tolist()
    [0.0, 2.0, 4.0]
    """
    one_way = ceil(away_min / 2 / business.day_min)
    return np.where(away_min >= business.day_min - SLACK, 2 * one_way, 0.0)


def daily_window(jobs, business, away_min):
    """Return minutes a day on site can hold, less the margin for what goes wrong.

    `away_min` are those of the working day on the road and loading.
    """
    day = np.minimum(business.day_min - away_min, jobs.access_min)
    return day * (1 - business.day_margin)


def days_staying_built(visit, again, window):
    """Return days when the machine may stand overnight; inf if it never ends.

    Every further day costs `again` (priming and closing) of its window.
    """
    days = ceil(divided(visit - again, window - again, np.inf))
    return np.where(visit <= window + SLACK, 1.0, np.maximum(days, 2.0))


class Ready(NamedTuple):
    """What hangs on no bed: (draw, machine, job) or what broadcasts to it, minutes."""

    fewest: np.ndarray  # stands, by the rail
    passes: np.ndarray
    speed: np.ndarray  # m²/h
    again: np.ndarray  # a further day
    build_day: np.ndarray
    away: np.ndarray  # on the road and loading
    surface: np.ndarray
    mask: np.ndarray  # with the surface: once a job, before it is printed
    work: tuple  # printing, moves and the whole visit with the fewest stands
    rebuilt: slice | np.ndarray | None  # the kinds of job that are built anew each day
    a_stand: np.ndarray | None  # of those: more of the visit for one stand more


def ready(machines, jobs, business, carry_min):
    """Return what is Ready, whether the crew drives home or stays."""
    passes, speed = fastest_mode(
        machines.speed_m2_per_h, machines.pass_modes, jobs.passes
    )
    again = jobs.arrival_min + machines.prime_min + jobs.closing_min
    build_day = 2 * carry_min + machines.assembly_min + machines.pack_down_min + again
    surface = surface_minutes(machines, jobs)
    found = Ready(
        jobs.walls * stands_a_wall(jobs.width_m, machines.rail_length_m),
        passes,
        speed,
        again,
        build_day,
        travel_minutes(jobs, business) + loading_minutes(machines, business),
        surface,
        jobs.measure_mask_min + surface,
        (),
        places_rebuilt(jobs),
        None,
    )
    found = found._replace(work=_work(machines, jobs, found, found.fewest))
    if found.rebuilt is None:
        return found
    jobs, told = of_kinds(jobs, found.rebuilt), _of_rebuilt(found)
    more = _work(machines, jobs, told, told.fewest + 1)[2] - told.work[2]
    return found._replace(a_stand=more)


def _of_rebuilt(told):
    """Return what is Ready for the kinds of job alone that are built anew each day."""
    here, a_stand = told.rebuilt, told.a_stand
    told = of_kinds(told._replace(rebuilt=None, a_stand=None), here)
    return told._replace(a_stand=a_stand)


def _work(machines, jobs, told, stands):
    """Return minutes of printing, of moves and of the whole visit with so many stands.

    `told` is what is Ready.
    """
    printing = print_minutes(machines, jobs, stands, told.passes, told.speed)
    moves = (stands - jobs.walls) * machines.shift_min
    moves = moves + (jobs.walls - 1) * machines.move_min
    return printing, moves, told.build_day + told.mask + printing + moves


def site_time(machines, jobs, business, carry_min, is_lodged=False, told=None):
    """Return the SiteTime of every job type with every machine.

    `is_lodged`: whether the crew drives once and stays overnight nearby; which of the
    two leaves more is found in `scoring.model.money.lodging`. What is not told of a
    bed's price makes no difference here. `told` is what is Ready, where it is at hand.
    """
    told = ready(machines, jobs, business, carry_min) if told is None else told
    fewest, passes, mask, surface = told.fewest, told.passes, told.mask, told.surface
    again, build_day, away = told.again, told.build_day, told.away
    window = daily_window(jobs, business, 0.0 if is_lodged else away)
    printing, moves, visit = told.work
    stands = fewest + 0 * visit
    days = days_staying_built(visit, again, window)
    if told.rebuilt is not None:
        anew = _built_anew(machines, jobs, told, window)
        stands, days, printing, moves, visit = (
            with_kinds(whole, told.rebuilt, some, days.shape)
            for whole, some in zip((fewest, days, *told.work), anew, strict=True)
        )
    days = np.where((window > 0) & (days <= MOST_DAYS), days, np.nan)
    on_road = is_lodged * road_days(away, business)
    builds = np.where(jobs.stays_built, np.minimum(days, 1.0), days)
    parts = Parts(
        arrival=jobs.arrival_min * days,
        carry=2 * carry_min * builds,
        assembly=machines.assembly_min * builds,
        prime=machines.prime_min * days,
        measure_mask=jobs.measure_mask_min + 0 * days,
        surface=surface + 0 * days,
        print=printing + 0 * days,
        moves=moves + 0 * days,
        closing=jobs.closing_min * days,
        pack_down=machines.pack_down_min * builds,
    )
    on_site = sum(parts)
    spare = days * window - on_site
    if told.rebuilt is not None:
        left = of_kinds((days, window, visit, build_day, mask, stands), told.rebuilt)
        spare = with_kinds(spare, told.rebuilt, spare_rebuilding(*left), days.shape)
    spare = np.where(days == 1, window - visit, spare)
    return SiteTime(
        parts,
        printing,
        visit,
        window,
        days,
        builds,
        on_site,
        spare,
        np.full(days.shape, is_lodged),
        passes,
        stands,
        drives=0 * days + 1 if is_lodged else days,
        road_days=on_road + 0 * days,
        nights=is_lodged * (days + np.maximum(on_road - 1, 0)),
    )


def _built_anew(machines, jobs, told, window):
    """Return (stands, days, *work) of the kinds of job built anew each day."""
    jobs, window, told = (
        of_kinds(jobs, told.rebuilt),
        of_kinds(window, told.rebuilt),
        _of_rebuilt(told),
    )
    of, visit = (told.build_day, told.mask), told.work[2]
    stands = stands_rebuilding(visit, *of, told.fewest, told.a_stand, window)
    work = told.work
    if (stands != told.fewest).any():
        work = _work(machines, jobs, told, stands)
    return stands, days_rebuilding(work[2], *of, stands, window), *work


def surface_minutes(machines, jobs):
    """Return minutes that a job's surface asks for besides the print.

    Primer and varnish by the area; of drying, the whole, as the crew waits for it.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    return machines.surface_min_per_m2 * area_m2 + machines.drying_min


def either(is_lodged, lodged, by_day):
    """Return the SiteTime that is `lodged` where told, else `by_day`."""
    some = np.flatnonzero(is_lodged.any(axis=(0, 1)))  # most kinds of job are near
    if not some.size:
        return by_day

    def one(of_lodged, of_day):
        found = np.broadcast_to(of_day, is_lodged.shape).copy("K")
        whole = np.broadcast_to(of_lodged, is_lodged.shape)
        for j in some:
            here = np.where(is_lodged[..., j], whole[..., j], of_day[..., j])
            found[..., j] = here
        return found

    parts = Parts(*map(one, lodged.parts, by_day.parts))
    return SiteTime(parts, *map(one, lodged[1:], by_day[1:]))


def booked_days(site, machines, jobs, business):
    """Return the days a job takes out of the diary: (draw, machine, job).

    Those on site and on the road; 1/k where k ≥ 2 such jobs fit one working day, each
    with its own drive; the van is loaded and unloaded once a day. Types are not paired
    with each other.
    """
    day = business.day_min - loading_minutes(machines, business)
    day = day * (1 - business.day_margin)
    drive = travel_minutes(jobs, business) * (1 - business.day_margin)
    fit = floor(divided(day, site.visit_min + drive, 0))
    k = np.minimum(np.minimum(fit, business.jobs_per_day_max), floor(jobs.per_month))
    is_shared = (site.days == 1) & ~site.is_lodged & (k >= 2)
    return np.where(is_shared, 1 / np.maximum(k, 1), site.days + site.road_days)
