"""What a job log tells → a record of plain values."""

from dataclasses import dataclass

from scoring.inputs.claims import claims_data
from scoring.records.plain import plain


@dataclass(frozen=True)
class JobLogRecord:
    """Figures of a log, what they would change, and what was learnt of claims."""

    machine: str
    jobs: int
    first: str
    last: str
    figures: dict  # {name: {n, low, mean, high}}, internal units
    changes: list  # {file, path, before, after, jobs}
    left: list  # {file, path, why}
    claims: dict


def job_log_record(found):
    """Return the JobLogRecord of a FromLog."""
    log = found.seen
    figures = {key: log.times[key] for key in log.times}
    figures |= {f"speed.{passes}": each for passes, each in log.speeds.items()}
    figures |= {
        "ink.colour": log.ink,
        "spoilt_share": log.spoilt,
        "reliability.jobs_between_stoppages": log.jobs_between,
        "reliability.days_down": log.days_down,
        "trade.days_to_pay": log.days_to_pay,
        "bank.enquiries_won": log.won,
    }
    figures |= {f"per_month: {kind.name}": kind.per_month for kind in log.kinds}
    return JobLogRecord(
        machine=log.machine,
        jobs=log.n_jobs,
        first=log.first.isoformat(),
        last=log.last.isoformat(),
        figures={
            name: {
                "n": seen.n,
                "low": plain(seen.low),
                "mean": plain(seen.likely),
                "high": plain(seen.high),
            }
            for name, seen in figures.items()
            if seen is not None
        },
        changes=[
            {
                "file": change.file,
                "path": change.path,
                "before": change.before,
                "after": change.after,
                "jobs": change.n,
            }
            for change in found.changes
        ],
        left=[note._asdict() for note in found.notes],
        claims=claims_data(found.claims),
    )
