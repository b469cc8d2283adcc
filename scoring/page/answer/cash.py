"""When the leader's money is back: as it stands, at half the work, all at once."""

from functools import partial

import streamlit as st

from scoring.charts.base import colours
from scoring.charts.cash import CASES, case_rows, case_spec, cases_in_words
from scoring.page import text
from scoring.page.answer.bar import case_of
from scoring.page.state.shared import shared
from scoring.questions.years import years


def when_back(evaluation, model):
    """Draw the leader's cash by the month, a line for each case."""
    leader = evaluation.order[0]
    text.heading(f"When is the money back? {evaluation.names[leader]}")
    cash_by_case(found_by_case(model), leader)


def found_by_case(model):
    """Return {case: Years or None} of a model."""
    found = {"as_told": years(model)}
    for case in CASES.keys() - found.keys():
        made = partial(case_of, model, case)
        found[case] = shared("years", (model,), case, made)
    return found


def cash_by_case(found, k):
    """Draw machine k's cash by the month, a line for each case."""
    evaluation = found["as_told"].evaluation
    name, currency = evaluation.names[k], evaluation.brief.currency
    with st.container(key="cases_chart"):
        st.vega_lite_chart(
            case_rows(found, k),
            case_spec(currency, colours(evaluation.names)[name]),
            key="cash_by_case",
        )
    with st.expander("The picture in words"):
        text.say(*cases_in_words(found, k))
        text.say("Diamond: earned back. Straight dashes at 0: nothing won or lost.")
