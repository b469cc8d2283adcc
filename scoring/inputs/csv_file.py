"""A CSV file → its rows, with bounds that keep any file quick to read."""

import csv
import io

from scoring.errors import InputFault, InputFaults, is_hidden, shown
from scoring.inputs.formulas import on_one_line

MAX_BYTES = 1_000_000
MAX_COLUMNS = 100
LONGEST_CELL = 1_000
AS_UTF8 = "the file saved as “CSV UTF-8”"


def csv_rows(name, data, most_rows, delimiters=","):
    """Return [(line, cells)] of the rows with anything in them; a row's first line.

    Parameters
    ----------
    data : bytes, UTF-8 with or without a mark at the start
    most_rows : how many rows there may be, empty ones too
    delimiters : the one of these that the first row has most often parts the cells

    Raises
    ------
    InputFaults
        If it is no text, no CSV, or has more rows, columns or letters than it may.
    """
    text = csv_text(name, data)
    head = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(delimiters, key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows, line = [], 1
    try:
        for n, row in enumerate(reader, 1):
            _check_row(name, line, n, row, most_rows)
            cells = [on_one_line(cell) for cell in row]
            rows += [(line, cells)] if any(cells) else []
            line = reader.line_num + 1
    except csv.Error as error:
        raise _fault(name, line, f"is not CSV: {error}", "CSV") from None
    return rows


def check_seen(name, rows):
    """Raise InputFaults for the cells that hold what cannot be seen or turns a text."""
    faults = [
        InputFault(str(name), line, "", f"{shown(cell)} holds what is not seen", "text")
        for line, row in rows
        for cell in row
        if not (cell.isascii() and cell.isprintable())  # the quick way out
        if any(map(is_hidden, cell))
    ]
    if faults:
        raise InputFaults(faults)


def csv_text(name, data):
    """Return the text of a file; InputFaults if it is none, or not in UTF-8."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        what = f"byte {data[error.start]:#04x} is not UTF-8"
        raise _fault(name, _line(data[: error.start]), what, AS_UTF8) from None
    if "\0" in text:  # what UTF-16 without a mark at its start looks like
        line = _line(data[: data.index(b"\0")])
        raise _fault(name, line, "a byte 0x00 is no text", AS_UTF8)
    return text


def _line(before):
    return before.count(b"\n") + 1


def _check_row(name, line, n, row, most_rows):
    if n > most_rows:
        raise _fault(name, most_rows, f"has more than {most_rows} rows", "fewer rows")
    if len(row) > MAX_COLUMNS:
        what = f"{len(row)} columns"
        raise _fault(name, line, what, f"{MAX_COLUMNS} or fewer")
    for cell in row:
        if len(cell) > LONGEST_CELL:
            what = f"{shown(cell)} is too long"
            raise _fault(name, line, what, f"{LONGEST_CELL} characters")


def _fault(name, line, what, allowed):
    return InputFaults([InputFault(str(name), line, "", what, allowed)])
