"""Cash month by month, what the months come to, and what may go wrong."""

import streamlit as st

from scoring.answer.one_machine import at, of_place
from scoring.charts.cash import curve_rows, curve_spec, curves_in_words
from scoring.page import text
from scoring.questions.from_jobs import jobs_needed
from scoring.questions.years import if_wrong
from scoring.words.figures import about, number
from scoring.words.money import IF_WRONG, back_in_words

MEANINGS = {
    "earned back": "payback: the month from which the cash so far stays above zero",
    "with interest": "discounted payback: the same, later money counting for less",
    "deepest in the red": "the lowest point of cash so far",
    "present value": "NPV: all later money counted back to today at your interest",
    "all costs spread over a year": "equivalent annual cost (EAC), less resale",
}
MONTHS_HELP = (
    "By the month: delivery, the rise of demand, slow first builds, clients who pay "
    "later or not at all, the loan. Before tax, after your own pay."
)
AS_THE_ONLY_ONE = (
    "Each machine as if it were your only one; for keeping, adding or replacing a rig "
    "see the screen Second rig."
)
BEFORE_PAY = "full year before your own pay"
SHOWN_AT_FIRST = 3


def goes_wrong(found, k):
    """Draw what becomes of a machine when work, delivery or payment disappoint."""
    text.heading("If things go wrong")
    evaluation = found.evaluation
    currency, rows = evaluation.brief.currency, []
    for case, months_then in if_wrong(found).items():
        words = IF_WRONG[case]
        if months_then is None:
            rows.append([words, "beyond the years looked at", "–", "–"])
            continue
        worth = of_place(months_then.worth, k)
        back = back_in_words(worth.payback_month)
        amounts = (-worth.low_point, worth.npv)
        rows.append([words, back, *(about(x, currency) for x in amounts)])
    head = [evaluation.names[k], "earned back", "deepest in the red", "present value"]
    text.table(head, rows, range(1, 4), "if things go wrong")
    if found.instalments_a_year[k] > 0:
        text.say("The instalments are owed even if the work does not come.")


def months(found, names, chosen):
    """Draw the cash curves."""
    text.heading("Cash, month by month")
    first = [name for name in names if name != chosen][: SHOWN_AT_FIRST - 1]
    with_it = st.session_state.get("curves", first)
    st.session_state["curves"] = [n for n in with_it if n in names and n != chosen]
    others = [name for name in names if name != chosen]
    st.multiselect("Compared with", others, key="curves", persist_state="session")
    shown = [chosen, *st.session_state["curves"]]
    currency = found.evaluation.brief.currency
    with st.container(key="cash_chart"):
        st.vega_lite_chart(
            curve_rows(found, shown),
            curve_spec(currency, found.evaluation.names, shown),
            key="cash_curves",
        )
    st.caption(
        "Diamond: earned back. Dashed: nothing lost, nothing won.", help=MONTHS_HELP
    )
    with st.expander("The chart in words"):
        text.say(*curves_in_words(found, shown))


def months_table(found, names):
    """Draw what the months of every machine come to."""
    evaluation = found.evaluation
    currency, jobs = evaluation.brief.currency, jobs_needed(evaluation)
    has_hour = evaluation.brief.money.own_hour is not None
    rows = []
    for name in names:
        k = evaluation.index(name)
        worth, gap = of_place(found.worth, k), found.funds_gap[k]
        before_pay = at(evaluation, k).year.before_pay
        rows.append(
            [
                named(evaluation, k),
                back_in_words(worth.payback_month),
                back_in_words(worth.discounted_payback_month),
                about(-worth.low_point, currency),
                about(gap, currency) if gap > 0 else "–",
                about(worth.npv, currency),
                *([about(before_pay, currency)] if has_hour else []),
                carried(jobs.to_cover[k]),
                carried(jobs.to_earn_back[k]),
                about(worth.equivalent_annual_cost, f"{currency}/year"),
                about(worth.cost_per_job, currency),
            ]
        )
    head = ["machine", "earned back", "with interest", "deepest in the red"]
    head += ["short of cash by", "present value"]
    head += [BEFORE_PAY] if has_hour else []
    head += ["jobs a month that cover a year's costs"]
    head += ["jobs a month that earn the machine back too"]
    head += ["all costs spread over a year", "cost of an average job"]
    columns = range(1, len(head))
    text.table(head, rows, columns, "what the months come to", MEANINGS)


def named(evaluation, k):
    """Return a machine's name, with what keeps it from the ranking."""
    return evaluation.names[k] + ("" if evaluation.is_ranked[k] else " (ruled out)")


def carried(n_jobs):
    """Return the jobs a month from which something pays in words."""
    return "none do" if n_jobs == float("inf") else number(n_jobs, 1)
