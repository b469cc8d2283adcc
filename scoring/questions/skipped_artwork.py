"""Artwork of a kind of job: what a carriage may skip, and the minutes that it saves."""

from dataclasses import dataclass

import numpy as np

from scoring.evidence.job_arrays import strip_width_m
from scoring.inputs.silhouette import strips

INK, TRAVELLED, SKIPPED = (64, 64, 64), (240, 200, 120), (150, 205, 240)
WIDEST = 900  # pixels of the drawing


@dataclass(frozen=True)
class Saving:
    """What skipping the empty ends of strips does for one machine."""

    name: str
    share: float  # of the sweep length that needs no ink
    minutes: float  # a job; NaN where the machine cannot print it
    is_skipping: bool  # False: it would save them, had it the feature


def savings(evaluation, j):
    """Return the Saving of each machine for the artwork of kind of job j."""
    machines, jobs, _ = evaluation.figures
    shape = evaluation.outcome.can_do.shape
    share = np.broadcast_to(jobs.blank_share, shape)[0, :, j]
    printing = np.broadcast_to(evaluation.outcome.site.print_min, shape)[0, :, j]
    can_do = evaluation.outcome.can_do[0, :, j]
    skips = np.broadcast_to(machines.skips_blank, (1, len(share), 1))[0, :, 0]
    whole = np.where(skips, printing / (1 - share), printing)
    minutes = np.where(can_do, whole * share, np.nan)
    return [
        Saving(name, float(share[k]), float(minutes[k]), bool(skips[k]))
        for k, name in enumerate(evaluation.names)
    ]


def drawing(inked, width_m, strip_m):
    """Return the picture with its strips: uint8 (h, w, 3).

    Ink dark, travel without ink between first and last inked row yellow, the travel
    that is skipped blue.
    """
    step = max(1, -(-inked.shape[1] // WIDEST))
    inked = inked[::step, ::step]
    swath = inked.shape[1] * strip_m / width_m
    found = strips(inked, swath)
    rows = np.arange(inked.shape[0])[:, None]
    columns = np.arange(inked.shape[1])
    strip = np.searchsorted(found.right, columns + 0.5, side="left")
    strip = np.minimum(strip, len(found.right) - 1)
    is_swept = (rows >= found.first[strip]) & (rows <= found.last[strip])
    is_swept &= found.first[strip] >= 0
    colours = np.where(is_swept[..., None], TRAVELLED, SKIPPED)
    return np.where(inked[..., None], INK, colours).astype(np.uint8)


def strip_of(evaluation, k):
    """Return the width of the strip that machine k prints, metres."""
    return strip_width_m(evaluation.machines[k])
