"""The kinds of job → the model's arrays."""

from functools import lru_cache

import numpy as np

from scoring.inputs.silhouette import blank_share
from scoring.model.figures import JobFigures
from scoring.model.money.job_money import band_price

STRIP_M = 0.05  # where the sheet tells no strip width; own estimate


def job_figures(brief, variants, drawn):
    """Return the JobFigures of the brief's work.

    A kind of job with artwork has a blank share for each machine, by its strip width.
    """
    n_draws = len(next(iter(drawn.values())))

    def row(path, absent=0.0):
        keys = [("brief", f"work.{k}.{path}") for k in range(len(brief.work))]
        figures = [drawn.get(key, np.full(n_draws, absent)) for key in keys]
        return np.stack(figures).T[:, None, :]

    def fixed(read):
        return np.array([[[read(job) for job in brief.work]]])

    walls = fixed(lambda job: float(job.walls))
    area_m2 = walls * row("width") * row("height")
    return JobFigures(
        per_month=row("per_month") * drawn["brief", "demand"][:, None, None],
        walls=walls,
        width_m=row("width"),
        height_m=row("height"),
        passes=np.array([job.passes for job in brief.work]),
        blank_share=_blank_share(brief, variants, row("blank_share"), row("width")),
        has_underbase=fixed(lambda job: job.underbase),
        is_curved=fixed(lambda job: job.curved),
        relief_m=row("relief"),
        ink_cover=row("ink_cover", 1.0),
        odour_limit=row("odour_limit", 6.0),
        price_per_m2=_price_per_m2(brief, drawn, area_m2),
        minimum=row("price.minimum"),
        price_per_job=row("price.per_job"),
        artwork_fee=row("artwork_fee"),
        carry_min=row("carry"),
        stairs=fixed(lambda job: float(job.stairs)),
        measure_mask_min=row("measure_mask_time"),
        closing_min=row("closing_time"),
        distance_km=row("distance"),
        stays_built=fixed(lambda job: job.overnight),
        access_min=row("access_hours", np.inf),
        lowest_edge_m=row("lowest_edge", np.nan),
        side_gap_m=row("side_gap", np.nan),
        survey_visits=fixed(lambda job: float(job.survey_visit)),
        is_must=fixed(lambda job: job.name in brief.limits.must_serve),
        arrival_min=row("arrival_time"),
        off_site_min=row("off_site_time"),
        plain_edge_m=row("plain_edge"),
    )


def _blank_share(brief, variants, written, width_m):
    """Return blank shares, (draw, 1 or machine, job): of the artwork where there is."""
    if not brief.pictures:
        return written
    share = np.repeat(written, len(variants), axis=1)
    for j, inked in brief.pictures.items():
        for row, variant in enumerate(variants):
            strip_m = strip_width_m(variant.machine)
            swath = inked.shape[1] * strip_m / width_m[:, 0, j].mean()
            share[:, row, j] = _share_of(_Picture(inked), float(swath))
    return share


class _Picture:
    """A picture that is the same as itself alone: what is read does not change."""

    def __init__(self, inked):
        self.inked = inked

    def __hash__(self):
        return id(self.inked)

    def __eq__(self, other):
        return self.inked is other.inked


@lru_cache(maxsize=64)  # each what-if asks again of the same picture and strip
def _share_of(picture, swath):
    return blank_share(picture.inked, swath)


def strip_width_m(machine):
    """Return the width of the strip that a machine's head prints, metres."""
    carriage = machine.carriage
    if carriage is None or carriage.strip_width.is_unknown:
        return STRIP_M
    return carriage.strip_width.likely


def _price_per_m2(brief, drawn, area_m2):
    """Return each job's price per m², that of its size band where it has bands."""
    price = np.zeros_like(area_m2)
    for k, job in enumerate(brief.work):
        path = f"work.{k}.price"
        if job.price.bands:
            n_bands = range(len(job.price.bands))
            up_to = [drawn.get(("brief", f"{path}.bands.{b}.up_to")) for b in n_bands]
            limits = [np.inf if limit is None else limit.mean() for limit in up_to]
            prices = np.stack(
                [drawn["brief", f"{path}.bands.{b}.per_m2"] for b in n_bands], axis=-1
            )
            price[:, 0, k] = band_price(area_m2[:, 0, k], limits, prices)
        elif ("brief", f"{path}.per_m2") in drawn:
            price[:, 0, k] = drawn["brief", f"{path}.per_m2"]
    return price
