"""A picture's silhouette → the share of the carriage's travel that needs no ink.

The carriage sweeps the picture in upright strips as wide as its swath. A machine that
skips blanks travels in each strip from the first to the last inked row only, and leaves
out strips without ink; some jump the gaps in between as well.

Common practice, no source: on slender, sprawling shapes up to about 40 % of the print
time is saved.
"""

import io
import warnings
from operator import attrgetter

import numpy as np

from scoring.errors import InputFault, InputFaults, ScoringError, shown
from scoring.inputs.files import read_bytes
from scoring.inputs.svg_drawer import NotDrawn, drawn
from scoring.inputs.svg_file import CANNOT, EXPORT, own_drawing

MAX_BYTES = 20_000_000
MAX_PIXELS = 16_000_000
MAX_SIDE = 16_000  # pixels; the page shows no picture that is longer
MAX_SCANS = 100  # of a JPEG that comes in finer and finer scans; ten are usual
SCAN = b"\xff\xda"  # stands in a JPEG only where a scan begins
# A pixel counts as blank if red, green and blue are all this bright or brighter over a
# white wall (of 255). JPEG leaves faint marks beside edges; 230 is below most of them
# and above all but the palest tints. Own estimate, no source.
NEAR_WHITE = 230
LEAST_ALPHA = 255 - NEAR_WHITE + 1  # black as faint as this is just darker than that
BLANKS = ("white or transparent", "transparent")
FORMATS = ("PNG", "JPEG")


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


def load_either(source):
    """Return where a picture has ink, by whether white is printed: {False, True: bool}.

    For who does not know yet on which wall it goes.

    Raises
    ------
    InputFaults
        As `load_artwork`.
    """
    source = read_bytes(source, MAX_BYTES, "a PNG, JPEG or SVG")
    return {has: load_artwork(source, BLANKS[has]) for has in (False, True)}


def _fault(name, what, allowed):
    return InputFaults([InputFault(str(name), 1, "", what, allowed)])


def _is_svg(name, data):
    start = data[:1000].lstrip(b"\xef\xbb\xbf \t\r\n")
    return start.startswith(b"<") or str(name).lower().endswith((".svg", ".svgz"))


def _pixels(name, data):
    """Return red, green, blue and opacity, uint8 (h, w, 4), the right way up."""
    from PIL import ImageOps

    def unpacked(image):
        image.load()
        upright = ImageOps.exif_transpose(image)
        return np.asarray(_eight_bit(upright).convert("RGBA"))

    return _with_picture(name, data, unpacked)


def _with_picture(name, data, use):
    """Return what a function makes of a picture that is open but not unpacked yet."""
    from PIL import Image

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # our own limit is far below Pillow's warning
        try:
            with Image.open(io.BytesIO(data), formats=FORMATS) as image:
                _check_size(name, image, data)
                return use(image)
        except InputFaults:
            raise
        except Image.DecompressionBombError:
            raise _too_many(name, "far too many") from None
        except Image.UnidentifiedImageError:
            raise _fault(name, "is neither a PNG nor a JPEG", EXPORT) from None
        except Exception:  # Pillow raises many kinds for what is simply a broken file
            what = "is broken or cut off"
            raise _fault(name, what, f"save it anew: {EXPORT}") from None


def _check_size(name, image, data):
    """Raise InputFaults for a picture that would take too long to unpack or to show."""
    width, height = image.size
    if width * height > MAX_PIXELS:
        raise _too_many(name, f"{width} × {height}")
    if max(width, height) > MAX_SIDE:
        allowed = f"{MAX_SIDE} a side or fewer, such as {EXPORT}"
        raise _fault(name, f"has {width} × {height} pixels", allowed)
    if image.format == "JPEG" and data.count(SCAN) > MAX_SCANS:
        raise _fault(name, "is a JPEG of too many scans", f"save it anew: {EXPORT}")


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
    """Return an SVG drawn to pixels, as PNG; nothing outside the file is fetched."""
    n_pixels = 0

    def kind_of(inside):
        nonlocal n_pixels
        kind, (width, height) = _with_picture(
            name, inside, attrgetter("format", "size")
        )
        n_pixels += width * height
        if n_pixels > MAX_PIXELS:
            raise _too_many(name, f"pictures inside it of {n_pixels}")
        return kind

    try:
        return drawn(own_drawing(name, data, kind_of))
    except NotDrawn:
        raise _fault(name, CANNOT, f"export it as {EXPORT}") from None
