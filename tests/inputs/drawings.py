"""Small drawings, and what becomes of them."""

import base64
import io
import time

import pytest
from PIL import Image

from scoring.errors import InputFaults
from scoring.inputs.picture_file import load_artwork

XMLNS = "xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink'"
HALF = "<rect width='10' height='20'/>"
LONGEST_S = 15.0  # a guard against what never ends, no measure


def svg(inside, size="width='20' height='20'", before=""):
    return f"{before}<svg {XMLNS} {size}>{inside}</svg>".encode()


def load(data, name="a.svg"):
    return load_artwork((name, data))


def fault(data):
    """Return the one sentence about a drawing, which comes quickly."""
    begun = time.monotonic()
    with pytest.raises(InputFaults) as raised:
        load(data)
    assert time.monotonic() - begun < LONGEST_S
    [only] = raised.value.faults
    return f"{only.what}; {only.allowed}"


def picture(mode="RGB", size=(4, 4), kind="PNG"):
    data = io.BytesIO()
    Image.new(mode, size, "black").save(data, kind)
    return data.getvalue()


def inside(data, mime="image/png"):
    return f"data:{mime};base64,{base64.b64encode(data).decode()}"
