"""Code, link and QR code of a room, the wall's link, whether phones get here."""

import html
import time

import streamlit as st

from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.projector import base_of
from scoring.workshop import reached
from scoring.workshop.address import PATH, answers, join_link, qr_image
from scoring.workshop.rooms import projector_token

START = "python -m scoring workshop start"


def invite(view):
    """Draw how people get into the room."""
    base = base_of(st.context.url)
    link = join_link(base, view.room.code)
    with st.container(key="invite"):
        st.html(
            f'<div class="qr small"><img alt="QR code" src="{qr_image(link)}"></div>'
            f'<p class="big">{html.escape(view.room.code)}</p>'
            f"<p>{html.escape(link)}</p>"
        )
    st.subheader("The wall")
    text.say("Open the wall in a window of its own and drag it to the projector.")
    if "wall" not in st.session_state:
        st.button("Make the wall's link", key="wall_make", on_click=_make_wall)
    else:
        st.link_button(
            "Open the wall",
            f"/{PATH}?{seat.SEAT}={st.session_state['wall']}",
            key="wall_open",
            type="primary",
        )
    st.subheader("Do phones get here?")
    _check(base)


def _make_wall():
    st.session_state["wall"] = projector_token(seat.store(), seat.token())


@st.fragment
def _check(base):
    """Say whether the server listens on the network, and whether a phone has come."""
    text.say(f"Address for phones: {base}")
    if not answers(base):
        st.warning(
            "At this address the server does not answer: it serves this computer only. "
            f"End it and start it with `{START}`."
        )
    else:
        text.say("The server answers at this address when asked from this computer.")
    since = reached.since()
    if since is None:
        text.say(
            "No other device has come yet. Open the link with your own phone, in the "
            "same network: a firewall that keeps it out keeps all phones out."
        )
    else:
        at = time.strftime("%H:%M", time.localtime(since))
        st.success(f"Another device came through at {at}: phones get here.")
    st.button("Look again", key="reach_again")
