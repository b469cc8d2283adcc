"""A table of leads, as CSV or workbook → Leads, or every fault at once."""

import csv
import datetime
import io
import re

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.csv_file import MAX_BYTES
from scoring.inputs.dimensions import MONEY, PRINT_SIDE, SHARE
from scoring.inputs.formulas import guarded, unguarded
from scoring.inputs.leads import BASES, Lead
from scoring.inputs.quantity import Wrong, nearest
from scoring.inputs.table_rows import table_rows

MAX_ROWS = 5000
LONGEST_NAME = 300
COLUMNS = ("job", "width", "height", "price", "probability", "month", "basis")
REQUIRED = ("probability", "month", "basis")
SYNONYMS = {"enquiries": "enquiry", "inquiry": "enquiry", "inquiries": "enquiry"}
DIMENSIONS = {
    "width": PRINT_SIDE,
    "height": PRINT_SIDE,
    "price": MONEY,
    "probability": SHARE,
}
HEADER = re.compile(r"(\w+)(?:\s*[(\[](.+)[)\]]|\s+(\S.*))?")
MONTH = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?(?:[ T]00:00:00)?")
SHAPE = f"a first row with the columns {', '.join(COLUMNS)}"
EXAMPLES = (
    ("lounge wall", "", "", "900 EUR", "100 %", "2026-11", "sold"),
    ("", "3 m", "2.4 m", "1100 EUR", "40 %", "2026-12", "enquiry"),
    ("lounge wall", "", "", "", "10 %", "2027-01", "guess"),
)


def load_leads(source):
    """Return the Leads of a CSV or XLSX file, in its order.

    Columns by name in the first row, in any order: `job` or `width` and `height`,
    `price` (may be empty), `probability` (empty for what is sold: 100 %), `month`,
    `basis`. A unit may stand in the column's name, as in `price EUR`, and bare numbers
    are then of that unit. A cell is never run as a formula.

    Parameters
    ----------
    source : path, or (name, bytes) of a file that is already read

    Raises
    ------
    InputFaults
        With every fault of all rows.
    """
    name, rows = table_rows(source, MAX_BYTES, MAX_ROWS, SHAPE)
    units, faults = _columns(name, *rows[0])
    if faults:
        raise InputFaults(faults)
    if len(rows) == 1:
        line, what = rows[0][0], "has no leads"
        raise InputFaults([InputFault(name, line, "", what, "a row for each")])
    leads = [_lead(name, line, row, units, faults) for line, row in rows[1:]]
    if faults:
        raise InputFaults(faults)
    return tuple(leads)


def template_csv(job_names=()):
    """Return a CSV text to fill in: the columns and a few invented rows.

    With names of job types, a row each instead, still to be filled in.

    Examples
    --------
    >>> print(template_csv().splitlines()[0])
    job,width,height,price,probability,month,basis
    """
    named = [(name, *([""] * (len(COLUMNS) - 1))) for name in job_names]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in named or EXAMPLES:
        writer.writerow(guarded(cell) for cell in row)
    return text.getvalue()


def _columns(name, line, header):
    """Return ({place: (column, unit)}, faults) of the first row."""
    columns, faults = {}, []

    def fault(key, what, allowed):
        faults.append(InputFault(name, line, key, what, allowed))

    for place, cell in enumerate(header):
        if not cell:
            continue
        found = HEADER.fullmatch(cell)
        column = found[1].lower() if found else cell
        unit = (found[2] or found[3] or "").strip() if found else ""
        if column not in COLUMNS:
            near = nearest(column, COLUMNS)
            fault("", f"unknown column {shown(cell)}{near}", ", ".join(COLUMNS))
        elif column in [known for known, _ in columns.values()]:
            fault(column, "stands in two columns", "each column once")
        columns[place] = column, unit
    known = {column for column, _ in columns.values()}
    for column in REQUIRED:
        if column not in known:
            fault(column, "there is no such column", SHAPE)
    if "job" not in known and not {"width", "height"} <= known:
        fault("job", "there is no such column", "`job`, or `width` and `height`")
    return columns, faults


def _lead(name, line, row, columns, faults):
    """Return the Lead of one row, None where it has faults, which are added."""
    n_before = len(faults)

    def fault(key, what, allowed):
        faults.append(InputFault(name, line, key, what, allowed))

    for cell in row[max(columns) + 1 :]:
        if cell:
            fault("", f"{shown(cell)} stands beyond the last column", SHAPE)
    cells = dict.fromkeys(COLUMNS, "")
    units = dict.fromkeys(COLUMNS, "")
    for place, (column, unit) in columns.items():
        cells[column] = row[place] if place < len(row) else ""
        units[column] = unit
    basis = _basis(cells["basis"], fault)
    if basis == "sold" and not cells["probability"]:
        cells["probability"] = "100 %"
    figures = {
        column: _figure(column, dimension, cells[column], units[column], fault)
        for column, dimension in DIMENSIONS.items()
    }
    if not cells["probability"]:
        fault("probability", "is empty", SHARE.allowed)
    job = _job(cells, fault)
    month = _month(cells["month"], fault)
    if len(faults) > n_before:
        return None
    width, height = figures["width"], figures["height"]
    return Lead(
        job,
        figures["probability"].likely,
        month,
        basis,
        width and width.likely,
        height and height.likely,
        figures["price"],
        name,
        line,
    )


def _figure(column, dimension, cell, unit, fault):
    """Return the Quantity in a cell, None where it is empty or faulty."""
    if not cell:
        return None
    is_bare = re.fullmatch(r"[\d.,\-–]+", cell)
    try:
        quantity = dimension.parse(f"{cell} {unit}".strip() if is_bare else cell)
        if quantity.is_unknown:
            raise Wrong("unknown", f"{dimension.allowed}; or an empty cell")
        return quantity
    except Wrong as wrong:
        fault(column, wrong.what, wrong.allowed)
        return None


def _job(cells, fault):
    """Return the job type's name, "" where measures stand for it."""
    job = cells["job"]
    if guarded(job) != job:
        allowed = f"a name; write {shown(guarded(job))} if it is meant"
        fault("job", f"{shown(job)} would be run as a formula", allowed)
    if len(job) > LONGEST_NAME:
        fault("job", f"{shown(job)} is too long", f"{LONGEST_NAME} characters")
    sides = [side for side in ("width", "height") if cells[side]]
    if len(sides) == 1:
        other = "height" if sides == ["width"] else "width"
        fault(other, f"is empty, though {sides[0]} is given", "both or neither")
    elif not job and not sides:
        fault("job", "is empty", "a job type's name, or width and height")
    return unguarded(job)


def _month(cell, fault):
    """Return year and month of a cell, such as 2026-11."""
    found = MONTH.fullmatch(cell)
    try:
        day = datetime.date(int(found[1]), int(found[2]), int(found[3] or 1))
    except (TypeError, ValueError):
        what = f"{shown(cell)} is no month" if cell else "is empty"
        fault("month", what, "year and month, such as 2026-11")
        return ""
    return f"{day:%Y-%m}"


def _basis(cell, fault):
    basis = cell.lower()
    basis = SYNONYMS.get(basis, basis)
    if basis not in BASES:
        what = f"{shown(cell)}{nearest(cell, BASES)}" if cell else "is empty"
        fault("basis", what, "sold, enquiry or guess")
    return basis
