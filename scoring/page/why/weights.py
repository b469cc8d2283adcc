"""The sliders of what matters to the buyer, in points."""

import streamlit as st

from scoring.decision.scale import separates
from scoring.inputs.case.record import with_brief
from scoring.page import text
from scoring.page.state.own import change, own, wrong_at
from scoring.page.state.weights import TOLD, points, reset_weights
from scoring.page.why.results import draw_results

ALIKE = " All machines are equal here."
POINTS = "Only their proportions count."
DIGITS = 4  # of a weight in per cent, as it is written
FIRST = 3  # weights that are in view; the rest folds


@st.fragment
def weight_part(base, c, is_us, places):
    """Draw the slider of one criterion's weight and, once it is moved, the results."""
    criterion = base.criteria[c]
    st.slider(
        text.escaped(criterion.label),
        0.0,
        100.0,
        step=1.0,
        format="%.0f",
        key=f"weight_{criterion.id}",
        persist_state="session",
    )
    if places.on_screen:
        draw_results(base, is_us, places)
    else:  # a fragment may write only where it did in the whole run
        places.bar.empty()
        places.results.empty()


def first_weights(base, is_us, places):
    """Draw the sliders of what weighs most in the brief."""
    text.heading("What matters to you, in points")
    for c in _heaviest(base)[:FIRST]:
        weight_part(base, c, is_us, places)


def other_weights(base, is_us, places):
    """Draw the sliders of the other weights, folded, and what belongs to them."""
    extra = already_counted(base)
    with st.expander("Other weights"):
        for c in _heaviest(base)[FIRST:]:
            weight_part(base, c, is_us, places)
        if extra and shows_extra(base, extra):
            text.note("Already counted in the money:")
            for c in extra:
                weight_part(base, c, is_us, places)
        weight_choices(base)
        text.note(POINTS)
        text.listed(
            (c.label, f"{c.term}.{'' if separates(base.scale[n]) else ALIKE}")
            for n, c in enumerate(base.criteria)
        )


def _heaviest(base):
    """Return the criteria that are asked for, what weighs most in the brief first."""
    extra = already_counted(base)
    shown = [c for c in range(len(base.criteria)) if c not in extra]
    return sorted(shown, key=lambda c: -base.weights[c])


def already_counted(base):
    """Return the criteria that weigh nothing unless asked."""
    return [
        c
        for c, criterion in enumerate(base.criteria)
        if not criterion.in_use and base.weights[c] == 0
    ]


def shows_extra(base, extra):
    """Return whether the sliders of what is already counted are asked for."""
    weighed = any(st.session_state[f"weight_{base.criteria[c].id}"] > 0 for c in extra)
    return weighed or st.session_state.get("show_extra", False)


def weight_choices(base):
    """Draw what seldom changes: more criteria, the way back."""
    if already_counted(base):
        st.toggle(
            "Weigh what is already counted in the money, too",
            key="show_extra",
            persist_state="session",
        )
    st.button(
        "Back to the brief's weights",
        key="reset_weights",
        on_click=reset_weights,
        args=(base,),
    )
    if own() is not None:
        st.button(
            "Keep these weights in my case",
            key="keep_weights",
            on_click=_keep,
            args=(base,),
        )
        if wrong_at("keep_weights"):
            text.wrong(wrong_at("keep_weights"))


def _keep(base):
    """Write the weights as they stand into the brief of the open case."""
    now = points(base)
    total = sum(now.values())
    if not total:
        return
    shares = {name: round(100 * n / total, DIGITS) for name, n in now.items() if n}
    if change(lambda case: with_brief(case, {"weights": shares}), "keep_weights"):
        st.session_state.pop(TOLD, None)  # they are the brief's now, not supposed
