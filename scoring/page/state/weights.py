"""The sliders of the weights, in points."""

import streamlit as st


def reset_weights(base):
    """Set the points of all criteria back to the brief's weights."""
    for name, points in brief_points(base).items():
        st.session_state[f"weight_{name}"] = shown_points(points)


def brief_points(base):
    """Return {criterion: the brief's weight in per cent}."""
    ids = [criterion.id for criterion in base.criteria]
    return dict(zip(ids, map(float, 100 * base.weights), strict=True))


def shown_points(weight):
    """Return a weight as its slider shows it: a slider moves values off its steps."""
    return float(round(weight))


def points(base):
    """Return {criterion: points} as the sliders stand; only their proportions count.

    A slider that stands where the brief puts it means the brief's own weight, exactly.
    """
    chosen = {}
    for name, weight in brief_points(base).items():
        slider = float(st.session_state[f"weight_{name}"])
        chosen[name] = weight if slider == shown_points(weight) else slider
    return chosen


def sliders(base):
    """Return {key: value} of the sliders of the weights."""
    keys = (f"weight_{criterion.id}" for criterion in base.criteria)
    return {key: float(st.session_state[key]) for key in keys}
