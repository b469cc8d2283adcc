"""The inputs of a simulated year, checked: every fault named."""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

MONTHS = 12


class Diary(NamedTuple):
    """When the buyer works."""

    days_per_week: float
    weeks_per_year: float
    bookable_share: float

    @property
    def days_a_year(self):
        """Bookable days a year."""
        return self.days_per_week * self.weeks_per_year * self.bookable_share


class _Work(NamedTuple):
    """The inputs of `simulate`, checked, as arrays."""

    per_year: np.ndarray  # (job,)
    booked: np.ndarray  # (machine, job), 0 where not taken
    is_taken: np.ndarray  # bool, (machine, job)
    contribution: np.ndarray  # (machine, job), 0 where not taken
    other_lines: np.ndarray  # (machine,)
    stoppages: np.ndarray  # (machine,): a job
    days_down: np.ndarray  # (machine,)
    by_month: np.ndarray  # (13,): share of the year's jobs come by each month's end
    diary: Diary
    patience: float  # bookable days


def checked(
    per_month,
    booked_days,
    contribution,
    other_lines,
    jobs_between_stoppages,
    days_down,
    diary,
    patience_days,
    seasonality,
):
    """Return the _Work of these arguments; raises with every fault there is."""
    per_month, booked, contribution, other_lines, between, down, season = (
        np.asarray(value, dtype=float)
        for value in (
            per_month,
            booked_days,
            contribution,
            other_lines,
            jobs_between_stoppages,
            days_down,
            np.ones(MONTHS) if seasonality is None else seasonality,
        )
    )
    of_machines = (other_lines, between, down)
    _check_shapes(per_month, (booked, contribution), of_machines, season)
    is_taken = ~np.isnan(booked)
    earned = np.where(is_taken, contribution, 0.0)
    faults = [
        *_faults("jobs per month", per_month, _not_below_0, "0 or more"),
        *_faults("booked days", booked[is_taken], _above_0, "above 0, or NaN"),
        *_faults("contribution", earned, np.isfinite, "finite"),
        *_faults("other lines", other_lines, np.isfinite, "finite"),
        *_faults("jobs between stoppages", between, lambda n: n > 0, "above 0"),
        *_faults("days down", down, _not_below_0, "0 or more"),
        *_faults("days per week", diary.days_per_week, _above_0, "above 0"),
        *_faults("weeks per year", diary.weeks_per_year, _above_0, "above 0"),
        *_faults("bookable share", diary.bookable_share, _is_share, "above 0, up to 1"),
        *_faults("patience", patience_days, lambda n: n >= 0, "0 days or more"),
        *_faults("seasonality", season, _not_below_0, "0 or more"),
    ]
    if not faults and season.sum() == 0:
        faults = ["seasonality: every month is 0; at least one above 0"]
    if faults:
        raise ScoringError("\n".join(faults))
    return _Work(
        per_year=MONTHS * per_month,
        booked=np.where(is_taken, booked, 0.0),
        is_taken=is_taken,
        contribution=earned,
        other_lines=other_lines,
        stoppages=1 / between,
        days_down=down,
        by_month=np.concatenate([[0.0], np.cumsum(season) / season.sum()]),
        diary=diary,
        patience=patience_days * diary.bookable_share,
    )


def _above_0(value):
    return np.isfinite(value) & (value > 0)


def _not_below_0(value):
    return np.isfinite(value) & (value >= 0)


def _is_share(value):
    return (value > 0) & (value <= 1)


def _faults(name, value, is_allowed, allowed):
    """Return a sentence on the first value that is not allowed, if there is one."""
    value = np.asarray(value, dtype=float)
    wrong = value[~is_allowed(value)]
    return [f"{name}: {wrong[0].item()!r}; {allowed}"] if wrong.size else []


def _check_shapes(per_month, of_pairs, of_machines, season):
    """Raise if the arguments are not of one set of machines and job types."""
    jobs, machines = per_month.shape, of_machines[0].shape
    is_right = (
        len(jobs) == len(machines) == 1
        and all(part.shape == machines + jobs for part in of_pairs)
        and all(part.shape == machines for part in of_machines)
    )
    if not is_right:
        shapes = [part.shape for part in (per_month, *of_pairs, *of_machines)]
        raise ScoringError(
            f"shapes: {', '.join(map(str, shapes))}; (job,), twice (machine, job), "
            "three times (machine,)"
        )
    if season.shape != (MONTHS,):
        raise ScoringError(f"seasonality: {season.size} numbers; 12, one a month")


def check_counts(n_years, seed, chunk):
    for name, value, least in (("years", n_years, 1), ("seed", seed, 0)):
        if value != int(value) or value < least:
            raise ScoringError(f"{name}: {value!r}; a whole number, {least} or more")
    if chunk < 1:
        raise ScoringError(f"years at a time: {chunk!r}; 1 or more")
