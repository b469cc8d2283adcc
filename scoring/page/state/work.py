"""Crew and work as the controls stand, and the Evaluation that they ask for."""

import streamlit as st

from scoring.answer.evaluation import evaluate
from scoring.page.state.jobs import jobs_of, mean_jobs, shown_jobs
from scoring.page.state.moved import moves_of, note_moves
from scoring.page.state.shared import shared
from scoring.page.state.weights import reset_weights
from scoring.questions.changed import Change, supposed

MORE_JOBS = 10  # jobs a month that a slider always reaches


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
    return shared(
        "evaluation", key, out, lambda: evaluate(brief, files.machines, left_out=out)
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
        if per_month != shown_jobs(base.brief.work[n])
    ]
    if people == base.brief.crew.people and not changes:
        return base
    return shared(
        "evaluation", (base,), (people, jobs), lambda: supposed(base, changes, people)
    )


def _asked(brief, n, per_month):
    """Return the Change to so many jobs a month on average, the range in proportion."""
    key, mean = ("brief", f"work.{n}.per_month"), mean_jobs(brief.work[n])
    if not mean:
        return Change(key, known=per_month)
    return Change(key, times=per_month / mean)


def seed(base):
    """Set weights, crew and jobs to the brief's when it is shown, and what was moved.

    A brief that is shown again, or got leads or artwork, keeps what was moved.
    """
    last = st.session_state.get("seeded_for")
    if last is not None and last.brief is base.brief:
        return
    if last is not None:
        note_moves(last)
    st.session_state["seeded_for"] = base
    reset_weights(base)
    reset_work(base.brief)
    _move_again(base)
    if last is None or last.brief.source != base.brief.source:
        st.session_state["show_machine"] = base.names[base.order[0]]


def _move_again(base):
    """Set what was moved away from this brief, where it still fits."""
    moves = moves_of(base.brief)
    for criterion in base.criteria:
        points = moves["weights"].get(criterion.id)
        if points is not None:
            st.session_state[f"weight_{criterion.id}"] = clip(points, 0.0, 100.0)
    for n, job in enumerate(base.brief.work):
        per_month = moves["jobs"].get(job.name)
        if per_month is not None:
            st.session_state[f"jobs_{n}"] = clip(per_month, 0.0, most_jobs(job))
    if moves["crew"] in crews_of(base.brief):
        st.session_state["crew"] = moves["crew"]


def clip(value, low, high):
    """Return a kept value as a slider takes it."""
    return min(max(float(value), low), high)


def most_jobs(job):
    """Return how far the slider of a kind of job reaches."""
    return float(max(MORE_JOBS, 2 * shown_jobs(job)))


def crews_of(brief):
    """Return the crews that can be chosen: alone, and with whom there is."""
    return sorted({1, max(2, brief.crew.people)})


def reset_work(brief):
    """Set crew and jobs a month back to the brief's."""
    st.session_state["crew"] = brief.crew.people
    for n, per_month in enumerate(jobs_of(brief)):
        st.session_state[f"jobs_{n}"] = per_month


def work_chosen(brief):
    """Return (people, jobs a month of each type) as the controls stand."""
    jobs = tuple(float(st.session_state[f"jobs_{n}"]) for n, _ in enumerate(brief.work))
    return int(st.session_state["crew"]), jobs
