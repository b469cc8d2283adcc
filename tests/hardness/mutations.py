"""Spoilt inputs: hypothesis strategies over sheets, briefs, tables and pictures.

A sheet or brief is spoilt where its grammar is: a figure, a unit, a range, a key, a
list, a name; the rest byte by byte. Every case is (kind, name, bytes).
"""

import copy
import csv
import io
from pathlib import Path

import yaml
from hypothesis import strategies as st
from openpyxl import Workbook
from PIL import Image

from scoring.inputs.yaml_lines import read_yaml

ROOT = Path(__file__).parents[2]
SHEETS = sorted((ROOT / "profiles/machines").glob("*.yaml"))
BRIEFS = sorted((ROOT / "profiles/briefs").glob("*.yaml"))
UNITS = (
    "min",
    "h",
    "kg",
    "lb",
    "m",
    "cm",
    "ft",
    "m²",
    "m²/h",
    "ml",
    "ml/m²",
    "%",
    "day",
)
UNITS += ("km", "km/h", "EUR", "USD", "EUR/m²", "EUR/l", "EUR/h", "EUR/year", "dB", "")
HOSTILE = (
    *("=1+1", "@SUM(A1)", "-1+2", "a;=1+1", "a\t=1+1", "<img onerror=x>", "{0}", "%s"),
    *(
        "\x1b[31mred",
        "a\rb",
        "a\nb",
        "\u202e21",
        "\u2066x",
        "\x00",
        "\u200b",
        "N" * 301,
    ),
    *(
        "x" * 5000,
        "brief",
        "work",
        "unknown",
        "null",
        "é",
        "漢字",
        "'",
        '"',
        "#",
        "&a",
        "*a",
    ),
    *(
        "!!python/object:os.system",
        "<<",
        "../../etc/passwd",
        "/dev/zero",
        "1" * 400,
        "😀",
    ),
)
FIGURES = (
    *("0", "-1", "1e5", "1e400", "NaN", ".inf", "1,7", "9**9**9", "5..1", "1..2..3..4"),
    *(
        "0x10",
        "1_000",
        "1e-320",
        "0.0000001",
        "999999999999",
        "1" + "0" * 40,
        "1..",
        "..2",
    ),
)
ODD_FIGURES = st.builds(
    lambda number, unit: f"{number} {unit}".strip(),
    st.one_of(
        st.sampled_from(FIGURES),
        st.floats(0, 1e13, allow_nan=False).map(lambda x: f"{x:.6g}"),
        st.tuples(st.floats(0, 1e6), st.floats(0, 1e6)).map(
            lambda ends: f"{min(ends):f}..{max(ends):f}"
        ),
    ),
    st.sampled_from(UNITS),
)
TEXTS = st.one_of(
    st.sampled_from(HOSTILE), st.text(st.characters(codec="utf-8"), max_size=40)
)
ODD = st.one_of(
    ODD_FIGURES,
    TEXTS,
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=True),
    st.just([]),
    st.just({}),
    st.lists(ODD_FIGURES, max_size=4),
    st.dictionaries(TEXTS, ODD_FIGURES, max_size=3),
    st.builds(
        lambda value, basis, day: {"value": value, "basis": basis, "as_of": day},
        ODD_FIGURES,
        st.sampled_from(("measured", "quoted", "estimated", "unknown", "guess")),
        st.sampled_from(("2026-09-14", "yesterday", "9999-99-99")),
    ),
)


def paths_of(data, path=()):
    """Return the path of everything in nested mappings and lists but the whole."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data)
    found = []
    for key, value in pairs:
        found.append((*path, key))
        if isinstance(value, dict | list):
            found += paths_of(value, (*path, key))
    return found


def _parent(data, path):
    for key in path[:-1]:
        data = data[key]
    return data


@st.composite
def spoilt_yaml(draw, files):
    """Draw a sheet or brief with one to four places spoilt."""
    path = draw(st.sampled_from(files))
    return path.name, in_yaml(spoilt(draw, parsed(path)))


def spoilt(draw, data, under=()):
    """Return nested data with one to four places spoilt, of some keys alone if told."""
    data = copy.deepcopy(data)
    for _ in range(draw(st.sampled_from((1, 1, 2, 4)))):
        _spoil(draw, data, under)
    return data


def in_yaml(data):
    """Return data as the bytes of YAML, or of something like it."""
    try:
        return yaml.safe_dump(data, allow_unicode=True, sort_keys=False).encode()
    except (yaml.YAMLError, UnicodeEncodeError):  # half a character
        return repr(data).encode("utf-8", "replace")


def parsed(path):
    """Return the data of a YAML file."""
    if path not in PARSED:
        PARSED[path] = read_yaml(path.read_bytes(), path.name)[0].data
    return PARSED[path]


PARSED = {}


def _spoil(draw, data, under):
    places = [place for place in paths_of(data) if not under or place[0] in under]
    if not places:
        return
    place = draw(st.sampled_from(places))
    parent, key = _parent(data, place), place[-1]
    deed = draw(st.sampled_from(DEEDS))
    if deed == "replace":
        parent[key] = draw(ODD)
    elif deed == "delete":
        del parent[key]
    elif deed == "rename" and isinstance(parent, dict):
        parent[str(draw(TEXTS))] = parent.pop(key)
    elif deed == "add" and isinstance(parent, dict):
        parent[str(draw(TEXTS))] = draw(ODD)
    elif deed == "repeat" and isinstance(parent, list):
        n = draw(st.sampled_from((1, 3, 20, 400)))
        parent += [copy.deepcopy(parent[key]) for _ in range(n)]
    elif deed == "scale" and isinstance(parent[key], str):
        parent[key] = _scaled(parent[key], draw(st.sampled_from(POWERS)))
    elif deed == "swap":
        other = draw(st.sampled_from(places))
        parent[key] = copy.deepcopy(_parent(data, other)[other[-1]])
    elif deed == "wrap":
        parent[key] = [parent[key]]


DEEDS = ("scale",) * 6 + ("delete",) * 2  # mostly what may be accepted
DEEDS += ("replace", "rename", "add", "repeat", "swap", "wrap")
POWERS = (0.0, 1e-6, 1e-3, 0.1, 0.5, 1.0, 1.5, 3.0, 10.0, 100.0, 1e3, 1e6, 1e12, -1.0)


def _scaled(text, power):
    """Return a figure with every number in it multiplied."""
    words = text.replace("..", " .. ").split(" ")
    again = []
    for word in words:
        try:
            again.append(f"{float(word) * power:.12g}" if word else word)
        except ValueError:
            again.append(word)
    return " ".join(again).replace(" .. ", "..")


def bytes_spoilt(data, cuts, chunks):
    """Return bytes with pieces taken out, put in, doubled or flipped."""
    data = bytearray(data)
    for (at, deed), chunk in zip(cuts, chunks, strict=True):
        place = int(at * len(data)) if data else 0
        if deed == "flip" and data:
            data[min(place, len(data) - 1)] ^= chunk[0] or 1
        elif deed == "insert":
            data[place:place] = chunk
        elif deed == "delete":
            del data[place : place + len(chunk)]
        elif deed == "cut":
            del data[place:]
        elif deed == "double":
            data[place:place] = data[place : place + 20 * len(chunk)]
    return bytes(data)


@st.composite
def spoilt_bytes(draw, makers):
    """Draw (name, bytes) of a whole file, spoilt byte by byte."""
    name, data = draw(st.sampled_from(makers))
    return name, cut_up(draw, data)


def cut_up(draw, data):
    """Return bytes with up to four pieces spoilt."""
    n = draw(st.integers(0, 4))
    deeds = st.sampled_from(("flip", "insert", "delete", "cut", "double"))
    cuts = draw(st.lists(st.tuples(st.floats(0, 1), deeds), min_size=n, max_size=n))
    size = {"min_size": 1, "max_size": 12}
    chunks = draw(st.lists(st.binary(**size), min_size=n, max_size=n))
    return bytes_spoilt(data, cuts, chunks)


LEADS = (
    ("job", "probability", "month", "basis", "width", "height", "price"),
    ("waiting room", "80 %", "2026-12", "enquiry", "3 m", "2.2 m", "1200 EUR"),
    ("", "100 %", "2027-01", "sold", "6 m", "2.4 m", ""),
    ("café back wall", "0.3", "2027-02", "guess", "", "", ""),
)
TABLE = (
    ("", "cost", "speed"),
    ("direction", "min", "max"),
    ("weight", "2", "1"),
    ("Alder", "10", "3"),
    ("Birch", "12", "4"),
)


@st.composite
def spoilt_table(draw, rows, name):
    """Draw a CSV table with cells spoilt, rows and columns doubled."""
    rows = [list(row) for row in rows]
    for _ in range(draw(st.integers(1, 4))):
        r = draw(st.integers(0, len(rows) - 1))
        c = draw(st.integers(0, max(0, len(rows[r]) - 1)))
        deed = draw(st.sampled_from(("cell", "cell", "row", "column", "drop")))
        if deed == "cell" and rows[r]:
            rows[r][c] = str(draw(st.one_of(ODD_FIGURES, TEXTS)))
        elif deed == "row":
            rows += [list(rows[r])] * draw(st.sampled_from((1, 30, 3000)))
        elif deed == "column" and rows[r]:
            n = draw(st.sampled_from((1, 30, 3000)))
            rows = [row + [row[c] if c < len(row) else ""] * n for row in rows[:40]]
        elif deed == "drop" and rows[r]:
            del rows[r][c]
    text = io.StringIO()
    mark = draw(st.sampled_from((",", ";", "\t")))
    writer = csv.writer(text, delimiter=mark, lineterminator="\n")
    writer.writerows([[cell.replace("\x00", "") for cell in row] for row in rows])
    code = draw(st.sampled_from(("utf-8", "utf-8", "utf-8-sig", "utf-16", "latin-1")))
    return name, text.getvalue().encode(code, "replace")


def in_workbook(rows):
    """Return rows as the bytes of a workbook."""
    book = Workbook()
    for row in rows:
        book.active.append(row)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def _image(form):
    image = Image.new("RGB", (40, 30), "white")
    image.paste((10, 10, 10), (5, 5, 20, 25))
    held = io.BytesIO()
    image.save(held, form)
    return held.getvalue()


SVG = b"""<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30">
<defs><g id="g"><rect width="9" height="9"/></g></defs>
<rect x="5" y="5" width="20" height="12" fill="#222"/><use href="#g" x="20"/></svg>"""
CSV = "\n".join(",".join(row) for row in LEADS).encode()
TABLE_CSV = "\n".join(",".join(row) for row in TABLE).encode()


def cases(kinds=()):
    """Return the strategy of (kind, name, bytes), of some kinds alone if told.

    Sheets and briefs come most often.
    """
    texts = [(path.name, path.read_bytes()) for path in (*SHEETS[:3], *BRIEFS)]
    sheets = [each for each in texts if each[0] in {path.name for path in SHEETS}]
    briefs = [each for each in texts if each not in sheets]
    from tests.hardness import newer  # it takes this file's own ways to spoil

    pictures = [("a.png", _image("PNG")), ("a.jpg", _image("JPEG")), ("a.svg", SVG)]
    every = {
        "sheet": [spoilt_yaml(SHEETS)] * 6 + [spoilt_bytes(sheets)],
        "brief": [spoilt_yaml(BRIEFS)] * 6 + [spoilt_bytes(briefs)],
        "leads": [spoilt_table(LEADS, "leads.csv"), spoilt_bytes([("l.csv", CSV)])],
        "workbook": [spoilt_bytes([("leads.xlsx", in_workbook(LEADS))])],
        "table": [spoilt_table(TABLE, "t.csv"), spoilt_bytes([("t.csv", TABLE_CSV)])],
        "picture": [spoilt_bytes(pictures[:2]), spoilt_bytes(pictures[2:])],
        **newer.kinds(),
    }
    return st.one_of(
        strategy.map(lambda found, kind=kind: (kind, *found))
        for kind, several in every.items()
        if not kinds or kind in kinds
        for strategy in several
    )
