"""The answers to the present question and the last ones, drawn with a bar."""

from dataclasses import dataclass

import numpy as np
import streamlit as st

from scoring.answer.ranking import reweigh
from scoring.charts.swings import TOP_SWINGS
from scoring.page.state.shared import shared
from scoring.questions import find_out
from scoring.questions.bad_unknowns import ranks_if_unknowns_turn_out_bad
from scoring.questions.best_map import BestMap, best_map, own_range
from scoring.questions.best_price import best_buy_prices
from scoring.questions.firmness import Firmness, how_firm
from scoring.questions.swings import all_swings, level_value
from scoring.questions.weight_ranges import stability_of
from scoring.words.figures import number


@dataclass(frozen=True)
class Answered:
    """Everything that the screen shows of one question to the engine."""

    firm: Firmness
    questions: tuple
    swings: tuple
    levels: dict  # (owner, path) → value at which a rival draws level
    stability: np.ndarray  # (criterion, 2), how far each weight may move
    prices: dict  # name → highest price of a best buy, or None
    bad_ranks: list
    best_map: BestMap
    own_range: object


def answer(model, weights, n_draws, seed, known):
    """Return the Answered, remembered or new; one that is broken off leaves nothing."""
    place = st.empty()
    values = (tuple(weights.items()), n_draws, seed, known)

    def make():
        return _answered(_with_bar(place, model, weights, n_draws, seed, known))

    found = shared("firm", (model,), values, make)
    place.empty()
    return found


def _with_bar(place, model, weights, n_draws, seed, known):
    """Return the Firmness; a bar says how far it is."""
    bar = place.progress(0.0, f"0 of {number(n_draws)} draws")

    def on_progress(share):
        bar.progress(share, f"{number(share * n_draws)} of {number(n_draws)} draws")

    evaluation = reweigh(model, weights)
    return how_firm(evaluation, n_draws, seed, known, on_progress=on_progress)


def _answered(firm):
    """Return the Answered around a Firmness."""
    evaluation = firm.evaluation
    swings = all_swings(evaluation)
    questions = find_out.questions(firm)
    return Answered(
        firm=firm,
        questions=questions,
        swings=swings,
        levels={
            (swing.owner, swing.path): level_value(evaluation, swing.owner, swing.path)
            for swing in swings[:TOP_SWINGS]
            if swing.turns
        },
        stability=stability_of(evaluation),
        prices=best_buy_prices(evaluation),
        bad_ranks=ranks_if_unknowns_turn_out_bad(evaluation),
        best_map=best_map(evaluation),
        own_range=own_range(evaluation, seed=firm.seed),
    )
