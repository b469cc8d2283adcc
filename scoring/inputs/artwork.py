"""A picture's silhouette → the share of the carriage's travel that needs no ink.

The carriage sweeps the picture in upright strips as wide as its swath. A machine that
skips blanks travels in each strip from the first to the last inked row only, and leaves
out strips without ink; some jump the gaps in between as well.

Common practice, no source: on slender, sprawling shapes up to about 40 % of the print
time is saved.
"""

import io
import math
import re
import subprocess
import sys
import warnings
from typing import NamedTuple

import numpy as np

from scoring.errors import InputFault, InputFaults, ScoringError
from scoring.inputs.files import read_bytes
from scoring.inputs.quantities import shown

MAX_BYTES = 20_000_000
MAX_PIXELS = 16_000_000
# A pixel counts as blank if red, green and blue are all this bright or brighter over a
# white wall (of 255). JPEG leaves faint marks beside edges; 230 is below most of them
# and above all but the palest tints. Own estimate, no source.
NEAR_WHITE = 230
LEAST_ALPHA = 255 - NEAR_WHITE + 1  # black as faint as this is just darker than that
BLANKS = ("white or transparent", "transparent")
FORMATS = ("PNG", "JPEG")
PATIENCE_S = 20  # for a drawing; more is a drawing that never ends
PIXELS = {"": 1, "px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "pt": 96 / 72}
DRAWN = 2000  # pixels of the longer side of a drawing
EXPORT = "a PNG with a transparent background, about 2000 pixels wide"


class Strips(NamedTuple):
    """The strips of a picture from the left, for drawing; each of shape (strip,)."""

    left: np.ndarray  # pixels from the left edge
    right: np.ndarray
    first: np.ndarray  # topmost inked row, -1 in a strip without ink
    last: np.ndarray  # lowest inked row, counted in; -1 in a strip without ink


def strips(inked, swath):
    """Return the Strips that the carriage sweeps, with first and last inked rows.

    Parameters
    ----------
    inked : bool, shape (h, w)
        True where there is ink; row 0 is the top.
    swath : pixels, above 0
        Need not be whole: w · strip width / width of the wall. A pixel on the border
        of two strips is inked in both.

    Raises
    ------
    ScoringError
        If the picture has no pixels or the swath is not above 0.
    """
    edges, rows = _rows(inked, swath)
    has_ink = rows.any(axis=0)
    first = np.where(has_ink, rows.argmax(axis=0), -1)
    last = np.where(has_ink, len(rows) - 1 - rows[::-1].argmax(axis=0), -1)
    return Strips(edges[:-1], edges[1:], first, last)


def blank_share(inked, swath, jumps_gaps=False):
    """Return the share of the sweep length that needs no ink.

    Parameters
    ----------
    inked : bool, shape (h, w)
    swath : pixels, above 0
    jumps_gaps : bool
        True where the machine jumps the gaps between inked rows too.

    Returns
    -------
    share of all strips' full height
        0 if every strip runs from edge to edge, 1 for a picture without ink. A last
        strip that is cut off by the edge is swept at full length like the others.

    Raises
    ------
    ScoringError
        As `strips`.

    Examples
    --------
    >>> lower_half = np.repeat([[False], [True]], 10, axis=1)
    >>> blank_share(lower_half, swath=5)
    0.5
    """
    if jumps_gaps:
        return float(1 - _rows(inked, swath)[1].mean())
    found = strips(inked, swath)
    travelled = np.where(found.first < 0, 0, found.last - found.first + 1)
    return float(1 - travelled.sum() / (len(inked) * len(travelled)))


def _rows(inked, swath):
    """Return the strips' edges (strip + 1,) and where they have ink (row, strip)."""
    inked = np.asarray(inked, dtype=bool)
    if inked.ndim != 2 or not inked.size:
        raise ScoringError("the picture has no pixels")
    if not (math.isfinite(swath) and swath > 0):
        raise ScoringError(f"a swath of {swath} pixels; more than 0")
    # Strips thinner than a pixel see the same column, so one a pixel tells as much.
    swath = max(swath, 1.0)
    width = inked.shape[1]
    n_strips = max(1, math.ceil(width / swath - 1e-9))
    edges = np.minimum(swath * np.arange(n_strips + 1), width)
    edges[-1] = width
    starts = np.floor(edges[:-1] + 1e-9).astype(int)
    ends = np.ceil(edges[1:] - 1e-9).astype(int)
    rows = [
        inked[:, start:end].any(axis=1) for start, end in zip(starts, ends, strict=True)
    ]
    return edges, np.stack(rows, axis=1)


def load_artwork(source, blank="white or transparent"):
    """Return where a PNG, JPEG or SVG has ink: bool (h, w), row 0 at the top.

    Parameters
    ----------
    source : path, or (name, bytes) of a file that is already read
    blank : "white or transparent", or "transparent"
        The latter where white is printed too, as on a dark wall.

    Returns
    -------
    bool, shape (h, w)
        Blank are pixels whose colours over a white wall are all 230 of 255 or
        brighter; where only transparent ones are blank, those of an opacity below 10 %.

    Raises
    ------
    InputFaults
        If the file cannot be read as a picture, is too large, or has no ink at all.
    """
    if blank not in BLANKS:
        raise ScoringError(f"blank {shown(blank)}; {' or '.join(BLANKS)}")
    name, data = read_bytes(source, MAX_BYTES, "a PNG, JPEG or SVG")
    if _is_svg(name, data):
        data = _drawn(name, data)
    inked = _inked(_pixels(name, data), blank)
    if not inked.any():
        raise _fault(name, "has no ink in it: every pixel is blank", "a silhouette")
    return inked


def _fault(name, what, allowed):
    return InputFaults([InputFault(str(name), 1, "", what, allowed)])


def _is_svg(name, data):
    start = data[:1000].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    is_drawing = start.startswith((b"<svg", b"<?xml", b"<!doctype svg"))
    return is_drawing or str(name).lower().endswith((".svg", ".svgz"))


def _pixels(name, data):
    """Return red, green, blue and opacity, uint8 (h, w, 4), the right way up."""
    from PIL import Image, ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # our own limit is far below Pillow's warning
        try:
            with Image.open(io.BytesIO(data), formats=FORMATS) as image:
                width, height = image.size
                if width * height > MAX_PIXELS:
                    raise _too_many(name, f"{width} × {height}")
                image.load()
                upright = ImageOps.exif_transpose(image)
                return np.asarray(_eight_bit(upright).convert("RGBA"))
        except InputFaults:
            raise
        except Image.DecompressionBombError:
            raise _too_many(name, "far too many") from None
        except Image.UnidentifiedImageError:
            raise _fault(name, "is neither a PNG nor a JPEG", EXPORT) from None
        except Exception:  # Pillow raises many kinds for what is simply a broken file
            what = "is broken or cut off"
            raise _fault(name, what, f"save it anew: {EXPORT}") from None


def _too_many(name, size):
    allowed = f"{MAX_PIXELS / 1e6:.0f} million or fewer, such as {EXPORT}"
    return _fault(name, f"has {size} pixels", allowed)


def _eight_bit(image):
    """Return a picture of 16-bit grey with 8 bits, which Pillow would clip to white."""
    from PIL import Image

    if not image.mode.startswith("I"):
        return image
    return Image.fromarray((np.asarray(image).astype(int) // 257).astype(np.uint8))


def _inked(pixels, blank):
    """Return where pixels (h, w, 4) have ink."""
    opacity = pixels[..., 3]
    if blank == "transparent":
        return opacity >= LEAST_ALPHA
    darkest = pixels[..., :3].min(axis=-1).astype(np.uint16)
    alpha = opacity.astype(np.uint16)
    over_white = darkest * alpha + 255 * (255 - alpha)  # times 255: at most 65025
    return over_white < 255 * NEAR_WHITE


def _drawn(name, data):
    """Return an SVG drawn to pixels, as PNG; nothing outside the file is fetched.

    In a process of its own: a drawing that brings the drawer down brings nothing else.
    """
    export = f"export it as {EXPORT}"
    try:
        scale = DRAWN / max(_sides(data.decode("utf-8-sig")))
        drawn = subprocess.run(
            [sys.executable, "-c", DRAWER, str(scale)],
            input=data,
            capture_output=True,
            timeout=PATIENCE_S,
            check=True,
        )
        return drawn.stdout
    except (ValueError, subprocess.SubprocessError):
        raise _fault(name, "is an SVG that cannot be drawn", export) from None


DRAWER = """
import sys, vl_convert
text = sys.stdin.buffer.read().decode("utf-8-sig")
sys.stdout.buffer.write(vl_convert.svg_to_png(text, scale=float(sys.argv[1])))
"""


def _sides(text):
    """Return width and height of an SVG in pixels; ValueError if it has none."""
    root = re.search(r"<svg\b[^>]*>", text, re.DOTALL)
    if root is None:
        raise ValueError
    box = re.search(r"viewBox\s*=\s*[\"']([^\"']*)", root[0])
    sides = [
        re.search(rf"\s{side}\s*=\s*[\"']\s*([0-9.]+)\s*([a-z]*)[\"']", root[0])
        for side in ("width", "height")
    ]
    found = [float(side[1]) * PIXELS.get(side[2], 1) for side in sides if side]
    if len(found) < 2 and box:
        found = [float(part) for part in re.split(r"[\s,]+", box[1].strip())][2:]
    if len(found) != 2 or not min(found) > max(found) / DRAWN:
        raise ValueError
    return found
