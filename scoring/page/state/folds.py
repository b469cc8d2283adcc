"""What folds away: it is worked out and drawn once it is opened."""

import streamlit as st


def fold(label, key, draw):
    """Draw an expander whose content is made by `draw` () once it is open."""
    part = st.expander(label, key=f"fold_{key}", on_change="rerun")
    if part.open:
        with part:
            draw()
