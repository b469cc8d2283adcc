"""An XLSX file → the rows of its first sheet, looked through before it is opened.

An XLSX file (ECMA-376) is a zip archive of XML parts. Any part may turn out to be a
sheet or a table of texts, whatever its name; so bounds hold for every one of them.
"""

import datetime
import io
import re
import warnings
import zipfile
from collections import Counter

from scoring.errors import InputFault, InputFaults
from scoring.inputs.files import too_large
from scoring.inputs.formulas import on_one_line
from scoring.inputs.xml_parser import Entities, XmlError, parser

MAX_UNPACKED = 20_000_000
MAX_RATIO = 200  # unpacked to packed; sheets of like rows come to about 50
MAX_PARTS = 1000
MAX_COLUMNS = 100
MAX_ELEMENTS = 600_000
# So many of each kind in all parts together; what is not named counts as one kind.
MOST = {"c": 200_000, "row": 100_000, "si": 30_000, "sheet": 250, "": 30_000}
UNCOUNTED = frozenset(("v", "t", "is", "f"))  # what is inside cells and texts
KINDS = {"c": "cells", "row": "rows", "si": "texts", "sheet": "sheets", "": "parts"}
CHUNK = 1_000_000
LONG = re.compile(rb"<[^<]{100000}")  # three times the longest text of a cell
REFERENCE = re.compile(r"\s*([A-Za-z]*)[0-9]*\s*")
XML_NAMES = (".xml", ".rels", ".vml")
AS_CSV = "the sheet saved as “CSV UTF-8”"


def workbook_rows(name, data, most_rows):
    """Return [(row, cells)] of the first sheet: texts of values, not of formulas.

    Raises
    ------
    InputFaults
        If it is no workbook, or would grow beyond measure when it is read.
    """
    try:
        table = _first_sheet(own_workbook(name, data), most_rows)
    except InputFaults:
        raise
    except ImportError:
        what = "is a workbook, and openpyxl, which reads them, is not installed"
        raise _fault(name, what, f"{AS_CSV}, or: pip install openpyxl") from None
    except Exception:  # zipfile, openpyxl and pandas raise many kinds for a broken file
        what = "cannot be read as a workbook"
        raise _fault(name, what, f"{AS_CSV} or as XLSX") from None
    cells = table.to_numpy(dtype=object)
    return [(line, [_cell(cell) for cell in row]) for line, row in enumerate(cells, 1)]


def _first_sheet(data, most_rows):
    """Return the first sheet of a workbook as a table of values."""
    import pandas as pd  # slow to import, and not every command reads a file

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what was left out; nobody reads them
        return pd.read_excel(
            io.BytesIO(data),
            engine="openpyxl",
            header=None,
            dtype=object,
            nrows=most_rows + 1,
            na_filter=False,
        )


def own_workbook(name, data):
    """Return a workbook packed anew from the parts of one, each looked through.

    Its sizes are then what they are said to be, and pictures and programs are left out.

    Raises
    ------
    InputFaults
        If it unpacks or unfolds to too much.
    zipfile.BadZipFile, XmlError and others
        If it is broken.
    """
    packed, counts = io.BytesIO(), Counter()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(packed, "w") as new:
        _check_sizes(name, old.infolist())
        for entry in old.infolist():
            with old.open(entry) as file:
                part = file.read(entry.file_size)
            if _is_xml(entry.filename, part):
                _check_part(name, part, counts)
                new.writestr(entry.filename, part)
    return packed.getvalue()


def _fault(name, what, allowed):
    return InputFaults([InputFault(str(name), 1, "", what, allowed)])


def _check_sizes(name, entries):
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > MAX_UNPACKED:
        raise InputFaults([too_large(name, unpacked, MAX_UNPACKED)])
    names = {entry.filename.lower() for entry in entries}
    if len(entries) > MAX_PARTS or len(names) < len(entries):
        what = f"has {len(entries)} parts, {len(names)} of them by name"
        raise _fault(name, what, f"{MAX_PARTS} or fewer, each with a name of its own")
    if any(e.file_size > MAX_RATIO * e.compress_size + CHUNK for e in entries):
        raise _fault(name, "unpacks to far more than it is", AS_CSV)


def _is_xml(part_name, part):
    """Return whether anybody could take a part for XML; a picture is none."""
    start = part[:1000].lstrip(b"\xef\xbb\xbf\xff\xfe\0 \t\r\n")
    return part_name.lower().endswith(XML_NAMES) or start[:1] in (b"<", b"")


def _check_part(name, part, counts):
    """Count what is in a part, and raise InputFaults where it is too much."""
    if LONG.search(part):
        raise _fault(name, "holds a text of more than 100000 letters", AS_CSV)
    reader, in_row = parser(" "), Counter()

    def count(full, attributes):
        tag = full.rpartition(" ")[2]
        counts["all"] += 1
        kind = tag if tag in MOST else ""
        counts[kind] += tag not in UNCOUNTED
        if counts["all"] > MAX_ELEMENTS or counts[kind] > MOST[kind]:
            most, kinds = MOST[kind], KINDS[kind]
            if counts["all"] > MAX_ELEMENTS:
                most, kinds = MAX_ELEMENTS, "elements"
            what = f"has more than {most} {kinds}"
            raise _fault(name, what, "the leads alone, in a workbook of their own")
        if tag == "row":
            in_row.clear()
        elif tag == "c":
            in_row[tag] += 1
            _check_column(name, max(in_row[tag], _column(attributes.get("r", ""))))

    reader.StartElementHandler = count
    reader.XmlDeclHandler = _check_encoding
    try:
        for start in range(0, len(part), CHUNK):
            reader.Parse(part[start : start + CHUNK], False)
        reader.Parse(b"", True)
    except Entities:
        raise _fault(name, "has entities of its own", AS_CSV) from None


def _check_encoding(version, encoding, standalone):
    if (encoding or "utf-8").lower() not in ("utf-8", "us-ascii"):
        raise XmlError(encoding)


def _check_column(name, column):
    if column > MAX_COLUMNS:
        what = f"has cells beyond column {MAX_COLUMNS}"
        raise _fault(name, what, "the leads' columns alone")


def _column(reference):
    """Return the column, from 1, of a cell such as AB7; 0 where it names none.

    Examples
    --------
    >>> _column("A1"), _column("AB7"), _column("")
    (1, 28, 0)
    """
    found = REFERENCE.fullmatch(reference)
    column = 0
    for letter in (found[1].upper() if found else "ZZZ")[:4]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return column


def _cell(value):
    """Return the text of a workbook's cell."""
    if value is None or value != value:  # NaN and NaT do not equal themselves
        return ""
    if isinstance(value, datetime.date):  # times of day are among them
        return value.strftime("%Y-%m-%d")
    if isinstance(value, float):
        return f"{value:.12g}"  # 0.1 + 0.2 as the sheet shows it
    return on_one_line(str(value))
