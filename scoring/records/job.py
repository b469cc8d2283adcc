"""The jobs of one machine → a record of plain values."""

from dataclasses import dataclass

from scoring.answer.one_machine import at, of_place, told_at
from scoring.records.plain import plain
from scoring.words.ruled_out import not_served


@dataclass(frozen=True)
class JobRecord:
    """Minutes, days and money of one kind of job, to expect and if all is as told.

    None where the machine cannot do it; `contribution` is what is left after job costs.
    """

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
    contribution: float | None
    on_site_min_as_told: float | None
    days_as_told: float | None
    contribution_as_told: float | None
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
    lived, jobs = at(evaluation, k, j), of_place(evaluation.figures.jobs, k, j)
    site, told = lived.site, told_at(evaluation, k, j)

    def if_served(number, of=lived):
        return plain(number) if of.can_do else None

    return JobRecord(
        job=evaluation.brief.work[j].name,
        served=bool(lived.can_do),
        reason=not_served(evaluation, k, j) or None,
        area_m2=plain(jobs.walls * jobs.width_m * jobs.height_m),
        print_min=if_served(site.print_min),
        visit_min=if_served(site.visit_min),
        on_site_min=if_served(site.on_site_min),
        days=if_served(site.days),
        booked_days=if_served(lived.booked_days),
        spare_min=if_served(site.spare_min),
        pass_mode=plain(site.passes) if site.passes else None,
        stands=int(site.stands),
        contribution=if_served(lived.contribution),
        on_site_min_as_told=if_served(told.site.on_site_min, told),
        days_as_told=if_served(told.site.days, told),
        contribution_as_told=if_served(told.contribution, told),
        parts={
            part: if_served(minutes) for part, minutes in site.parts._asdict().items()
        },
    )
