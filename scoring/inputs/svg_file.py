"""An SVG file → the same drawing in our own writing, with nothing that leads outside.

What is drawn is never the file itself: only known elements and attributes are written
out again, so that no other reader can see in it what this one did not.
"""

import base64
import binascii
import math
import re
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.svg_links import expanded
from scoring.inputs.xml_parser import Entities, XmlError, parser

MAX_BYTES = 5_000_000
MAX_ELEMENTS = 50_000
MAX_EXPANDED = 200_000  # elements once every `use` is followed
MAX_DEPTH = 100
MAX_ATTRIBUTES = 200  # of one element
MAX_IMAGES = 20
DRAWN = 2000  # pixels of the longer side of a drawing
PIXELS = {"": 1, "px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "pt": 96 / 72}
EXPORT = "a PNG with a transparent background, about 2000 pixels wide"
CANNOT = "is an SVG that cannot be drawn"
SVG, XLINK, XML = (
    "http://www.w3.org/2000/svg",
    "http://www.w3.org/1999/xlink",
    "http://www.w3.org/XML/1998/namespace",
)
SHAPES = "path rect circle ellipse line polyline polygon text tspan textPath image use"
AROUND = "svg g defs symbol switch a style clipPath mask pattern marker filter"
GRADIENTS = "linearGradient radialGradient stop"
FILTERS = (
    "feBlend feColorMatrix feComponentTransfer feComposite feConvolveMatrix "
    "feDiffuseLighting feDisplacementMap feDistantLight feDropShadow feFlood feFuncA "
    "feFuncB feFuncG feFuncR feGaussianBlur feImage feMerge feMergeNode feMorphology "
    "feOffset fePointLight feSpecularLighting feSpotLight feTile feTurbulence"
)
KNOWN = frozenset(f"{SHAPES} {AROUND} {GRADIENTS} {FILTERS}".split())
# Left out without a word are notes and what moves; these would draw or do something.
REFUSED = frozenset(
    "script foreignObject font font-face iframe video audio canvas".split()
)
WRITING = frozenset("text tspan textPath style".split())
OWN_URL = re.compile(r"""url\(\s*["']?#[^"')]*["']?\s*\)""", re.IGNORECASE)
OUTSIDE = re.compile(r"\b(url|src|image|image-set|cross-fade|element)\s*\(", re.I)
COMMENT = re.compile(r"/\*.*?(\*/|$)", re.DOTALL)
DATA = re.compile(r"\s*data:image/(png|jpe?g);base64,(.*)", re.DOTALL | re.IGNORECASE)
LENGTH = re.compile(r"\s*([0-9]*\.?[0-9]+)\s*([a-zA-Z%]*)\s*")


class Drawing(NamedTuple):
    """A drawing fit to be drawn: its longer side is 2000 pixels."""

    text: str
    has_text: bool  # letters want the fonts of this computer


def own_drawing(name, data, kind_of):
    """Return the Drawing of an SVG file.

    Parameters
    ----------
    kind_of : function (bytes) → "PNG" or "JPEG"
        Of a picture inside; raises InputFaults where it is none or too large.

    Raises
    ------
    InputFaults
        If it is no SVG, leads outside, or is too large, deep or tangled.
    """
    if len(data) > MAX_BYTES:
        what = f"is an SVG of {len(data) / 1e6:.1f} MB"
        raise _fault(name, 1, what, f"{MAX_BYTES / 1e6:g} MB or less, or {EXPORT}")
    copy = _Copy(name, kind_of)
    try:
        copy.reader.Parse(data.decode("utf-8-sig").strip().encode(), True)
    except Entities:
        raise copy.fault("is an SVG with entities of its own") from None
    except (XmlError, UnicodeError):
        raise copy.fault(CANNOT) from None
    if expanded(copy.children, copy.links, copy.ids) > MAX_EXPANDED:
        raise _fault(name, 1, "is an SVG that repeats itself too often", _export())
    return Drawing("".join(copy.out), copy.has_text)


def _fault(name, line, what, allowed):
    return InputFaults([InputFault(str(name), line, "", what, allowed)])


def _export():
    return f"export it as {EXPORT}"


class _Copy:
    """The drawing as it is written anew, and who links to whom."""

    def __init__(self, name, kind_of):
        self.name, self.kind_of = name, kind_of
        self.out, self.css, self.open = [], [], []
        self.n_skipped, self.n_images, self.has_text = 0, 0, False
        # One list of children and one of linked names an element; names → elements.
        self.children, self.links, self.ids = [], [], {}
        self.reader = parser(" ")
        self.reader.StartElementHandler = self.start
        self.reader.EndElementHandler = self.end
        self.reader.CharacterDataHandler = self.writing

    def fault(self, what, allowed=None):
        """Return InputFaults for the line that is being read."""
        line = self.reader.CurrentLineNumber
        return _fault(self.name, line, what, allowed or _export())

    def start(self, full, attributes):
        space, _, tag = full.rpartition(" ")
        is_known = space == SVG and tag in KNOWN
        if space == SVG and tag in REFUSED:
            raise self.fault(f"is an SVG with <{tag}> in it")
        if self.n_skipped or not is_known:
            if not self.children:
                raise self.fault(CANNOT)
            self.n_skipped += 1
            self._check_depth()
            return
        written = self.attributes(tag, attributes)
        if not self.children:
            if tag != "svg":
                raise self.fault(CANNOT)
            written = {**written, **self.size(written), "xmlns": SVG}
        self._count(tag, written)
        pairs = "".join(f" {key}={quoteattr(value)}" for key, value in written.items())
        self.out.append(f"<{tag}{pairs}>")

    def _count(self, tag, written):
        """Note an element, its parent, its name and its links."""
        n = len(self.children)
        if n >= MAX_ELEMENTS:
            raise self.fault(f"is an SVG of more than {MAX_ELEMENTS} elements")
        if self.open:
            self.children[self.open[-1][0]].append(n)
        self.children.append([])
        self.links.append(_names(written))
        if "id" in written:
            self.ids.setdefault(written["id"], []).append(n)
        self.open.append((n, tag))
        self._check_depth()
        self.has_text |= tag == "text"

    def _check_depth(self):
        if len(self.open) + self.n_skipped > MAX_DEPTH:
            raise self.fault(f"is an SVG nested deeper than {MAX_DEPTH} levels")

    def end(self, full):
        if self.n_skipped:
            self.n_skipped -= 1
            return
        tag = self.open.pop()[1]
        if tag == "style":
            css = COMMENT.sub("", "".join(self.css))
            self.check_css(css)
            self.out.append(escape(css))
            self.css.clear()
        self.out.append(f"</{tag}>")

    def writing(self, text):
        """Take up letters where they are drawn, and style sheets."""
        tag = self.open[-1][1] if self.open and not self.n_skipped else ""
        if tag == "style":
            self.css.append(text)
        elif tag in WRITING:
            self.out.append(escape(text))

    def attributes(self, tag, found):
        """Return the attributes that are drawn, by their plain names."""
        if len(found) > MAX_ATTRIBUTES:
            raise self.fault(CANNOT)
        written = {}
        for full, value in found.items():
            space, _, key = full.rpartition(" ")
            if key in ("href", "src") and space in ("", XLINK):
                if tag != "a" and key not in written:
                    written[key] = self.link(tag, value)
            elif space == XML and key == "space":
                written["xml:space"] = value
            elif not space and not key.lower().startswith("on"):
                self.check_css(value, is_sheet=key == "style")
                written[key] = value
        return written

    def link(self, tag, value):
        """Return a link within the file, or a picture inside it."""
        if value.strip().startswith("#"):
            return value.strip()
        if tag not in ("image", "feImage") or not (found := DATA.fullmatch(value)):
            raise self.fault(f"is an SVG that links to {shown(value)}")
        self.n_images += 1
        if self.n_images > MAX_IMAGES:
            raise self.fault(f"is an SVG with more than {MAX_IMAGES} pictures in it")
        try:
            data = base64.b64decode("".join(found[2].split()), validate=True)
        except (binascii.Error, ValueError):
            raise self.fault(CANNOT) from None
        kind = self.kind_of(data)
        return f"data:image/{kind.lower()};base64,{base64.b64encode(data).decode()}"

    def check_css(self, text, is_sheet=True):
        """Raise InputFaults where a style leads outside, or hides that it does."""
        rest = OWN_URL.sub("", text)
        outside = OUTSIDE.search(rest)
        hidden = re.search(r"[@\\]", rest) if is_sheet else None
        if outside or hidden:
            what = rest[(outside or hidden).start() :]
            raise self.fault(f"is an SVG whose style says {shown(what)}")

    def size(self, root):
        """Return width, height and viewBox that make the longer side 2000 pixels."""
        sides = [
            self.side(key, root[key]) for key in ("width", "height") if key in root
        ]
        sides = [side for side in sides if side is not None]
        box = root.get("viewBox", "")
        if len(sides) < 2:
            sides = _numbers(box)[2:]
        if len(sides) != 2 or not min(sides) > max(sides) / DRAWN:
            raise self.fault(CANNOT)
        width, height = sides
        scale = DRAWN / max(sides)
        size = {"width": f"{width * scale:.6g}", "height": f"{height * scale:.6g}"}
        return size if box else {**size, "viewBox": f"0 0 {width:.9g} {height:.9g}"}

    def side(self, key, value):
        """Return a side in pixels, None where it is a share of nothing known."""
        found = LENGTH.fullmatch(value)
        unit = found[2].lower() if found else ""
        if unit == "%":
            return None
        if not found or unit not in PIXELS:
            what = f"is an SVG of the {key} {shown(value)}"
            allowed = "px, in, cm, mm or pt, or a viewBox alone"
            raise self.fault(what, allowed)
        return float(found[1]) * PIXELS[unit]


def _numbers(text):
    """Return the finite numbers of a viewBox, [] where it is none."""
    try:
        found = [float(part) for part in re.split(r"[\s,]+", text.strip())]
    except ValueError:
        return []
    return found if all(map(math.isfinite, found)) else []


def _names(attributes):
    """Return the names in this file that an element links to."""
    named = [v[1:] for k, v in attributes.items() if k == "href" and v[:1] == "#"]
    for value in attributes.values():
        if "url(" in value.lower():
            named += [m[0].split("#", 1)[1] for m in OWN_URL.finditer(value)]
    return [name.rstrip("\"' )") for name in named]
