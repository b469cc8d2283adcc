"""How the cost to the door, and what is left of a job, build up."""

import streamlit as st

from scoring.answer.one_machine import at
from scoring.charts.build_up import build_up_rows, build_up_spec
from scoring.page import text
from scoring.page.state.memory import keep
from scoring.words.evidence import to_ask
from scoring.words.figures import figure


def to_the_door(evaluation, name):
    """Draw how the cost to the door builds up."""
    text.heading("To your door, line by line")
    k = evaluation.index(name)
    lines = [
        (key.replace("_", " "), float(line))
        for key, line in at(evaluation, k).upfront_lines._asdict().items()
        if line
    ]
    build_up(lines, "to your door", evaluation, "door")
    text.say(grown(evaluation, k))
    text.say(to_ask(evaluation.machines[k]))


def grown(evaluation, k):
    """Return how a price that is only quoted counts, "" where it counts as it is."""
    price = evaluation.evidence[evaluation.names[k], "price"]
    counted = float(evaluation.drawn[evaluation.names[k], "price"][0])
    home = evaluation.brief.currency
    told = evaluation.machines[k].price.likely
    if price.is_unknown or price.currency != home or abs(counted - told) < 1:
        return ""
    asked = figure(told, home)
    return (
        f"The price told is {asked} ({price.basis}); what is only {price.basis} may "
        f"turn out otherwise, so it counts as {figure(counted, home)} on average."
    )


def a_job(evaluation, name):
    """Draw what is left of one job of each kind."""
    text.heading("What a job leaves")
    k = evaluation.index(name)
    jobs = [job.name for job in evaluation.brief.work]
    keep("money_job", jobs, jobs[0])
    st.selectbox("Kind of job", jobs, key="money_job", persist_state="session")
    j = jobs.index(st.session_state["money_job"])
    lived = at(evaluation, k, j)
    if not lived.can_do:
        text.say(f"{name} does not do this work.")
        return
    lines = [
        (key.replace("_", " "), float(line))
        for key, line in lived.contribution_lines._asdict().items()
        if line
    ]
    build_up(lines, "left after job costs", evaluation, "job")


def build_up(lines, total, evaluation, key):
    """Draw a build-up as bars and as a table."""
    currency = evaluation.brief.currency
    st.vega_lite_chart(
        build_up_rows(lines, total, currency),
        build_up_spec(),
        key=f"build_up_{key}",
    )
    rows = [[name, figure(amount, currency)] for name, amount in lines]
    rows.append([total, figure(sum(amount for _, amount in lines), currency)])
    text.table(["line", "amount"], rows, [1], total)
