"""What matters, told in other ways than points: as an order, or in money a year."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.case.typed import figure_of
from scoring.inputs.dimensions import MONEY_PER_YEAR
from scoring.inputs.quantity import Wrong
from scoring.page import text
from scoring.page.state.moved import put_away
from scoring.page.state.weights import set_weights
from scoring.page.state.work import weighed
from scoring.questions.weights_in_money import (
    YEAR,
    step_of,
    weights_in_money,
    weights_of_order,
    weights_of_worths,
)
from scoring.words.figures import about
from scoring.words.weights import shares_in_words, step_in_words

ORDER, WORTH = "ways_order", "ways_worth_"
ABOUT_ORDER = (
    "Pick them one after the other, what matters most first. What you leave out weighs "
    "nothing. Of all weights in this order the middle is taken."
)
ABOUT_MONEY = (
    "What would you pay a year for each step? An empty field keeps what your weights "
    "say now; 0 lets it weigh nothing."
)
NO_YEAR = "Money left over in a year is not among what matters here."
ACROSS = 2


def by_order(evaluation):
    """Draw the criteria to be picked in order, and what the order weighs."""
    _each_briefs_own(evaluation)
    labels = {c.id: c.label for c in evaluation.criteria}
    text.note(ABOUT_ORDER)
    held = st.session_state.get(ORDER) or []
    st.session_state[ORDER] = [name for name in held if name in labels]
    picked = st.multiselect(
        "What matters, the most important first",
        list(labels),
        key=ORDER,
        format_func=lambda name: labels[name],
        persist_state="session",
    )
    if not picked:
        return
    weights = weights_of_order(evaluation, picked)
    text.say(f"In this order: {shares_in_words(evaluation, weights)}.")
    st.button(
        "Weigh by this order",
        key="ways_by_order",
        on_click=set_weights,
        args=("order", weights),
    )


def by_money(model):
    """Draw a field for what a step of each criterion is worth, and the button."""
    _each_briefs_own(model)
    if YEAR not in [criterion.id for criterion in model.criteria]:
        text.say(NO_YEAR)
        return
    text.note(ABOUT_MONEY)
    currency = model.brief.currency
    now, columns = _worths_now(model), []
    for n, (c, criterion) in enumerate(_asked(model)):
        if n % ACROSS == 0:
            columns = st.columns(ACROSS)
        worth = about(now.get(criterion.id, 0.0), currency)
        said = step_in_words(model, c, step_of(criterion))
        with columns[n % ACROSS]:
            st.text_input(
                text.escaped(f"{said}, {currency} a year"),
                key=f"{WORTH}{criterion.id}",
                placeholder=f"now {worth}",
                persist_state="session",
            )
    try:
        weights = weights_of_worths(model, now | _typed(model))
    except ScoringError as error:
        text.wrong(str(error))
        return
    text.say(f"That weighs: {shares_in_words(model, weights)}.")
    st.button(
        "Weigh by these worths",
        key="ways_by_money",
        on_click=set_weights,
        args=("money", weights),
    )


def _asked(model):
    """Return (place, Criterion) of what weighs unless it already acts in the money."""
    return [
        (c, criterion)
        for c, criterion in enumerate(model.criteria)
        if criterion.id != YEAR and (criterion.in_use or model.weights[c] > 0)
    ]


def _worths_now(model):
    """Return {criterion: what its step is worth a year} as the weights stand."""
    try:
        found = weights_in_money(weighed(model))
    except ScoringError:  # nothing weighs anything
        return {}
    return {model.criteria[one.criterion].id: one.worth for one in found}


def _typed(model):
    """Return {criterion: worth} of what is typed; ScoringError with all faults."""
    worths, said = {}, []
    for c, criterion in _asked(model):
        entry = (st.session_state.get(f"{WORTH}{criterion.id}") or "").strip()
        if not entry:
            continue
        try:
            worths[criterion.id] = _worth(entry, model.brief.currency)
        except ScoringError as error:
            step = step_in_words(model, c, step_of(criterion))
            said.append(f"{step}: {error}")
    if said:
        raise ScoringError("\n".join(said))
    return worths


def _worth(entry, currency):
    """Return a sum a year as typed into a form, in the brief's currency."""
    found = MONEY_PER_YEAR.parse(figure_of(entry, MONEY_PER_YEAR, currency))
    if found.is_unknown or found.currency != currency:
        raise Wrong(f"{entry!r} is no sum in {currency}", f"such as 95 {currency}/year")
    return found.likely


def _each_briefs_own(model):
    """Let each brief keep what was typed for it."""
    put_away("ways", _keys, model.brief, lambda: None)


def _keys():
    return [
        key for key in st.session_state if key == ORDER or str(key).startswith(WORTH)
    ]
