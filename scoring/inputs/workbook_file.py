"""An XLSX file → the rows of its first sheet, looked through before it is opened.

An XLSX file (ECMA-376) is a zip archive of XML parts. Any part may turn out to be a
sheet or a table of texts, whatever its name; so bounds hold for every one of them.
"""

import datetime
import io
import re
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
MAX_AREA = 2_500_000  # rows × columns that hold values: the reader keeps the empty too
# So many of each kind in all parts together; what is not named counts as one kind.
MOST = {"c": 200_000, "row": 100_000, "si": 30_000, "sheet": 250, "": 30_000}
UNCOUNTED = frozenset(("v", "t", "is", "f"))  # what is inside cells and texts
KINDS = {"c": "cells", "row": "rows", "si": "texts", "sheet": "sheets", "": "parts"}
CHUNK = 1_000_000
LONG = re.compile(rb"<[^<]{100000}")  # three times the longest text of a cell
REFERENCE = re.compile(r"\s*([A-Za-z]*)([0-9]*)\s*")
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
        rows = _first_sheet(own_workbook(name, data), most_rows)
    except InputFaults:
        raise
    except ImportError:
        what = "is a workbook, and python-calamine, which reads them, is not installed"
        raise _fault(name, what, f"{AS_CSV}, or: pip install python-calamine") from None
    except BaseException as broken:  # zipfile and the reader raise many kinds
        if not _is_of_the_file(broken):
            raise
        what = "cannot be read as a workbook"
        raise _fault(name, what, f"{AS_CSV} or as XLSX") from None
    return [(line, [_cell(cell) for cell in row]) for line, row in enumerate(rows, 1)]


def _is_of_the_file(broken):
    """Return whether a file was at fault; the reader's panic is no Exception."""
    return isinstance(broken, Exception) or type(broken).__name__ == "PanicException"


def _first_sheet(data, most_rows):
    """Return the rows of values of a workbook's first sheet, one more than the most."""
    from python_calamine import CalamineWorkbook

    sheet = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0)
    return sheet.to_python(skip_empty_area=False, nrows=most_rows + 1)


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
    reader, in_row, place, reach = parser(" "), Counter(), [0, 0], [0, 0]

    def count(full, attributes):
        tag = full.rpartition(" ")[2]
        counts["all"] += 1
        if tag in UNCOUNTED and counts["all"] <= MAX_ELEMENTS:  # holds something: most
            if place[0] > reach[0] or place[1] > reach[1]:
                reach[:] = map(max, reach, place)
                _check_area(name, *reach)
            return
        kind = tag if tag in MOST else ""
        counts[kind] += 1
        if counts["all"] > MAX_ELEMENTS or counts[kind] > MOST[kind]:
            most, kinds = MOST[kind], KINDS[kind]
            if counts["all"] > MAX_ELEMENTS:
                most, kinds = MAX_ELEMENTS, "elements"
            what = f"has more than {most} {kinds}"
            raise _fault(name, what, "the leads alone, in a workbook of their own")
        if tag == "row":
            in_row.clear()
            place[0] = _number(attributes.get("r", "")) or place[0] + 1
        elif tag == "c":
            in_row[tag] += 1
            column, row = _place(attributes.get("r", ""))
            place[:] = row or place[0], max(in_row[tag], column)
            _check_column(name, place[1])

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


def _check_area(name, n_rows, n_columns):
    if n_rows * n_columns > MAX_AREA:
        what = f"has cells as far as row {n_rows}, column {n_columns}"
        raise _fault(name, what, "rows without a gap, in a workbook of their own")


def _place(reference):
    """Return (column, row), from 1, of a cell such as AB7; 0 where it names none.

    Examples
    --------
    >>> _place("A1"), _place("AB7"), _place("")
    ((1, 1), (28, 7), (0, 0))
    """
    found = REFERENCE.fullmatch(reference)
    column = 0
    for letter in (found[1].upper() if found else "ZZZ")[:4]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return column, _number(found[2]) if found else 0


def _number(digits):
    """Return a row's number, no more than ten million; 0 for what is none."""
    digits = digits.strip()
    if not (digits.isascii() and digits.isdigit()):
        return 0
    return int(digits) if len(digits) < 8 else 10_000_000


def _cell(value):
    """Return the text of a workbook's cell."""
    if value is None or value != value:  # NaN does not equal itself
        return ""
    if isinstance(value, datetime.date):  # times of day are among them
        return value.strftime("%Y-%m-%d")
    if isinstance(value, float):
        return f"{value:.12g}"  # 0.1 + 0.2 as the sheet shows it
    return on_one_line(str(value))
