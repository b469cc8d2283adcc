"""Simulated years: what an unlucky, a middling and a lucky one bring."""

import streamlit as st

from scoring.charts.years import year_rows, years_spec
from scoring.page import text
from scoring.page.money.months import named
from scoring.page.state.memory import keep
from scoring.questions.years import chances
from scoring.words.figures import about, figure, number

YEARS_HELP = (
    "Simulated years: jobs come at random (Poisson), wait their turn, clients "
    "leave when it takes too long, breakdowns stop the machine. First come, first "
    "served: where days run short, neither must-serve work nor the best goes first."
)
N_YEARS = (2_000, 10_000, 50_000)


def simulated(evaluation):
    """Draw how many years to simulate, and how far it is; return the Chances."""
    keep("n_years", N_YEARS, N_YEARS[0])
    st.radio(
        "Years to simulate",
        N_YEARS,
        format_func=number,
        horizontal=True,
        key="n_years",
        persist_state="session",
    )
    n_years = st.session_state["n_years"]
    if n_years == N_YEARS[0]:  # done before a bar is read
        return chances(evaluation, n_years)
    bar = st.progress(0.0, "Simulating")
    found = chances(evaluation, n_years, on_progress=bar.progress)
    bar.empty()
    return found


def spread(evaluation, names):
    """Draw good and bad years."""
    text.heading("A good year, a bad year")
    chance = simulated(evaluation)
    st.vega_lite_chart(
        year_rows(evaluation, chance, names),
        years_spec(evaluation.brief.currency),
        key="years_chart",
    )
    currency = evaluation.brief.currency
    rows = []
    for name in names:
        k = evaluation.index(name)
        rows.append(
            [
                named(evaluation, k),
                *(about(float(x), currency) for x in chance.results[:, k]),
                number(chance.turned_away[k], 1),
                number(chance.days_idle[k], 0),
                number(chance.backlog_weeks[1, k], 1),
                *(
                    figure(share[k], "share")
                    for share in (
                        chance.shortfall_by_luck,
                        chance.shortfall_by_figures,
                        chance.shortfall,
                    )
                ),
            ]
        )
    head = ["machine", "unlucky year (P10)", "middling (P50)", "lucky (P90)"]
    head += ["jobs turned away a year", "idle days a year", "weeks a client waits"]
    is_lent = evaluation.brief.payment.way in ("loan", "lease")
    head += ["years that lose money by luck", "as the figures are not known", "by both"]
    text.table(head, rows, range(1, 10), "simulated years")
    paid = ", loan or lease paid" if is_lent else ""
    st.caption(
        "Years after the first, with luck and breakdowns, the figures as expected. "
        f"Years that lose money{paid}: by bad luck alone; because a figure turns out "
        "otherwise than expected, alone; and by both together.",
        help=YEARS_HELP,
    )
