"""The jobs of one machine → a record of plain values."""

from dataclasses import dataclass

import numpy as np

from scoring.records.plain import plain
from scoring.words.ruled_out import not_served


@dataclass(frozen=True)
class JobRecord:
    """Minutes and days of one kind of job; None where the machine cannot do it."""

    job: str
    served: bool
    reason: str | None
    area_m2: float
    print_min: float | None
    visit_min: float | None
    on_site_min: float | None
    days: float | None
    booked_days: float | None
    spare_min: float | None
    pass_mode: float | None
    stands: int
    parts: dict  # {part of the visit: minutes}


@dataclass(frozen=True)
class JobsRecord:
    """Every kind of job with one machine."""

    machine: str
    jobs: list


def job_record(evaluation, name):
    """Return the JobsRecord of one machine."""
    k = evaluation.index(name)
    jobs = range(len(evaluation.brief.work))
    return JobsRecord(name, [_job_record(evaluation, k, j) for j in jobs])


def _job_record(evaluation, k, j):
    lived, jobs = evaluation.outcome, evaluation.figures.jobs
    site = lived.site
    is_served = bool(lived.can_do[0, k, j])

    def at(array):
        return plain(np.broadcast_to(array, lived.can_do.shape)[0, k, j])

    def if_served(array):
        return at(array) if is_served else None

    return JobRecord(
        job=evaluation.brief.work[j].name,
        served=is_served,
        reason=not_served(evaluation, k, j) or None,
        area_m2=at(jobs.walls * jobs.width_m * jobs.height_m),
        print_min=if_served(site.print_min),
        visit_min=if_served(site.visit_min),
        on_site_min=if_served(site.on_site_min),
        days=if_served(site.days),
        booked_days=if_served(lived.booked_days),
        spare_min=if_served(site.spare_min),
        pass_mode=at(site.passes) if site.passes[0, k, j] else None,
        stands=int(site.stands[0, k, j]),
        parts={
            part: if_served(minutes) for part, minutes in site.parts._asdict().items()
        },
    )
