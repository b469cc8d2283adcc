"""Up to which price each machine is the best buy."""

import streamlit as st

from scoring.page import text
from scoring.questions.best_price import present_price
from scoring.words.figures import about
from scoring.words.turning import price_in_words

PRICE_HELP = (
    "What the seller would have to quote for the score to draw level with the best "
    "rival's, everything else as it is; found by bracketing (Brent's method). A quote "
    "itself is reckoned a little higher, as it may rise until it is paid."
)


def prices(found):
    """Draw up to which price each machine is the best buy."""
    evaluation = found.evaluation
    rows = [
        [
            evaluation.names[k],
            about(
                present_price(evaluation, evaluation.names[k]),
                evaluation.brief.currency,
            ),
            price_in_words(
                evaluation, evaluation.names[k], found.prices[evaluation.names[k]]
            ),
        ]
        for k in evaluation.order
    ]
    with st.container(key="prices"):
        head = ["machine", "quoted now", "the best buy at a quote up to"]
        text.table(head, rows, (1, 2), "prices for talks")
    st.caption(
        "No such price: it breaks another limit, or is not first even for nothing.",
        help=PRICE_HELP,
    )
