"""Where cases are kept on this computer, and the id of the one that is open.

Two variables of the environment change that: MURAL_DATA says where the files lie,
MURAL_KEEP_NOTHING that none is written, for a page that is hosted for others.
"""

import os
import re
import secrets
from pathlib import Path

import streamlit as st

CASE = "case"  # the id's name in the address
ID = re.compile(r"[A-Za-z0-9_-]{22}")


def folder():
    """Return where cases are kept, None where nothing is to be written."""
    if os.environ.get("MURAL_KEEP_NOTHING"):
        return None
    told = os.environ.get("MURAL_DATA")
    if told:
        return Path(told)
    import platformdirs  # only where nobody says another folder

    return Path(platformdirs.user_data_dir("mural-scoring", appauthor=False))


def new_id():
    """Return an id that nobody guesses."""
    return secrets.token_urlsafe(16)


def own_folder():
    """Return the folder of the case that is open, None where nothing is written."""
    place, case = folder(), st.session_state.get(CASE)
    return place / case if place is not None and case else None
