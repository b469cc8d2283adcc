"""Evaluation → which machine does which of the buyer's jobs, in how many days."""

from typing import NamedTuple

from scoring.answer.expected import DOUBT, HALF
from scoring.answer.one_machine import at, of_place
from scoring.words.figures import figure
from scoring.words.ruled_out import not_served, why_doubtful

DOES, DOUBTFUL, NOT_TAKEN, CANNOT = "does", "doubt", "not taken", "no"
HARDLY = "hardly"


class CanDo(NamedTuple):
    """One machine and one kind of job."""

    kind: str  # DOES, DOUBTFUL, NOT_TAKEN or CANNOT
    said: str  # days, or what is wrong
    why: str  # a sentence; "" where it does the job


def can_do(evaluation, k, is_us=False):
    """Return the CanDo of machine k for each kind of job."""
    jobs = range(len(evaluation.brief.work))
    return [_of_job(evaluation, k, j, is_us) for j in jobs]


def _of_job(evaluation, k, j, is_us):
    chance = float(of_place(evaluation.expected.chances.can_do, k, j))
    lived = at(evaluation, k, j)
    if chance < DOUBT:
        return CanDo(CANNOT, CANNOT, not_served(evaluation, k, j, is_us))
    if lived.year.is_declined:
        return CanDo(NOT_TAKEN, NOT_TAKEN, not_served(evaluation, k, j, is_us))
    days = figure(lived.booked_days, "day")
    if chance < 1 - DOUBT:
        said = f"{days}?" if chance >= HALF else HARDLY
        return CanDo(DOUBTFUL, said, why_doubtful(evaluation, k, j))
    return CanDo(DOES, days, "")
