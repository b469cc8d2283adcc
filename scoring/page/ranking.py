"""The screen "Ranking": which machine for this work, and what changes the answer."""

from pathlib import Path

import streamlit as st

from scoring import charts, explain, show
from scoring.decision.criteria import separates
from scoring.errors import ScoringError
from scoring.evaluation import reweigh
from scoring.page import state, text
from scoring.tables import ranking_record
from scoring.wording import figure, number
from scoring.workings import job_steps, unit_of, who_carries, working

AGREEMENT = (
    "Kendall's τ-b between the order by score and the order by nearness: 1 is the same "
    "order, 0 no relation, −1 the reverse."
)
NEARNESS = (
    "Score: the weighted sum of the criteria's scores, 0–1. Nearness: closeness to the "
    "best of each criterion and distance from the worst (TOPSIS), 0–1."
)
OUTDONE = (
    "Outdone: another machine is at least as good on everything that weighs anything, "
    "and better on something."
)
FRONT = "Not on the Pareto front of the criteria with a weight above 0."
ASSUMED = (
    "\\* rests on a figure that the seller has not told; the other machines' worse "
    "quartile stands in for it."
)
MORE_JOBS = 10  # jobs a month that a slider always reaches


def main():
    """Draw the screen."""
    files = state.loaded()
    brief, is_us = state.header(files)
    if brief is None:
        state.echo()
        return
    try:
        base = state.baseline(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this brief.", error)
        state.echo()
        return
    state.seed(base)
    board(base, is_us)


@st.fragment
def board(base, is_us):
    """Draw the controls and everything that they change."""
    people, jobs = state.work_chosen(base.brief)
    wide, narrow = st.columns([13, 7], gap="large")
    try:
        model = state.changed(base, people, jobs)
    except ScoringError as error:
        model = None
        with wide:
            text.faults("These machines cannot be ranked for this work.", error)
    if model is not None:
        shares = {k: weight / 100 for k, weight in st.session_state["weights"].items()}
        evaluation = reweigh(model, shares)
        with wide:
            results(evaluation, is_us)
    with narrow:
        controls(base)
    if model is not None:
        machine_working(evaluation, is_us)
        downloads(evaluation)
    weights = {f"weight_{k}": w for k, w in st.session_state["weights"].items()}
    per_month = {f"jobs_{n}": float(n_jobs) for n, n_jobs in enumerate(jobs)}
    state.echo(**weights, **per_month, crew=people)


def results(evaluation, is_us):
    """Draw verdict, chart, table, and what explains them."""
    with st.container(key="verdict"):
        text.say(explain.verdict(evaluation))
        text.caution("money")
    if evaluation.is_ranked.any():
        chart(evaluation, is_us)
        with st.container(key="ranking"):
            ranking_table(evaluation, is_us)
        methods(evaluation)
    text.say(explain.double_counting(evaluation))
    ruled_out(evaluation, is_us)


def chart(evaluation, is_us):
    """Draw the contributions; a click on a machine opens its working."""
    words = charts.in_words(evaluation)
    with st.container(key="ranking_chart"):
        st.vega_lite_chart(
            charts.contribution_rows(evaluation, is_us),
            charts.contributions_spec(),
            key="contributions",
            on_select=_picked,
            selection_mode=charts.PICK,
        )
    st.caption(
        "Each bar is a machine's score, built from what matters to you; the diamond "
        "under it is its nearness to the best. Longer and further right is better. "
        "Click on a bar to see the machine's working below.",
        help=NEARNESS,
    )
    with st.expander("The chart in words"):
        text.say(*words.split("\n"))


def _picked():
    """Show the working of the machine that was clicked on."""
    points = st.session_state["contributions"].selection.get(charts.PICK, [])
    if points:
        st.session_state["show_machine"] = points[0]["machine"]


def ranking_table(evaluation, is_us):
    """Draw places, scores and raw figures."""
    weighed = [c for c, weight in enumerate(evaluation.weights) if weight > 0]
    head = ["machine", "place", "score", "nearness", "place by nearness"]
    head += [evaluation.criteria[c].label for c in weighed]
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    rows = [_ranking_row(evaluation, k, weighed, is_us) for k in ranked]
    text.table(head, rows, range(1, len(head)), "ranking with the figures behind it")
    if any(cell.endswith("*") for row in rows for cell in row[5:]):
        st.caption(ASSUMED)
    if not all(evaluation.is_on_pareto_front[k] for k in ranked):
        st.caption(OUTDONE, help=FRONT)
    text.caution("lifting", "odour")


def _ranking_row(evaluation, k, columns, is_us):
    outdone = "" if evaluation.is_on_pareto_front[k] else " (outdone)"
    return [
        evaluation.names[k] + outdone,
        str(evaluation.rank_weighted_sum[k]),
        f"{evaluation.weighted_sum[k]:.3f}",
        f"{evaluation.topsis[k]:.3f}",
        str(evaluation.rank_topsis[k]),
        *(
            figure(evaluation.raw[k, c], unit_of(evaluation, c), is_us)
            + ("*" if explain.rests_on_unknown(evaluation, k, c) else "")
            for c in columns
        ),
    ]


def methods(evaluation):
    """Say how far score and nearness agree, and where they part ways."""
    tau = evaluation.kendall_tau
    if tau is None:
        return
    agree = "agree fully" if tau == 1 else f"agree to {number(tau, 2)} of 1"
    st.caption(f"The order by score and the order by nearness {agree}.", help=AGREEMENT)
    text.say(explain.disagreement(evaluation))


def ruled_out(evaluation, is_us):
    """List the machines that break a limit, with the way back in."""
    out = [k for k in evaluation.order if not evaluation.is_ranked[k]]
    if out:
        text.heading("Ruled out by your limits")
        text.listed(
            (evaluation.names[k], " ".join(explain.reasons(evaluation, k, is_us)))
            for k in out
        )


def controls(base):
    """Draw the sliders for weights, the crew and the jobs a month."""
    text.heading("What matters to you, in per cent")
    extra = [
        c
        for c, criterion in enumerate(base.criteria)
        if not criterion.in_use and base.weights[c] == 0
    ]
    for c in range(len(base.criteria)):
        if c not in extra:
            weight_slider(base, c)
    if extra:
        with st.expander("More, already counted in the money"):
            for c in extra:
                weight_slider(base, c)
    st.button(
        "Back to the brief's weights",
        key="reset_weights",
        on_click=state.reset_weights,
        args=(base,),
    )
    work_controls(base.brief)


def weight_slider(base, c):
    """Draw the slider of one criterion's weight, and its lock."""
    criterion = base.criteria[c]
    note = "" if separates(base.scale[c]) else " All machines are equal here."
    with st.container(horizontal=True, wrap=False, vertical_alignment="bottom"):
        st.slider(
            text.escaped(criterion.label),
            0.0,
            100.0,
            step=1.0,
            format="%.0f %%",
            key=f"weight_{criterion.id}",
            help=text.escaped(criterion.term) + note,
            on_change=state.move_weight,
            args=(criterion.id,),
            persist_state="session",
        )
        st.checkbox(
            "lock",
            key=f"lock_{criterion.id}",
            help="Keeps this weight still while others move.",
            width="content",
            persist_state="session",
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
    for n, job in enumerate(brief.work):
        most = max(MORE_JOBS, 2 * job.per_month.likely)
        st.slider(
            f"{text.escaped(job.name)}: jobs a month",
            0.0,
            float(most),
            step=0.5,
            format="%.1f",
            key=f"jobs_{n}",
            persist_state="session",
        )
    st.button(
        "Back to the brief's crew and work",
        key="reset_work",
        on_click=state.reset_work,
        args=(brief,),
    )


def _crew_words(people):
    words = {1: "alone", 2: "with a second person"}
    return words.get(people, f"a crew of {people}")


def machine_working(evaluation, is_us):
    """Draw how the figures of one machine came about, step by step."""
    text.heading("How a machine's figures came about")
    names = [evaluation.names[k] for k in evaluation.order]
    state.keep("show_machine", names, names[0])
    st.selectbox("Machine", names, key="show_machine", persist_state="session")
    k = evaluation.index(st.session_state["show_machine"])
    scores_table(evaluation, k, is_us)
    left, right = st.columns(2, gap="large")
    with left:
        text.heading("Figures, step by step")
        text.folded(_figure_steps(evaluation, k, is_us))
        text.say(f"Heaviest piece: {who_carries(evaluation, k)}.")
        text.caution("lifting", "van", "money")
    with right:
        text.heading("A job of each type, part by part")
        text.folded(_job_steps(evaluation, k, is_us))
        text.caution("printing", "assembled", "ink", "lamp", "wall", "height", "mains")


def scores_table(evaluation, k, is_us):
    """Draw what each criterion adds to the machine's score."""
    rows = []
    for c, criterion in enumerate(evaluation.criteria):
        score, weight = evaluation.scores[k, c], evaluation.weights[c]
        if weight > 0:
            result, last = working(
                evaluation, evaluation.names[k], criterion.id, is_us
            )[-2:]
            rows.append(
                [
                    criterion.label,
                    figure(result.value, result.unit, is_us),
                    f"{score:.3f}",
                    f"{100 * weight:.1f} %",
                    f"{score * weight:.3f}",
                    last.how.rpartition(", weighs")[0],
                ]
            )
    head = ["what matters", "figure", "score", "weight", "adds", "how scored"]
    text.table(head, rows, range(1, 5), "scores and weights")


def _figure_steps(evaluation, k, is_us):
    """Yield (heading, table) of the steps to each criterion's figure."""
    for criterion in evaluation.criteria:
        name = evaluation.names[k]
        *steps, result, _ = working(evaluation, name, criterion.id, is_us)
        amount = figure(result.value, result.unit, is_us)
        yield f"{criterion.label}: {amount}", _steps_html(steps, is_us)


def _job_steps(evaluation, k, is_us):
    """Yield (heading, table) of the minutes and days of each job type."""
    for j, job in enumerate(evaluation.brief.work):
        steps = job_steps(evaluation, k, j, is_us)
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


def downloads(evaluation):
    """Offer the ranking and the brief as files."""
    with st.container(horizontal=True):
        st.download_button(
            "Ranking (CSV)",
            lambda: text.csv_bytes(show.ranking_rows(ranking_record(evaluation))),
            "ranking.csv",
            "text/csv",
            key="download_ranking",
            on_click="ignore",
        )
        st.download_button(
            "Brief as it was read (YAML)",
            evaluation.brief.text,
            Path(evaluation.brief.source).name,
            "application/yaml",
            key="download_brief",
            on_click="ignore",
        )


main()
