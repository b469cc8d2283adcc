"""Benefit, regret and results in money, over all draws."""

import streamlit as st

from scoring.page import text
from scoring.questions.firmness import NOTHING
from scoring.words.figures import about, figure

REGRET_HELP = (
    "Net benefit: present value as a level sum a year. Regret: how much less it leaves "
    "than the best choice of each draw, on average. Result of a year: P10, P50, P90 of "
    "the draws, before tax, after your own pay."
)


def in_money(found):
    """Draw benefit, regret and results, and how often a job takes another day."""
    firm = found.firm
    names, brief = firm.evaluation.names, firm.evaluation.brief
    currency = f"{brief.currency}/year"
    order = sorted(firm.alternatives, key=lambda k: -firm.benefit[k])
    rows = [
        [
            names[k],
            *(about(x, currency) for x in (firm.benefit[k], firm.regret[k])),
            *(about(x, currency) for x in firm.results[k]),
        ]
        for k in order
    ]
    nothing = [NOTHING, *(about(x, currency) for x in (0, firm.regret_of_nothing))]
    head = ["machine", "net benefit", "what choosing it wrongly costs"]
    head += [
        "if figures turn out badly (P10)",
        "in the middle (P50)",
        "if they turn out well (P90)",
    ]
    with st.container(key="in_money"):
        rows.append([*nothing, "–", "–", "–"])
        text.table(head, rows, range(1, len(head)), "money over all draws")
    st.caption(
        "Costs: what you would leave on the table on average by choosing this one.",
        help=REGRET_HELP,
    )
    if not order:
        return
    text.say("How often a job takes more days than planned:")
    rows = [[names[k], *_spills(firm, k)] for k in order]
    head = ["machine", *(job.name for job in brief.work)]
    text.table(head, rows, range(1, len(head)), "how often a job spills over")


def _spills(firm, k):
    """Yield how often each kind of job spills over, "–" where it is not served."""
    served = firm.evaluation.outcome.can_do[0, k]
    for share, can_do in zip(firm.spills[k], served, strict=True):
        yield figure(share, "share") if can_do else "–"
