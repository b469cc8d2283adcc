"""The screen "Ranking": which machine for this work, and what changes the answer."""

import streamlit as st

from scoring.answer.ranking import reweigh
from scoring.decision.scale import separates
from scoring.errors import ScoringError
from scoring.page import ranking_block, text
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, echo_html, keep
from scoring.page.state.weights import points, reset_weights, sliders
from scoring.page.state.work import (
    baseline,
    changed,
    jobs_of,
    reset_work,
    seed,
    work_chosen,
)
from scoring.records.ranking import ranking_record
from scoring.text.ranking import ranking_rows
from scoring.words.doubt import why_not_in
from scoring.words.figures import figure
from scoring.words.workings.criteria import who_carries, working
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps

ALIKE = " All machines are equal here."
CANNOT = "These machines cannot be ranked for this work."
POINTS = "Only their proportions count; each one's per cent stands under the bars."
ADDS = "What a score adds is score × weight: point at the chart's bars."
ON_SITE = ("printing", "assembled", "ink", "lamp", "wall", "height", "mains")
MORE_JOBS = 10  # jobs a month that a slider always reaches


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Ranking")
    if brief is None:
        echo()
        return
    try:
        base = baseline(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this brief.", error)
        echo()
        return
    seed(base)
    board(base, is_us)


def board(base, is_us):
    """Draw results beside controls.

    A move of a weight draws two elements anew, its slider and the results: every other
    message and element would cost more than the ranking does.
    """
    wide, narrow = st.columns([13, 7], gap="large")
    place = wide.empty()
    on_screen = {}  # the Evaluation that is shown, once it is
    with narrow:
        weight_controls(base, is_us, place, on_screen)
        work_controls(base.brief)
    results_part(base, is_us, place, on_screen)
    try:
        model = current(base)
    except ScoringError:
        return  # the results say so
    with wide:
        not_in(model, is_us)
        download(on_screen)
    working_part(model, is_us)


@st.fragment
def results_part(base, is_us, place, on_screen):
    """Draw the results, in a fragment as those that draw them later."""
    place.html(results(base, is_us, on_screen))


def results(base, is_us, on_screen):
    """Return what follows from weights, crew and work; note its Evaluation."""
    people, jobs = work_chosen(base.brief)
    try:
        on_screen["evaluation"] = reweigh(current(base), points(base))
        drawn = ranking_block.block(on_screen["evaluation"], is_us)
    except ScoringError as error:
        drawn = text.said(CANNOT, str(error))
    per_month = {f"jobs_{n}": n_jobs for n, n_jobs in enumerate(jobs)}
    return drawn + echo_html(**sliders(base), **per_month, crew=people)


@st.fragment
def weight_part(base, c, is_us, place, on_screen):
    """Draw the slider of one criterion's weight and, once it is moved, the results."""
    criterion = base.criteria[c]
    st.slider(
        text.escaped(criterion.label),
        0.0,
        100.0,
        step=1.0,
        format="%.0f",
        key=f"weight_{criterion.id}",
        persist_state="session",
    )
    if on_screen:
        place.html(results(base, is_us, on_screen))
    else:
        place.empty()  # a fragment may write only where it did in the whole run


@st.fragment(key="working")
def working_part(model, is_us):
    """Draw how one machine's figures came about; weights do not change it."""
    machine_working(model, is_us)


def current(base):
    """Return the Evaluation with the crew and the work as the controls stand."""
    return changed(base, *work_chosen(base.brief))


def not_in(evaluation, is_us):
    """List the machines in doubt, and those that break a limit, with the way back."""
    for status, heading in (
        ("in_doubt", "In doubt, yet ranked"),
        ("ruled_out", "Ruled out by your limits"),
    ):
        some = [k for k in evaluation.order if evaluation.status(k) == status]
        if some:
            text.listed(
                (
                    (evaluation.names[k], " ".join(why_not_in(evaluation, k, is_us)))
                    for k in some
                ),
                heading,
            )


def weight_controls(base, is_us, place, on_screen):
    """Draw a slider for what each criterion weighs, and what belongs to them."""
    text.heading("What matters to you, in points", POINTS)
    extra = already_counted(base)
    shown = [c for c in range(len(base.criteria)) if c not in extra]
    for c in shown:
        weight_part(base, c, is_us, place, on_screen)
    if extra and shows_extra(base, extra):
        text.note("Already counted in the money:")
        for c in extra:
            weight_part(base, c, is_us, place, on_screen)
    weight_choices(base)


def already_counted(base):
    """Return the criteria that weigh nothing unless asked."""
    return [
        c
        for c, criterion in enumerate(base.criteria)
        if not criterion.in_use and base.weights[c] == 0
    ]


def shows_extra(base, extra):
    """Return whether the sliders of what is already counted are asked for."""
    weighed = any(st.session_state[f"weight_{base.criteria[c].id}"] > 0 for c in extra)
    return weighed or st.session_state.get("show_extra", False)


def weight_choices(base):
    """Draw what seldom changes: more criteria, their meaning, the way back."""
    if already_counted(base):
        st.toggle(
            "Weigh what is already counted in the money, too",
            key="show_extra",
            persist_state="session",
        )
    with st.expander("What each of these means"):
        text.listed(
            (c.label, f"{c.term}.{'' if separates(base.scale[n]) else ALIKE}")
            for n, c in enumerate(base.criteria)
        )
    st.button(
        "Back to the brief's weights",
        key="reset_weights",
        on_click=reset_weights,
        args=(base,),
    )


def work_controls(brief):
    """Draw the switch for the crew and a slider for each type of job."""
    text.heading("Your crew and work")
    crews = sorted({1, max(2, brief.crew.people)})
    st.radio(
        "Who goes to the site",
        crews,
        format_func=_crew_words,
        key="crew",
        horizontal=True,
        persist_state="session",
    )
    usual = jobs_of(brief)
    for n, job in enumerate(brief.work):
        most = max(MORE_JOBS, 2 * usual[n])
        st.slider(
            f"{text.escaped(job.name)}: jobs a month",
            0.0,
            float(most),
            step=0.1,
            format="%.1f",
            key=f"jobs_{n}",
            persist_state="session",
        )
    st.button(
        "Back to the brief's crew and work",
        key="reset_work",
        on_click=reset_work,
        args=(brief,),
    )


def _crew_words(people):
    words = {1: "alone", 2: "with a second person"}
    return words.get(people, f"a crew of {people}")


def machine_working(evaluation, is_us):
    """Draw how the figures of one machine came about, step by step."""
    text.heading("How a machine's figures came about")
    names = [evaluation.names[k] for k in evaluation.order]
    keep("show_machine", names, names[0])
    st.selectbox("Machine", names, key="show_machine", persist_state="session")
    k = evaluation.index(st.session_state["show_machine"])
    figures = text.folded_html(_figure_steps(evaluation, k, is_us))
    jobs = text.folded_html(_job_steps(evaluation, k, is_us))
    carries = text.said(f"Heaviest piece: {who_carries(evaluation, k, is_us)}.")
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
        amount = figure(evaluation.outcome.booked_days[0, k, j], "day")
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


def download(on_screen):
    """Offer the ranking as a file."""
    st.download_button(
        "Ranking (CSV)",
        lambda: text.csv_bytes(_ranking_rows(on_screen)),
        "ranking.csv",
        "text/csv",
        key="download_ranking",
        on_click="ignore",
    )


def _ranking_rows(on_screen):
    return ranking_rows(ranking_record(on_screen["evaluation"]))


main()
