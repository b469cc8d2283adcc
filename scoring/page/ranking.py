"""The screen "Ranking": which machine for this work, and what changes the answer."""

import streamlit as st

from scoring import charts, explain, show
from scoring.decision.criteria import separates
from scoring.errors import ScoringError
from scoring.evaluation import reweigh
from scoring.explain_limits import reasons
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
ALIKE = " All machines are equal here."
MORE_JOBS = 10  # jobs a month that a slider always reaches


def main():
    """Draw the screen."""
    files = state.loaded()
    brief, is_us = state.header(files, "Ranking")
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


# What each control reruns; the echo comes last, when all the rest is drawn.
WEIGHTS_MOVED = ("results", "weights", "echo")
WORK_MOVED = ("results", "work", "working", "echo")
PICKED = ("working", "echo")


def board(base, is_us):
    """Draw results beside controls, each a fragment, so that little is drawn again."""
    wide, narrow = st.columns([13, 7], gap="large")
    with wide:
        results_part(base, is_us)
    with narrow:
        weights_part(base)
        choices_part(base)
        work_part(base)
    working_part(base, is_us)
    echo_part(base)


@st.fragment(key="results")
def results_part(base, is_us):
    """Draw what follows from weights, crew and work."""
    state.settle_weights()
    try:
        model = current(base)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this work.", error)
        return
    shares = {k: weight / 100 for k, weight in st.session_state["weights"].items()}
    results(reweigh(model, shares), is_us)


@st.fragment(key="weights")
def weights_part(base):
    """Draw the sliders of the weights."""
    weight_controls(base)


@st.fragment(key="choices")
def choices_part(base):
    """Draw the locks and the rest that no slider changes."""
    weight_choices(base)


@st.fragment(key="work")
def work_part(base):
    """Draw the crew and the jobs a month."""
    work_controls(base.brief)


@st.fragment(key="working")
def working_part(base, is_us):
    """Draw how one machine's figures came about; weights do not change it."""
    try:
        model = current(base)
    except ScoringError:
        return  # the results say so
    machine_working(model, is_us)


@st.fragment(key="echo")
def echo_part(base):
    """Write the inputs that were rendered."""
    people, jobs = state.work_chosen(base.brief)
    weights = {f"weight_{k}": w for k, w in st.session_state["weights"].items()}
    per_month = {f"jobs_{n}": float(n_jobs) for n, n_jobs in enumerate(jobs)}
    state.echo(**weights, **per_month, crew=people)


def current(base):
    """Return the Evaluation with the crew and the work as the controls stand."""
    return state.changed(base, *state.work_chosen(base.brief))


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
    download(evaluation)


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
    st.rerun(PICKED)


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
            (
                evaluation.names[k],
                " ".join(reasons(evaluation, k, is_us)),
            )
            for k in out
        )


def weight_controls(base):
    """Draw the sliders of the weights, and the way back to the brief's."""
    text.heading("What matters to you, in per cent")
    extra = already_counted(base)
    for c in range(len(base.criteria)):
        if c not in extra:
            weight_slider(base, c)
    if extra and shows_extra(base, extra):
        st.caption("Already counted in the money:")
        for c in extra:
            weight_slider(base, c)


def already_counted(base):
    """Return the criteria that weigh nothing unless asked."""
    return [
        c
        for c, criterion in enumerate(base.criteria)
        if not criterion.in_use and base.weights[c] == 0
    ]


def shows_extra(base, extra):
    """Return whether the sliders of what is already counted are asked for."""
    weights = st.session_state["weights"]
    weighed = any(weights[base.criteria[c].id] > 0 for c in extra)
    return weighed or st.session_state.get("show_extra", False)


def weight_choices(base):
    """Draw what seldom changes: locks, more criteria, their meaning, the way back."""
    labels = {c.id: text.escaped(c.label) for c in base.criteria}
    st.pills(
        "Lock: these weights stay while others move",
        list(labels),
        selection_mode="multi",
        format_func=labels.get,
        key="locked",
        persist_state="session",
    )
    if already_counted(base):
        st.toggle(
            "Weigh what is already counted in the money, too",
            key="show_extra",
            on_change=_weights_chosen,
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
        on_click=_weights_reset,
        args=(base,),
    )


def _weight_moved(name):
    state.weight_moved(name)
    st.rerun(WEIGHTS_MOVED)


def _weights_reset(base):
    state.reset_weights(base)
    st.rerun([*WEIGHTS_MOVED, "choices"])


def _weights_chosen():
    st.rerun(["weights", "echo"])


def _work_moved():
    st.rerun(WORK_MOVED)


def _work_reset(brief):
    state.reset_work(brief)
    st.rerun(WORK_MOVED)


def weight_slider(base, c):
    """Draw the slider of one criterion's weight."""
    criterion = base.criteria[c]
    st.slider(
        text.escaped(criterion.label),
        0.0,
        100.0,
        step=1.0,
        format="%.0f %%",
        key=f"weight_{criterion.id}",
        on_change=_weight_moved,
        args=(criterion.id,),
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
        on_change=_work_moved,
        persist_state="session",
    )
    usual = state.jobs_of(brief)
    for n, job in enumerate(brief.work):
        most = max(MORE_JOBS, 2 * usual[n])
        st.slider(
            f"{text.escaped(job.name)}: jobs a month",
            0.0,
            float(most),
            step=0.1,
            format="%.1f",
            key=f"jobs_{n}",
            on_change=_work_moved,
            persist_state="session",
        )
    st.button(
        "Back to the brief's crew and work",
        key="reset_work",
        on_click=_work_reset,
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
    """Draw how each figure of a machine became a score."""
    rows = []
    for criterion in evaluation.criteria:
        name = evaluation.names[k]
        *_, result, score = working(evaluation, name, criterion.id, is_us)
        amount = figure(result.value, result.unit, is_us)
        how = score.how.rpartition(", weighs")[0]
        rows.append([criterion.label, amount, f"{score.value:.3f}", how])
    head = ["what matters", "figure", "score", "how scored"]
    text.table(head, rows, range(1, 3), "scores")
    st.caption("What a score adds is score × weight: point at the chart's bars.")


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


def download(evaluation):
    """Offer the ranking as a file."""
    st.download_button(
        "Ranking (CSV)",
        lambda: text.csv_bytes(show.ranking_rows(ranking_record(evaluation))),
        "ranking.csv",
        "text/csv",
        key="download_ranking",
        on_click="ignore",
    )


main()
