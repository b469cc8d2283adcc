"""How often each machine has each place."""

import streamlit as st

from scoring.charts.places import (
    OUT,
    by_first_place,
    ordinal,
    place_rows,
    places_in_words,
    places_spec,
)
from scoring.page import text
from scoring.words.figures import figure
from scoring.words.firmness import assumed_of_sellers, kept_out_by, luck_in_words

PLACES_HELP = "Rank acceptability (SMAA-2): the share of draws with each place."
CONFIDENCE_HELP = (
    "Confidence factor (SMAA-2): the share of first places with its central weights, "
    "the mean of those that put it first."
)


def places(found):
    """Draw how often each machine has each place."""
    firm = found.firm
    with st.container(key="places_chart"):
        st.vega_lite_chart(place_rows(firm), places_spec(), key="places")
    st.caption(
        "Of all draws, of figures and of weights, the share in which a machine comes "
        "first, second and so on, or breaks one of your limits.",
        help=PLACES_HELP,
    )
    text.say(*kept_out_by(firm))
    lucky = filter(None, [luck_in_words(firm)])
    text.say(*places_in_words(firm).split("\n"), *lucky, assumed_of_sellers(firm))
    _place_tables(firm)


def _place_tables(firm):
    names, order = firm.evaluation.names, by_first_place(firm)
    head = ["machine", *map(ordinal, range(1, len(order) + 1))]
    head += [OUT, "first with its own weights"]
    rows = [
        [
            names[k],
            *(figure(x, "share") for x in firm.acceptability[k, : len(order)]),
            figure(firm.ruled_out[k], "share"),
            figure(firm.confidence[k], "share"),
        ]
        for k in order
    ]
    text.table(head, rows, range(1, len(head)), "how often each place")
    st.caption("First with its own weights: its best case.", help=CONFIDENCE_HELP)
    rows = [
        [
            names[k],
            *("" if k == n else figure(firm.before[k, n], "share") for n in order),
        ]
        for k in order
    ]
    text.say("How often the machine of the row is ahead of that of the column:")
    head = ["machine", *(names[k] for k in order)]
    text.table(head, rows, range(1, len(head)), "who is ahead of whom, how often")
