"""What to find out first, what it is worth, and what comes next."""

import streamlit as st

from scoring.page import text
from scoring.words import firmness
from scoring.words.figures import about, joined
from scoring.words.firmness import FIRST, when_to_stop
from scoring.words.keys import what_asked

WORTH_HELP = (
    "Expected value of partial perfect information (EVPPI), with its standard error by "
    "Monte Carlo: how much better you would choose, on average, if you knew this alone."
)
MORE_QUESTIONS = 12


def first_questions(found):
    """Say what to find out first, what it is worth, and when to stop."""
    with st.container(key="find_out"):
        asked = firmness.first_questions(found.firm, found.questions)
        text.say(*(f"{n}. {sentence}" for n, sentence in enumerate(asked, 1)))
        text.say(when_to_stop(found.firm))
    st.caption("Worth: of knowing this alone, in money a year.", help=WORTH_HELP)


def more_questions(found):
    """Draw the questions that come next."""
    asked = found.questions[FIRST:][:MORE_QUESTIONS]
    if not asked:
        return
    currency = f"{found.evaluation.brief.currency}/year"
    text.say(f"The next {len(asked)} to find out:")
    rows = [
        [
            what_asked(question),
            question.how,
            _worth(question, currency),
            joined(question.turns_to) or "–",
        ]
        for question in asked
    ]
    with st.container(key="more_questions"):
        head = ["what", "how to settle it", "worth", "who may lead"]
        text.table(head, rows, (2,), "what to find out next")
    st.caption(
        "A worth below twice its error is as good as nothing; such questions stand in "
        "the order in which they move the lead. Who may lead: those between whom it "
        "changes hands within the figure's range."
    )


def _worth(question, currency):
    error = about(question.error, currency)
    if error == about(0, currency):
        return about(question.value, currency)
    worth = about(question.value, currency).removesuffix(f" {currency}")
    return f"{worth} ± {error}"
