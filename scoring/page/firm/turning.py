"""What would turn the lead: figures within their ranges, weights, what is not told."""

import streamlit as st

from scoring.charts.places import OUT, ordinal
from scoring.charts.swings import swing_rows, swings_in_words, swings_spec
from scoring.charts.weights import weight_rows, weights_in_words, weights_spec
from scoring.page import text
from scoring.questions.swings import present_lead
from scoring.words.evidence import unknowns, untold
from scoring.words.turning import level_in_words

SWING_HELP = (
    "One uncertain figure at a time is set to the lowest and the highest of its range, "
    "all others stay (one-way sensitivity, a tornado chart)."
)
MOST_LEVELS = 3  # figures that turn the answer, in words before a fold
STABILITY_HELP = (
    "Exact stability intervals: one weight moves, the others share the rest in their "
    "present proportions."
)


def swings(found, is_us):
    """Draw what moves the lead how far, and where a rival draws level."""
    evaluation = found.evaluation
    text.heading("What would turn it")
    if not found.swings:
        text.say("No single figure moves the lead within its range.")
        return
    lead = present_lead(evaluation)
    with st.container(key="swings_chart"):
        st.vega_lite_chart(
            swing_rows(evaluation, found.swings, lead, is_us),
            swings_spec(),
            key="swings",
        )
    st.caption(
        "Today's lead, in points, at either end of a figure's range; grey mark: now; "
        "red: another draws level.",
        help=SWING_HELP,
    )
    first, *more = _levels(found, is_us)
    text.say(first, *more[: MOST_LEVELS - 1])
    with st.expander("The chart in words"):
        text.say(*more[MOST_LEVELS - 1 :])
        words = swings_in_words(evaluation, found.swings, is_us)
        text.say(*words.split("\n"))


def _levels(found, is_us):
    """Yield a sentence for each figure at which another comes level."""
    if not found.levels:
        yield "None of these figures alone gives the lead to another machine."
    for swing in found.swings:
        key = (swing.owner, swing.path)
        if key in found.levels:
            yield level_in_words(found.evaluation, swing, found.levels[key], is_us)


def weight_ranges(found):
    """Draw between which values each weight may move."""
    evaluation = found.evaluation
    if not evaluation.is_ranked.any():
        text.say("No machine leads, so no weight can change that.")
        return
    with st.container(key="weights_chart"):
        st.vega_lite_chart(
            weight_rows(evaluation, found.stability),
            weights_spec(),
            key="weight_ranges",
        )
    st.caption(
        "Today's leader stays first while one weight moves within its bar.",
        help=STABILITY_HELP,
    )
    with st.expander("The chart in words"):
        words = weights_in_words(evaluation, found.stability)
        text.say(*words.split("\n"))


def bad_news(found):
    """Draw each machine's place if all that it leaves unknown turns out bad."""
    evaluation = found.evaluation
    text.heading("If what is not told turns out bad")
    silent = [k for k in evaluation.order if unknowns(evaluation, k)]
    if not silent:
        text.say("No seller leaves anything untold that matters here.")
        return
    rows = [
        [
            evaluation.names[k],
            _place(evaluation.rank_weighted_sum[k]),
            _place(found.bad_ranks[k]),
        ]
        for k in silent
    ]
    with st.container(key="bad_news"):
        head = ["machine", "place now", "place then"]
        text.table(head, rows, (1, 2), "places if unknowns turn out bad")
    st.caption(
        "One at a time takes the worse end of all that its seller has not told. "
        "Machines that are not named leave nothing untold."
    )
    with st.expander("What is not told"):
        text.listed((evaluation.names[k], f"{untold(evaluation, k)}.") for k in silent)


def _place(rank):
    return ordinal(rank) if rank else OUT
