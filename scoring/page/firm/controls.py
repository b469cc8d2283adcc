"""What is asked of chance: how many draws, which seed, what is known of the weights.

The controls stand in no fragment: Streamlit lets the rerun of a fragment wait until the
script has ended, but the rerun of the whole page breaks off a run of draws at its next
step. So a change during a run starts anew, and nothing piles up.
"""

import streamlit as st

from scoring.page.state.firm import DRAWS, chance_asked
from scoring.words.figures import number

MOST_SEED = 2**31 - 1
KNOWN = {
    "stated": "about as stated",
    "order": "their order alone",
    "nothing": "nothing",
}
KNOWN_HELP = (
    "Weights are drawn from a Dirichlet distribution: around yours; evenly among all "
    "that keep the order of yours; or evenly among all. A weight of 0 stays 0."
)
DRAWS_HELP = (
    "Each draw takes one value of every uncertain figure (Beta-PERT) and one set of "
    "weights through the whole model: Monte Carlo. More draws shrink the error by "
    "1/√n; they do not make the answer firmer."
)
SEED_HELP = "Where chance starts. The same seed gives the same draws, on any computer."


def controls():
    """Draw what is asked of chance; return (number of draws, seed, known)."""
    chance_asked()
    left, middle, right = st.columns([4, 4, 2], vertical_alignment="bottom")
    left.radio(
        "What is known of your weights",
        list(KNOWN),
        format_func=KNOWN.get,
        key="known",
        horizontal=True,
        help=KNOWN_HELP,
        persist_state="session",
    )
    middle.radio(
        "Draws of all that is uncertain",
        DRAWS,
        format_func=number,
        key="draws",
        horizontal=True,
        help=DRAWS_HELP,
        persist_state="session",
    )
    right.number_input(
        "Seed",
        0,
        MOST_SEED,
        step=1,
        key="seed",
        help=SEED_HELP,
        persist_state="session",
    )
    return chance_asked()
