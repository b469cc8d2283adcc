"""Crew and work as the controls stand, and the Evaluation that they ask for."""

import streamlit as st

from scoring.answer.evaluation import evaluate
from scoring.inputs.quantity import pert_mean
from scoring.page.state.memory import remembered
from scoring.page.state.weights import reset_weights
from scoring.questions.changed import Change, supposed


def left_out(files):
    """Return the names of the loaded machines that the buyer does not consider."""
    names = {machine.name for machine in files.machines}
    return frozenset(st.session_state.get("left_out", frozenset()) & names)


def baseline(files, brief):
    """Return the Evaluation of the brief as it is written; it sets the scale.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    key = (brief, *files.machines)
    out = left_out(files)
    return remembered(
        "baseline", key, out, lambda: evaluate(brief, files.machines, left_out=out)
    )


def asked(files, brief):
    """Return the Evaluation for the crew and the work as the controls stand.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    base = baseline(files, brief)
    seed(base)
    return changed(base, *work_chosen(brief))


def changed(base, people, jobs):
    """Return the Evaluation with another crew and other numbers of jobs a month.

    It keeps the scale of the brief as written, so that weights keep their meaning.
    """
    changes = [
        _asked(base.brief, n, per_month)
        for n, per_month in enumerate(jobs)
        if per_month != _shown_jobs(base.brief.work[n])
    ]
    if people == base.brief.crew.people and not changes:
        return base
    return remembered(
        "changed",
        (base,),
        (people, jobs),
        lambda: supposed(base, changes, people),
    )


def _asked(brief, n, per_month):
    """Return the Change to so many jobs a month on average, the range in proportion."""
    key, mean = ("brief", f"work.{n}.per_month"), _mean(brief.work[n])
    if not mean:
        return Change(key, known=per_month)
    return Change(key, times=per_month / mean)


def _mean(job):
    n_jobs = job.per_month
    return pert_mean(n_jobs.low, n_jobs.likely, n_jobs.high)


def _shown_jobs(job):
    """Return the mean jobs a month as a slider shows them."""
    return round(_mean(job), 1)


def jobs_of(brief):
    """Return the mean jobs a month of each job type, as the sliders show them."""
    return tuple(map(_shown_jobs, brief.work))


def seed(base):
    """Set weights, crew and jobs to the brief's when it is first shown."""
    if st.session_state.get("seeded_for") is not base.brief:
        st.session_state["seeded_for"] = base.brief
        reset_weights(base)
        reset_work(base.brief)
        names = [base.names[k] for k in base.order]
        st.session_state["show_machine"] = names[0]


def reset_work(brief):
    """Set crew and jobs a month back to the brief's."""
    st.session_state["crew"] = brief.crew.people
    for n, per_month in enumerate(jobs_of(brief)):
        st.session_state[f"jobs_{n}"] = per_month


def work_chosen(brief):
    """Return (people, jobs a month of each type) as the controls stand."""
    jobs = tuple(float(st.session_state[f"jobs_{n}"]) for n, _ in enumerate(brief.work))
    return int(st.session_state["crew"]), jobs
