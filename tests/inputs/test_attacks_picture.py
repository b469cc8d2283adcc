"""A PNG or JPEG cannot take more time or memory than its pixels are worth."""

import io
import struct
import time
import zlib

import numpy as np
import pytest
from PIL import Image

from scoring.errors import InputFaults
from scoring.inputs.picture_file import EXPORT, load_artwork


def saved(image, kind="PNG", **how):
    data = io.BytesIO()
    image.save(data, kind, **how)
    return data.getvalue()


def said(data):
    """Return the one sentence about a picture, which comes quickly."""
    begun = time.process_time()
    with pytest.raises(InputFaults) as raised:
        load_artwork(("a", data))
    assert time.process_time() - begun < 10  # a guard against what never ends
    [only] = raised.value.faults
    return str(only)


@pytest.mark.parametrize("size", [(1, 70_000), (70_000, 1), (16_001, 9)])
def test_a_picture_longer_than_any_is_refused(size):
    """A thread of pixels is no silhouette, and no page can show it."""
    assert said(saved(Image.new("L", size, 0))) == (
        f"a:1: has {size[0]} × {size[1]} pixels; 16000 a side or fewer, such as "
        f"{EXPORT}"
    )


# ITU-T T.81 (1992), B.1.1.2 and F.1.2.3: in coded data a byte FF is followed by 00, so
# FF DA stands only before a scan. A scan of a few bytes goes over the whole picture.
def test_a_jpeg_of_many_scans_is_refused():
    """A progressive JPEG whose last scan is repeated 50,000 times is not unpacked."""
    data = saved(Image.new("L", (4000, 4000)), "JPEG", progressive=True)
    scan = data[data.rindex(b"\xff\xda") : -2]
    assert load_artwork(("a", data)).all()
    many = data[:-2] + scan * (4_000_000 // len(scan)) + data[-2:]
    assert said(many) == f"a:1: is a JPEG of too many scans; save it anew: {EXPORT}"


# PNG (ISO/IEC 15948), 5.3: a chunk is its length, its type, its data and a CRC.
def chunk(kind, data):
    return (
        struct.pack(">I", len(data))
        + kind
        + data
        + struct.pack(">I", zlib.crc32(kind + data))
    )


@pytest.mark.parametrize("kind", [b"zTXt", b"iCCP", b"iTXt"])
def test_swollen_notes_of_a_png_take_no_memory(kind):
    """100 MB of zeros packed into a note are not unpacked: a picture or a sentence."""
    data = saved(Image.new("L", (9, 9), 0))
    zeros = zlib.compress(bytes(100_000_000))
    note = b"a\0\0" + zeros if kind != b"iTXt" else b"a\0\1\0\0\0" + zeros
    swollen = data[:33] + chunk(kind, note) + data[33:]
    begun = time.process_time()
    try:
        assert load_artwork(("a", swollen)).shape == (9, 9)
    except InputFaults as found:
        assert "is broken or cut off" in str(found)
    assert time.process_time() - begun < 10  # a guard against what never ends


def test_more_rows_than_told_are_left_unread():
    """Data that unpacks to more than width by height is cut at that."""
    header = struct.pack(">IIBBBBB", 9, 9, 8, 0, 0, 0, 0)
    parts = (
        (b"IHDR", header),
        (b"IDAT", zlib.compress(bytes(50_000_000))),
        (b"IEND", b""),
    )
    data = b"\x89PNG\r\n\x1a\n" + b"".join(chunk(*part) for part in parts)
    begun = time.process_time()
    assert np.array_equal(load_artwork(("a", data)), np.ones((9, 9), bool))
    assert time.process_time() - begun < 10  # a guard against what never ends
