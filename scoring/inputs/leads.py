"""Leads: which kind of job each one is, and how many come in a month."""

import math
from dataclasses import dataclass, replace

import numpy as np

from scoring.errors import (
    FAULTS,
    InputFault,
    InputFaults,
    ScoringError,
    more_faults,
    shown,
)
from scoring.inputs.quantity import Quantity, nearest

BASES = ("sold", "enquiry", "guess")


@dataclass(frozen=True)
class Lead:
    """One job that may come."""

    job: str  # name of the job type, "" where only the measures are told
    probability: float  # 0..1
    month: str  # such as 2026-11
    basis: str  # sold, enquiry or guess
    width_m: float | None = None
    height_m: float | None = None
    price: Quantity | None = None
    file: str = ""
    line: int = 1


def months_spanned(leads):
    """Return how many months the leads span, the first and the last counted in.

    Examples
    --------
    >>> months_spanned(
    ...     [Lead("hall", 1, "2026-11", "sold"), Lead("hall", 1, "2027-02", "guess")]
    ... )
    4
    """
    if not leads:
        raise ScoringError("there are no leads")
    counted = [12 * int(lead.month[:4]) + int(lead.month[5:7]) for lead in leads]
    return max(counted) - min(counted) + 1


def matched(leads, sizes):
    """Return the leads, each one without a job type given the one nearest in size.

    Parameters
    ----------
    sizes : {name of a job type: (width in m, height in m)}
        Nearest is by the product of the sides' ratios, so that 2 m is as far from 1 m
        as from 4 m.
    """

    def far(lead, name):
        pairs = zip((lead.width_m, lead.height_m), sizes[name], strict=True)
        return sum(abs(math.log(ours / theirs)) for ours, theirs in pairs)

    return tuple(
        lead
        if lead.job
        else replace(lead, job=min(sizes, key=lambda name: far(lead, name)))
        for lead in leads
    )


def mix(leads, job_names, months):
    """Return the expected jobs a month of each job type: shape (job,).

    Parameters
    ----------
    leads : Leads that name a job type (see `matched`)
    job_names : names of the job types, in the order of the result
    months : above 0, which the leads stand for

    Raises
    ------
    InputFaults
        With every lead whose job type is not among the names.
    """
    jobs, probability = _jobs(leads, job_names, months)
    return np.bincount(jobs, probability, minlength=len(job_names)) / months


def resampled(leads, job_names, months, uniform):
    """Return jobs a month of each draw: shape (draw, job).

    Each draw takes as many leads as there are, with replacement, and tosses for each
    whether it comes; so few leads spread wider around the same mean than many.

    Parameters
    ----------
    leads, job_names, months : as for `mix`
    uniform : shape (draw, lead, 2)
        Uniform numbers in [0, 1): which lead is taken, and the toss for it. Nothing
        else comes in by chance.

    Raises
    ------
    ScoringError
        As `mix`, and if the uniform numbers are not of that shape.

    Source
    ------
    Efron (1979), Bootstrap methods: another look at the jackknife, Annals of
    Statistics 7(1), 1–26, doi:10.1214/aos/1176344552.
    """
    jobs, probability = _jobs(leads, job_names, months)
    n_leads = len(jobs)
    if np.ndim(uniform) != 3 or np.shape(uniform)[1:] != (n_leads, 2):
        shape = f"({np.shape(uniform)}, not (draws, {n_leads}, 2))"
        raise ScoringError(f"uniform numbers of the wrong shape {shape}")
    taken = np.minimum((uniform[..., 0] * n_leads).astype(np.intp), n_leads - 1)
    comes = uniform[..., 1] < probability[taken]
    job = np.where(comes, jobs[taken], -1)
    counts = [(job == k).sum(axis=1) for k in range(len(job_names))]
    return np.stack(counts, axis=1) / months


def rests_on(leads, worth=None):
    """Return {basis: share} of the expected work that is sold, enquiry, guess.

    Parameters
    ----------
    worth : shape (lead,), 0 or more, optional
        What each lead is worth if it comes, such as its contribution; all alike if not
        told.

    Raises
    ------
    ScoringError
        If nothing is expected at all.

    Examples
    --------
    >>> sold = Lead("hall", 1.0, "2026-11", "sold")
    >>> rests_on([sold, replace(sold, basis="guess")])
    {'sold': 0.5, 'enquiry': 0.0, 'guess': 0.5}
    """
    worth = np.ones(len(leads)) if worth is None else np.asarray(worth, dtype=float)
    expected = worth * np.array([lead.probability for lead in leads])
    if not expected.sum() > 0:
        raise ScoringError("no lead is expected to come: every probability is 0")
    bases = np.array([lead.basis for lead in leads])
    return {
        basis: float(expected[bases == basis].sum() / expected.sum()) for basis in BASES
    }


def _jobs(leads, job_names, months):
    """Return place among the names, and probability, of each lead: shape (lead,)."""
    if not leads:
        raise ScoringError("there are no leads")
    if not (math.isfinite(months) and months > 0):
        raise ScoringError(f"leads of {months} months; more than 0")
    places = {name.casefold(): k for k, name in enumerate(job_names)}
    lost = [lead for lead in leads if lead.job.casefold() not in places]
    if lost:
        raise InputFaults(_lost(lost, job_names))
    jobs = np.array([places[lead.job.casefold()] for lead in leads])
    return jobs, np.array([lead.probability for lead in leads], dtype=float)


def _lost(leads, job_names):
    """Return the faults of leads without a job type that is known."""
    allowed = f"one of {', '.join(map(shown, job_names))}"
    faults = []
    for lead in leads[:FAULTS]:  # dear: each name is compared with all that are known
        near = nearest(lead.job, job_names)
        what = f"no kind of job is called {shown(lead.job)}{near}"
        if not lead.job:
            what = "the lead has no job type"
        faults.append(InputFault(lead.file, lead.line, "job", what, allowed))
    last, n_more = leads[-1], len(leads[FAULTS:])
    return faults + ([more_faults(last.file, last.line, n_more)] if n_more else [])
