"""How the figures of one machine came about, step by step."""

import streamlit as st

from scoring.answer.one_machine import at
from scoring.page import text
from scoring.page.state.memory import keep
from scoring.words.cautions import ON_SITE
from scoring.words.figures import figure
from scoring.words.workings.carrying import who_carries
from scoring.words.workings.criteria import working
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps

ADDS = "What a score adds is score × weight: point at the chart's bars."


@st.fragment(key="working")
def working_part(model, is_us):
    """Draw how one machine's figures came about; weights do not change it."""
    machine_working(model, is_us)


def machine_working(evaluation, is_us):
    """Draw how the figures of one machine came about, step by step."""
    names = [evaluation.names[k] for k in evaluation.order]
    keep("show_machine", names, names[0])
    st.selectbox("Machine", names, key="show_machine", persist_state="session")
    k = evaluation.index(st.session_state["show_machine"])
    figures = text.folded_html(_figure_steps(evaluation, k, is_us))
    jobs = text.folded_html(_job_steps(evaluation, k, is_us))
    carries = text.said(f"Who carries: {who_carries(evaluation, k, is_us)}.")
    text.side_by_side(
        scores_html(evaluation, k, is_us),
        text.heading_html("Figures, step by step")
        + figures
        + carries
        + text.caution_html("lifting", "van", "money"),
        text.heading_html("A job of each type, part by part")
        + jobs
        + text.caution_html(*ON_SITE),
    )


def scores_html(evaluation, k, is_us):
    """Return how each figure of a machine became a score, as a table."""
    rows = []
    for criterion in evaluation.criteria:
        name = evaluation.names[k]
        *_, result, score = working(evaluation, name, criterion.id, is_us)
        amount = figure(result.value, result.unit, is_us)
        how = score.how.rpartition(", weighs")[0]
        rows.append([criterion.label, amount, f"{score.value:.3f}", how])
    head = ["what matters", "figure", "score", "how scored"]
    return text.table_html(head, rows, range(1, 3), "scores") + text.note_html(ADDS)


def _figure_steps(evaluation, k, is_us):
    """Yield (heading, table) of the steps to each criterion's figure."""
    for criterion in evaluation.criteria:
        name = evaluation.names[k]
        *steps, result, _ = working(evaluation, name, criterion.id, is_us)
        amount = figure(result.value, result.unit, is_us)
        yield f"{criterion.label}: {amount}", _steps_html(steps, is_us)


def _job_steps(evaluation, k, is_us):
    """Yield (heading, table) of minutes, days and money of each job type."""
    for j, job in enumerate(evaluation.brief.work):
        steps = job_steps(evaluation, k, j, is_us)
        steps += job_money_steps(evaluation, k, j)
        amount = figure(at(evaluation, k, j).booked_days, "day")
        heading = f"{job.name}: {amount if len(steps) > 1 else 'not served'}"
        yield heading, _steps_html(steps, is_us)


def _steps_html(steps, is_us):
    """Return steps with how they came about, as a table."""
    rows = [
        [
            step.what,
            figure(step.value, step.unit, is_us),
            " · ".join(filter(None, [step.how, text.basis(step.basis)])),
        ]
        for step in steps
    ]
    return text.table_html(["step", "figure", "how, and basis"], rows, [1])
