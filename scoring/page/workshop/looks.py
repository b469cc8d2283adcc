"""How a room looks: large on the wall, one column on a phone."""

from functools import cache
from pathlib import Path

import streamlit as st


def style():
    """Set the looks of the room's screens."""
    st.html(f"<style>{_looks()}</style>")


@cache
def _looks():
    return (Path(__file__).parent / "looks.css").read_text(encoding="utf-8")
