"""What is tapped and not sent yet: it stands in the address, so a reload brings it.

It is nobody's answer: the room's store never sees it.
"""

import re

import streamlit as st

from scoring.workshop.asked import MOST_DAYS
from scoring.workshop.pack import LETTERS

DRAFT = "draft"
BETWEEN = "~"  # the question's key, then what was tapped


def keep(key, written):
    """Let what was tapped of a question stand in the address, of one at a time."""
    if written:
        st.query_params[DRAFT] = f"{key}{BETWEEN}{written}"
    else:
        drop()


def drop():
    """Forget what was tapped."""
    if DRAFT in st.query_params:
        del st.query_params[DRAFT]


def letters(key):
    """Return the letters that were tapped of a question, [] if none, or none that are.

    Whoever changes the address by hand gets no letter twice and none that is not there.
    """
    found = _of(key)
    are_letters = set(found) <= set(LETTERS) and len(set(found)) == len(found)
    return list(found) if are_letters else []


def letter_and_percent(key):
    """Return (letter, per cent) as they were left, None for what was not chosen."""
    found = re.fullmatch(f"([{LETTERS}]?)([0-9]{{1,3}})", _of(key), re.ASCII)
    if found is None or int(found[2]) > 100:
        return None, None
    return found[1] or None, int(found[2])


def keep_ends(key, typed):
    """Let the ranges stand in the address of which only one or two ends were typed."""
    begun = {k: ends for k, ends in typed.items() if 0 < ends.count(None) < len(ends)}
    written = (
        f"{k}{','.join('' if end is None else f'{end:g}' for end in ends)}"
        for k, ends in begun.items()
    )
    keep(key, ";".join(written))


def ends(key):
    """Return {letter: [lowest, likely, highest]} of ranges begun, None what is not."""
    one = r"((?:[0-9]{1,2}(?:\.[0-9]{1,3})?)?)"
    found = re.findall(f"([{LETTERS}]){one},{one},{one}", _of(key), re.ASCII)
    most = {k: [float(end) if end else None for end in told] for k, *told in found}
    return {
        k: told
        for k, told in most.items()
        if max(filter(None, told), default=0) <= MOST_DAYS
    }


def at_first(key, read):
    """Return what was read of the address when the question came up first."""
    return st.session_state.setdefault(f"{key}_begun", read(key))


def _of(key):
    name, _, written = str(st.query_params.get(DRAFT, "")).rpartition(BETWEEN)
    return written if name == key else ""
