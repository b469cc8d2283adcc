"""Which machine does which of the buyer's jobs."""

import streamlit as st

from scoring.charts.base import colours
from scoring.page import text
from scoring.words.can_do import DOES, can_do
from scoring.words.doubt import why_not_in

HEADING = "Can it do your walls?"
HELP = "Days booked for a job; touch “no” or “?” for why. Bar: score, 0 to 1."
MOST_JOBS = 3  # beside the machine, so that a telephone shows them whole


def can_it_do(evaluation, is_us):
    """Draw machines against jobs, the best first; those ruled out below, folded."""
    text.heading(HEADING)
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    colour = colours(evaluation.names)
    rows = [
        (
            evaluation.names[k],
            float(evaluation.weighted_sum[k]),
            colour[evaluation.names[k]],
            can_do(evaluation, k, is_us),
        )
        for k in ranked
    ]
    jobs = [job.name for job in evaluation.brief.work]
    with st.container(key="grid"):
        if rows:
            per_month = evaluation.figures.jobs.per_month[0, 0]
            st.html(_grid(jobs, rows, telling(rows[0][-1], per_month)))
        st.html(text.note_html(HELP))
        if rows and len(jobs) > MOST_JOBS:
            with st.expander(f"All {len(jobs)} kinds of job"):
                st.html(text.grid_html(jobs, rows))
    doubts_and_outs(evaluation, is_us)


def _grid(jobs, rows, shown):
    """Return the grid of some kinds of job as HTML."""
    some = [(*first, [cells[j] for j in shown]) for *first, cells in rows]
    return text.grid_html([jobs[j] for j in shown], some)


def telling(cells, per_month):
    """Return the places of the kinds of job that are in view, in the brief's order.

    First what the leader does not surely do, then what there is most of.

    Parameters
    ----------
    cells : a CanDo for each kind of job
    per_month : jobs a month of each kind
    """
    places = range(len(cells))
    by_need = sorted(places, key=lambda j: (cells[j].kind == DOES, -per_month[j]))
    return sorted(by_need[:MOST_JOBS])


def doubts_and_outs(evaluation, is_us):
    """Name the machines that break a limit, or may; why, and the way back, folds."""
    _marked(evaluation, "in_doubt", "In doubt", is_us)
    _marked(evaluation, "ruled_out", "Ruled out by your limits", is_us)


def _marked(evaluation, status, words, is_us):
    """Draw the machines that break a limit, or may, each with the way back folded."""
    some = [k for k in evaluation.order if evaluation.status(k) == status]
    if not some:
        return
    named = (evaluation.names[k] for k in some)
    reasons = [
        (evaluation.names[k], " ".join(why_not_in(evaluation, k, is_us))) for k in some
    ]
    with st.expander(text.escaped(f"{words}: {', '.join(named)}")):
        text.listed(reasons)
