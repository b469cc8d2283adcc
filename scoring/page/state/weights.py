"""The sliders of the weights, in points."""

import streamlit as st

TOLD = "weights_told"  # {"way": …, "points": {criterion: per cent, exactly}}


def reset_weights(base):
    """Set the points of all criteria back to the brief's weights."""
    st.session_state.pop(TOLD, None)
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
    """Return {criterion: points} as the sliders stand; only their proportions count."""
    return points_at(base, sliders_by_name(base), st.session_state.get(TOLD))


def sliders_by_name(base):
    """Return {criterion: where its slider stands}."""
    return {
        name: float(st.session_state[f"weight_{name}"]) for name in brief_points(base)
    }


def points_at(base, stands, told=None):
    """Return {criterion: points} of sliders {criterion: where it stands}.

    One that stands where another way of telling weights, or else the brief, puts it
    means that weight, exactly; one that is not named stands there.
    """
    exact = brief_points(base) | (told or {}).get("points", {})
    return {
        name: stands[name]
        if name in stands and stands[name] != shown_points(weight)
        else weight
        for name, weight in exact.items()
    }


def set_weights(way, weights):
    """Set all points to {criterion: weight, summing to 1} told in a way, exactly."""
    exact = {name: 100 * float(weight) for name, weight in weights.items()}
    st.session_state[TOLD] = {"way": way, "points": exact}
    for name, per_cent in exact.items():
        st.session_state[f"weight_{name}"] = shown_points(per_cent)


def way_of(stands, told):
    """Return the way in which points were told, "" where a slider was moved since."""
    told = told or {"way": "", "points": {}}
    stays = all(
        stands.get(name, shown_points(per_cent)) == shown_points(per_cent)
        for name, per_cent in told["points"].items()
    )
    return told["way"] if stays else ""


def sliders(base):
    """Return {key: value} of the sliders of the weights."""
    keys = (f"weight_{criterion.id}" for criterion in base.criteria)
    return {key: float(st.session_state[key]) for key in keys}
