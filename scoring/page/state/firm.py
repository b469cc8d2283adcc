"""How firm the answer is, worked out once for whoever asks; a bar tells how far."""

import streamlit as st

from scoring.page.state.memory import keep
from scoring.page.state.shared import shared
from scoring.page.state.work import weighed
from scoring.questions import find_out
from scoring.questions.firmness import how_firm
from scoring.questions.swings import all_swings
from scoring.words.figures import number

DRAWS = (1_000, 10_000, 100_000)
KNOWLEDGE = ("stated", "order", "nothing")


def chance_asked():
    """Return (draws, seed, what is known of the weights) as the controls stand."""
    keep("draws", DRAWS, DRAWS[0])
    keep("known", KNOWLEDGE, KNOWLEDGE[0])
    st.session_state.setdefault("seed", 1)
    return tuple(st.session_state[key] for key in ("draws", "seed", "known"))


def firmness(model):
    """Return the Firmness of a model under the weights as they stand.

    One that is broken off leaves nothing.
    """
    place = st.empty()
    evaluation, asked = weighed(model), chance_asked()
    found = shared("firm", (evaluation,), asked, lambda: _made(place, evaluation))
    place.empty()
    return found


def swings_of(firm):
    """Return the Swings of a Firmness."""
    return shared("swings", (firm,), "", lambda: all_swings(firm.evaluation))


def questions_of(firm):
    """Return the OpenQuestions of a Firmness."""
    swings = swings_of(firm)
    return shared("questions", (firm,), "", lambda: find_out.questions(firm, swings))


def _made(place, evaluation):
    n_draws, seed, known = chance_asked()
    bar = place.progress(0.0, f"0 of {number(n_draws)} draws")

    def on_progress(share):
        bar.progress(share, f"{number(share * n_draws)} of {number(n_draws)} draws")

    return how_firm(evaluation, n_draws, seed, known, on_progress=on_progress)
