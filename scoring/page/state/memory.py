"""What is kept between runs: results, choices, the echo of what was rendered."""

import html
import json

import streamlit as st


def keep(key, allowed, default):
    """Make sure that a widget's value is one of those allowed."""
    if st.session_state.get(key) not in allowed:
        st.session_state[key] = default


def within(key, low, high):
    """Make sure that a slider's value is on the slider."""
    value = st.session_state.get(key, low)
    st.session_state[key] = min(max(value, low), high)


def remembered(name, objects, values, make):
    """Return what was made last for these very objects and equal values, or make it."""
    known = st.session_state.get(f"made_{name}")
    if known and known[1] == values and len(known[0]) == len(objects):
        if all(a is b for a, b in zip(known[0], objects, strict=True)):
            return known[2]
    made = make()
    st.session_state[f"made_{name}"] = (objects, values, made)
    return made


def echo(**inputs):
    """Write the inputs that this run rendered, unseen, for whoever drives the page."""
    with st.container(key="echo"):
        st.html(echo_html(**inputs))


def echo_html(**inputs):
    """Return the inputs that this run rendered as HTML that is not seen."""
    shared = {key: st.session_state.get(key) for key in ("brief", "units")}
    said = html.escape(json.dumps(shared | inputs))
    return f'<div class="echo" data-echo="{said}" hidden></div>'
