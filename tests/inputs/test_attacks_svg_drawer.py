"""The drawer of drawings: bounded, alone, and missed in a sentence."""

import io
import subprocess
import sys
import time

import numpy as np
import pytest
from PIL import Image

from scoring.errors import InputFaults
from scoring.inputs import picture_file, svg_drawer
from scoring.inputs.picture_file import load_artwork
from scoring.inputs.svg_drawer import NotDrawn, drawn
from scoring.inputs.svg_file import Drawing
from tests.inputs.drawings import HALF, load, picture, svg

SLOW = (
    "<filter id='f' x='0' y='0' width='1' height='1'><feTurbulence numOctaves='9999' "
    "baseFrequency='0.1'/></filter><rect width='20' height='20' filter='url(#f)'/>"
)
GREEDY = "<g opacity='.9'>" * 90 + HALF * 2 + "</g>" * 90


@pytest.mark.parametrize("attack", [SLOW, GREEDY], ids=["slow", "greedy"])
def test_the_drawing_itself_is_bounded(attack, monkeypatch):
    """A drawing of many minutes or of 1.4 GB ends with a sentence, and early."""
    monkeypatch.setattr(svg_drawer, "PATIENCE_S", 1)
    begun = time.monotonic()
    try:
        load(svg(attack))
    except InputFaults as found:
        assert "is an SVG that cannot be drawn; export" in str(found)
    assert time.monotonic() - begun < 4


needs_limits = pytest.mark.skipif(sys.platform == "win32", reason="no such limits")


@needs_limits
@pytest.mark.parametrize("link", ["http://ADDRESS/a.png", "PATH"])
def test_the_drawer_itself_opens_nothing(link, heard, tmp_path):
    """Even what slipped through the reader finds the door to files and others shut."""
    address, calls = heard
    (tmp_path / "a.png").write_bytes(picture())
    link = link.replace("ADDRESS", address).replace("PATH", str(tmp_path / "a.png"))
    raw = svg(f"<image href='{link}' width='20' height='20'/>").decode()
    try:
        found = drawn(Drawing(raw, has_text=False))
    except NotDrawn:
        found = b""
    assert not calls
    if found:
        assert not np.asarray(Image.open(io.BytesIO(found)))[..., 3].any()


UNSHARED = "import ctypes; exit(ctypes.CDLL(None).unshare(0x50000000) != 0)"


def test_a_drawer_with_fonts_calls_nobody(heard):
    """With letters files stay open to it, but other computers do not."""
    if subprocess.run([sys.executable, "-c", UNSHARED], capture_output=True).returncode:
        pytest.skip("this computer gives nobody a network of their own")
    address, calls = heard
    raw = f"<image href='http://{address}/a.png' width='20' height='20'/>"
    try:
        drawn(Drawing(svg(raw).decode(), has_text=True))
    except NotDrawn:
        pass
    assert not calls


# A child's count begins with what its parent held: so a small parent draws and tells.
TELLS_MEMORY = """
import resource, sys
from scoring.inputs.svg_drawer import NotDrawn, drawn
from scoring.inputs.svg_file import Drawing
try:
    drawn(Drawing(sys.stdin.read(), has_text=False))
except NotDrawn:
    print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="Linux counts a child's memory")
def test_the_drawer_keeps_to_its_memory():
    """A canvas of 30,000 × 30,000 pixels would take 3.6 GB; it gets an end instead."""
    raw = svg(HALF, "width='30000' height='30000'")
    told = subprocess.run(
        [sys.executable, "-c", TELLS_MEMORY], input=raw, capture_output=True, check=True
    )
    assert int(told.stdout) < 1000 * svg_drawer.MOST_MB


def test_letters_are_drawn():
    """Letters need fonts, which are read where a drawing has letters."""
    data = svg("<text y='18' font-size='20' font-family='sans-serif'>M</text>")
    assert 0.05 < load(data).mean() < 0.9


def test_a_missing_drawer_gets_a_sentence(monkeypatch):
    """Where no process can be started the drawing cannot be drawn, and is told so."""
    monkeypatch.setattr(svg_drawer.sys, "executable", "/no/such/program")
    with pytest.raises(InputFaults, match="is an SVG that cannot be drawn"):
        load_artwork(("a.svg", svg(HALF)))
    assert picture_file.MAX_SIDE >= 2000
