"""Who this browser is in which room: a token in the address, so a reload comes back."""

import hashlib
import os
from functools import cache
from typing import NamedTuple

import streamlit as st

from scoring.page.workshop import drafts
from scoring.workshop.asked import SWAPS
from scoring.workshop.pack import N_BUYERS
from scoring.workshop.pack_files import Pack, load_pack
from scoring.workshop.papers import buyer_papers, sheets
from scoring.workshop.results import swapped_leader
from scoring.workshop.rooms import pack_bytes, room_of
from scoring.workshop.shared_results import result_seen
from scoring.workshop.solved import solved
from scoring.workshop.store import URL, data_folder, open_store

SEAT = "seat"
HERE = "this computer"
MOST_PACKS = 50
MOST_SOLVED = 8
STALE_S = 15  # results of a room may be as old: they take seconds to work out


class Worked(NamedTuple):
    """A pack as the engine answers it."""

    found: tuple  # Solved, the sixth last
    leaders: dict  # {(buyer, swap): letter}
    papers: list  # BuyerPaper, the sixth last
    sheets: list  # LetteredSheet


def store():
    """Return the Store that all sessions of this server share."""
    return _opened(*_kept_in())


def _kept_in():
    return os.environ.get(URL), str(data_folder())


@cache
def _opened(url, folder):
    return open_store()


def token():
    """Return the token of this browser, "" if it has none."""
    return st.query_params.get(SEAT) or st.session_state.get(SEAT, "")


def take(new):
    """Sit down: the token stands in the address from now on."""
    st.session_state[SEAT] = new
    st.query_params[SEAT] = new
    if "room" in st.query_params:
        del st.query_params["room"]


def stand_up():
    """Forget the token."""
    st.session_state.pop(SEAT, None)
    for name in (SEAT, drafts.DRAFT):
        if name in st.query_params:
            del st.query_params[name]


def keep_address():
    """Let the token stand in the address; other screens drop it."""
    if token() and st.query_params.get(SEAT) != token():
        st.query_params[SEAT] = token()


def caller():
    """Return what the server knows of who asks."""
    return st.context.ip_address or HERE


def pack() -> Pack:
    """Return the Pack of the token's room; it stays the same as long as one sits."""
    mine = st.session_state.get("pack_of")
    if mine is None or mine[0] != token():
        mine = token(), _pack(*_where(room_of(store(), token())))
        st.session_state["pack_of"] = mine
    return mine[1]


def _where(room):
    return _kept_in(), room.code, room.opened


def result(view, of):
    """Return the RoomResult of a view's room, some seconds old; None if hidden."""
    if "results" not in view.may_see:
        return None
    return _result(*_where(view.room), of)


@st.cache_resource(show_spinner=False, ttl=STALE_S, max_entries=MOST_PACKS)
def _result(where, code, opened, _of):
    return result_seen(store(), token(), _of, worked(_of).found)


@st.cache_resource(show_spinner=False, max_entries=MOST_PACKS)
def _pack(where, code, opened):
    return load_pack((f"{code}.zip", pack_bytes(store(), token())))


def worked(of) -> Worked:
    """Return the Worked of a pack; it takes some seconds once."""
    digest = hashlib.sha256()
    for name in sorted(of.files):
        digest.update(name.encode() + b"\0" + of.files[name] + b"\0")
    return _worked(digest.hexdigest(), of)


@st.cache_resource(show_spinner="Working the answers out …", max_entries=MOST_SOLVED)
def _worked(digest, _pack):
    found = solved(_pack)
    leaders = {
        (k, swap): swapped_leader(_pack, found, k, swap) or "nobody"
        for k in range(N_BUYERS)
        for swap in SWAPS
    }
    return Worked(found, leaders, buyer_papers(_pack, found), sheets(_pack))
