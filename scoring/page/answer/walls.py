"""Which machine does which of the buyer's jobs."""

import streamlit as st

from scoring.charts.base import colours
from scoring.page import text
from scoring.words.can_do import can_do
from scoring.words.doubt import why_not_in

HEADING = "Can it do your walls?"
HELP = (
    "Days booked for a job; touch a “no” or a “?” for the reason. Bar: score, 0 to 1."
)


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
    grid = text.grid_html(jobs, rows) if rows else ""
    with st.container(key="grid"):
        st.html(grid + text.note_html(HELP))
    doubts_and_outs(evaluation, is_us)


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
