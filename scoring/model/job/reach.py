"""Which jobs a machine cannot do, and by how much it misses."""

from typing import NamedTuple

import numpy as np

SLACK = 1e-9


class Misses(NamedTuple):
    """How far each machine misses each job; 0 where it does not; (draw, machine, job).

    Lengths in metres, odour in steps of the 0–6 scale, what is carried in kilograms,
    the rest 1 where missing.
    """

    pass_mode: np.ndarray
    white: np.ndarray
    surface: np.ndarray
    curved: np.ndarray
    relief: np.ndarray
    too_high: np.ndarray
    too_low: np.ndarray
    corner: np.ndarray
    odour: np.ndarray
    too_far: np.ndarray
    too_long: np.ndarray  # all else leaves no time to print, or a year will not do
    carry: np.ndarray  # kilograms that a piece is too heavy for those who may be there


def stronger_odour(machines):
    """Return the stronger smell of preparing and printing, 0–6."""
    return np.maximum(machines.odour_preparing, machines.odour_printing)


def misses(machines, jobs, site, carried):
    """Return by how much each machine misses each job."""
    lowest_edge = np.where(np.isnan(jobs.lowest_edge_m), 0.0, jobs.lowest_edge_m)
    top = lowest_edge + jobs.height_m
    is_moded = site.passes > 0
    has_window = (site.window_min > 0) | site.is_lodged
    return Misses(
        pass_mode=1.0 * ~is_moded,
        white=1.0 * (jobs.has_underbase & ~machines.prints_white),
        surface=1.0 * ~machines.prints_surface,
        curved=1.0 * (jobs.is_curved & ~machines.prints_curved),
        relief=_over(jobs.relief_m, machines.head_gap_m),
        too_high=_over(top - jobs.plain_edge_m, machines.max_print_height_m),
        too_low=_over(
            machines.lowest_print_height_m - jobs.plain_edge_m, jobs.lowest_edge_m
        ),
        corner=_over(machines.side_clearance_m - jobs.plain_edge_m, jobs.side_gap_m),
        odour=_over(stronger_odour(machines), jobs.odour_limit),
        too_far=1.0 * (is_moded & ~has_window),
        too_long=1.0 * (is_moded & has_window & np.isnan(site.days)),
        carry=_too_heavy(carried.short_kg),
    )


def _too_heavy(short_kg):
    """Return kilograms too much where a piece is carried to other kinds of job.

    What can be carried to none is ruled out as a whole, and not job by job.
    """
    is_anywhere = (short_kg <= 0).any(axis=-1, keepdims=True)
    return np.where(is_anywhere, short_kg, 0.0)


def _over(figure, limit):
    """Return figure − limit where above 0; a limit that is NaN is not checked."""
    excess = np.nan_to_num(figure - limit, nan=0.0, neginf=0.0)
    return np.where(excess > SLACK, excess, 0.0)


def can_do(missed):
    """Return where nothing is missed: bool (draw, machine, job)."""
    return sum(missed) == 0
