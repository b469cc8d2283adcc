"""What to expect against what is told → sentences: which step or cliff, how often."""

from scoring.answer.one_machine import of_place, told_at
from scoring.words.figures import in_100
from scoring.words.ruled_out import why_missed

TELLING = 0.1  # of the figure as told: a smaller difference is not worth a word
SELDOM = 0.05  # of the draws


def differs(value, told):
    """Return whether what to expect is more than a tenth away from what is told.

    Examples
    --------
    >>> differs(42_000, 76_000), differs(75_000, 76_000)
    (True, False)
    """
    return abs(value - told) > TELLING * abs(told)


def why_differs(evaluation, k, criterion_id):
    """Return what makes the difference for machine k, as clauses.

    Jobs act through the money alone; of a figure by itself its range does it.
    """
    if criterion_id not in ("year_result", "work_served", "site_hours", "days_lost"):
        return ["its range lies to one side of what is told"]
    clauses = [
        clause
        for j, _ in enumerate(evaluation.brief.work)
        for clause in _of_job(evaluation, k, j)
    ]
    return clauses or ["many figures together: their ranges lie to one side"]


def _of_job(evaluation, k, j):
    """Return what steps and cliffs do to one kind of job."""
    chances = of_place(evaluation.expected.chances, k, j)
    told = told_at(evaluation, k, j)
    name, clauses = evaluation.brief.work[j].name, []
    can_do = bool(told.can_do)
    lost = 1 - float(chances.can_do)
    if can_do and lost > SELDOM:
        why = why_missed(evaluation, k, j)
        clauses.append(f"in {in_100(lost)} draws {why} for “{name}”")
    elif not can_do and lost < 1 - SELDOM:
        clauses.append(f"in {in_100(1 - lost)} draws it can do “{name}” after all")
    more = float(chances.more_days)
    if can_do and more > SELDOM:
        clauses.append(f"in {in_100(more)} draws “{name}” takes more days")
    declined = float(chances.declined)
    if not told.year.is_declined and declined > SELDOM:
        clauses.append(f"in {in_100(declined)} draws “{name}” would lose money")
    return clauses
