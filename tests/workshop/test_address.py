"""Where phones find a room: link, QR code, whether the server answers."""

import base64
import re
import socket
from xml.etree import ElementTree

import pytest

from scoring.workshop import reached
from scoring.workshop.address import (
    answers,
    base_address,
    join_link,
    network_address,
    qr_image,
    qr_text,
)

LINK = join_link("http://192.0.2.7:8501", "BCDFGH")


def test_the_trainers_own_name_for_this_computer_is_none_for_phones():
    """localhost becomes the address on the network, another host stays."""
    own = network_address()
    if own is None:
        pytest.skip("this computer is on no network")
    for host in ("localhost", "127.0.0.1", "0.0.0.0"):
        assert base_address(("http", host, 8501)) == f"http://{own}:8501"
    assert base_address(("https", "rooms.example", None)) == "https://rooms.example"
    assert base_address(("http", "fd00::7", 80)) == "http://[fd00::7]:80"


def test_the_address_is_one_that_this_computer_has():
    """A socket can be bound to it, which no foreign address allows."""
    own = network_address()
    if own is None:
        pytest.skip("this computer is on no network")
    with socket.socket() as probe:
        probe.bind((own, 0))


def test_nobody_answers_where_nobody_listens():
    """A port that was just given up is told as silent, in no time."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    assert not answers(f"http://127.0.0.1:{port}")
    assert not answers("no address at all")


def test_the_qr_code_is_dark_on_light_with_a_margin():
    """ISO/IEC 18004 asks for a quiet zone of four modules; 21 + 4 k modules a side."""
    data = qr_image(LINK)
    kind, _, body = data.partition(",")
    assert kind.startswith("data:image/svg+xml")
    text = base64.b64decode(body).decode() if "base64" in kind else body
    assert re.search("fff|FFF", text)
    lines = qr_text(LINK).splitlines()
    assert len({len(line) for line in lines if line.strip()}) <= 3
    if "base64" in kind:
        size = int(ElementTree.fromstring(text).get("width")) // 10 - 8
        assert size >= 21 and (size - 21) % 4 == 0


def test_only_another_device_counts_as_reached(monkeypatch):
    """This computer proves nothing about the network."""
    monkeypatch.setattr(reached, "_since", [])
    for own in (None, "127.0.0.1", "::1", network_address()):
        reached.note(own)
    assert reached.since() is None
    reached.note("192.0.2.99")
    assert reached.since() is not None
