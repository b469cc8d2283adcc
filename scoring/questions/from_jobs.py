"""What hangs on how much work there is: from how many jobs a machine or a plan pays.

The model is run on multiples of the work, a draw each, so that days that run short and
jobs that are declined count as they do everywhere.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.ways import in_their_ways
from scoring.evidence.variants import variants_of
from scoring.questions.changed import each_gist, times_work

MULTIPLES = np.linspace(0.0, 4.0, 81)  # of the jobs a month of every kind


@dataclass(frozen=True)
class FromJobs:
    """Jobs a month of all kinds, mix as it is; inf where none of MULTIPLES does."""

    to_cover: np.ndarray  # (machine,): the year leaves 0 or more
    to_earn_back: np.ndarray  # (machine,): so does the present value by the month


def bracket(at, values):
    """Return the two places between which values last rise to 0; None nowhere.

    Examples
    --------
    >>> bracket(np.array([0.0, 1.0, 2.0]), np.array([-3.0, -1.0, 1.0]))
    (1.0, 2.0)
    >>> bracket(np.array([0.0, 1.0]), np.array([-3.0, -1.0])) is None
    True
    """
    below = np.flatnonzero(values < 0)
    if not below.size or below[-1] == len(at) - 1:
        return None
    return float(at[below[-1]]), float(at[below[-1] + 1])


def crossing(at, values):
    """Return where values last rise to 0, on straight lines; inf if they end below.

    Examples
    --------
    >>> crossing(np.array([0.0, 1.0, 2.0]), np.array([-3.0, -1.0, 1.0]))
    1.5
    >>> crossing(np.array([1.0, 2.0]), np.array([0.0, 1.0]))
    0.0
    """
    if (values >= 0).all():
        return 0.0
    ends = bracket(at, values)
    if ends is None:
        return np.inf
    near = np.isin(at, ends)
    return float(np.interp(0.0, values[near], at[near]))


def jobs_needed(evaluation):
    """Return the FromJobs of every machine, each as the only one."""
    again = _by_work(evaluation, evaluation.variants)
    year = again.result
    today = jobs_today(evaluation)

    def jobs(values):
        columns = np.broadcast_to(values, (len(MULTIPLES), len(evaluation.names))).T
        return np.array([today * crossing(MULTIPLES, column) for column in columns])

    if not today:
        never = np.full(len(evaluation.names), np.inf)
        return FromJobs(never, never)
    return FromJobs(jobs(year), jobs(again.npv))


def jobs_to_earn_back(evaluation, k):
    """Return from how many jobs a month machine k is earned back, as `jobs_needed`.

    Weights do not change it: it is found once for an evaluation under any weights.
    """
    question = ("jobs_to_earn_back", k)
    if question not in evaluation.found:
        evaluation.found[question] = _jobs_to_earn_back(evaluation, k)
    return evaluation.found[question]


def _jobs_to_earn_back(evaluation, k):
    today = jobs_today(evaluation)
    if not today:
        return np.inf
    again = _by_work(evaluation, [evaluation.variants[k]])
    return today * crossing(MULTIPLES, again.npv[:, 0])


def jobs_today(evaluation):
    """Return the jobs a month of all kinds, as the work stands."""
    return float(evaluation.figures.jobs.per_month.sum())


def _by_work(evaluation, variants):
    """Return the Gist of these variants for each multiple of the work."""
    multiples = [times_work(evaluation, factor) for factor in MULTIPLES]
    return each_gist(evaluation, multiples, variants)


def plan_break_evens(evaluation, k):
    """Return [(cheaper plan, dearer plan, jobs a month)] of machine k; inf: never.

    From how many jobs a month the dearer plan leaves as much in a year, the mix as it
    is; a cheaper plan that runs short of days falls behind.
    """
    if len(evaluation.plans[k]) < 2:
        return []
    variants = in_their_ways(evaluation, variants_of(evaluation.machines[k]))
    plans = sorted(
        zip(evaluation.plans[k], range(len(variants)), strict=True),
        key=lambda pair: pair[0].fee,
    )
    results = _by_work(evaluation, variants).result
    results = np.broadcast_to(results, (len(MULTIPLES), len(variants)))
    found = []
    for (cheap, a), (dear, b) in zip(plans, plans[1:], strict=False):
        at = crossing(MULTIPLES, results[:, b] - results[:, a])
        jobs = jobs_today(evaluation) * at if np.isfinite(at) else np.inf
        found.append((cheap.name, dear.name, jobs))
    return found
