"""A table of leads (CSV or XLSX) → jobs a month by job type, and how sure that is.

Common practice, no source: line up paying clients before paying for a machine.
"""

import csv
import datetime
import io
import math
import re
import zipfile
from dataclasses import dataclass, replace

import numpy as np

from scoring.errors import InputFault, InputFaults, ScoringError
from scoring.inputs.files import read_bytes, too_large
from scoring.inputs.quantities import (
    MONEY,
    PRINT_SIDE,
    SHARE,
    Quantity,
    Wrong,
    nearest,
    shown,
)

MAX_BYTES = 1_000_000
MAX_UNPACKED = 50_000_000  # of an XLSX, which is a zip archive
MAX_ROWS = 5000
LONGEST_NAME = 300
COLUMNS = ("job", "width", "height", "price", "probability", "month", "basis")
REQUIRED = ("probability", "month", "basis")
BASES = ("sold", "enquiry", "guess")
SYNONYMS = {"enquiries": "enquiry", "inquiry": "enquiry", "inquiries": "enquiry"}
DIMENSIONS = {
    "width": PRINT_SIDE,
    "height": PRINT_SIDE,
    "price": MONEY,
    "probability": SHARE,
}
HEADER = re.compile(r"(\w+)(?:\s*[(\[](.+)[)\]]|\s+(\S.*))?")
FAR_COLUMN = re.compile(rb'\br="[A-Z]{3}[0-9]')  # of a cell beyond column ZZ
MONTH = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?(?:[ T]00:00:00)?")
# What a spreadsheet program would run as a formula when the file is opened in it.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
SHAPE = f"a first row with the columns {', '.join(COLUMNS)}"
EXAMPLES = (
    ("lounge wall", "", "", "900 EUR", "100 %", "2026-11", "sold"),
    ("", "3 m", "2.4 m", "1100 EUR", "40 %", "2026-12", "enquiry"),
    ("lounge wall", "", "", "", "10 %", "2027-01", "guess"),
)


@dataclass(frozen=True)
class Lead:
    """One job that may come."""

    job: str  # name of the job type, "" where only the measures are told
    probability: float  # 0..1
    month: str  # such as 2026-11
    basis: str  # sold, enquiry or guess
    width_m: float | None = None
    height_m: float | None = None
    price: Quantity | None = None
    file: str = ""
    line: int = 1


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
    name, data = read_bytes(source, MAX_BYTES, "a CSV or XLSX file")
    is_workbook = data.startswith(b"PK") or str(name).lower().endswith(".xlsx")
    rows = (_workbook_rows if is_workbook else _csv_rows)(name, data)
    rows = [(line, row) for line, row in rows if any(row)]
    if not rows:
        raise InputFaults([InputFault(name, 1, "", "is empty", SHAPE)])
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
        writer.writerow(safe(cell) for cell in row)
    return text.getvalue()


def safe(cell):
    """Return a cell's text so that no spreadsheet program runs it as a formula.

    An apostrophe goes before what looks like one; `load_leads` takes it off again.

    Examples
    --------
    >>> safe("=1+1"), safe("hall")
    ("'=1+1", 'hall')
    """
    return f"'{cell}" if cell.startswith(FORMULA_STARTS) else cell


def _csv_rows(name, data):
    """Return [(line, cells)] of a CSV file; commas, semicolons or tabs between them."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        what = f"byte {data[error.start]:#04x} is not UTF-8"
        allowed = "the file saved as “CSV UTF-8”"
        raise InputFaults([InputFault(name, line, "", what, allowed)]) from None
    head = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(",;\t", key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows, line = [], 1
    try:
        for row in reader:
            rows.append((line, [cell.strip() for cell in row]))
            line = reader.line_num + 1
            _check_length(name, rows)
    except csv.Error as error:
        raise InputFaults(
            [InputFault(name, line, "", f"is not CSV: {error}", "CSV")]
        ) from None
    return rows


def _check_length(name, rows):
    if len(rows) > MAX_ROWS:
        what = f"has more than {MAX_ROWS} rows"
        raise InputFaults([InputFault(name, MAX_ROWS, "", what, "fewer leads")])


def _workbook_rows(name, data):
    """Return [(row, cells)] of the first sheet of an XLSX file, values not formulas."""
    import pandas as pd  # slow to import, and not every command reads a file

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            _check_unpacked(name, archive)
        table = pd.read_excel(
            io.BytesIO(data),
            engine="openpyxl",
            header=None,
            dtype=object,
            nrows=MAX_ROWS + 1,
            na_filter=False,
        )
    except InputFaults:
        raise
    except ImportError:
        what = "is a workbook, and openpyxl, which reads them, is not installed"
        allowed = "the sheet saved as “CSV UTF-8”, or: pip install openpyxl"
        raise InputFaults([InputFault(name, 1, "", what, allowed)]) from None
    except Exception:  # zipfile, openpyxl and pandas raise many kinds for a broken file
        what = "cannot be read as a workbook"
        allowed = "the sheet saved as “CSV UTF-8” or as XLSX"
        raise InputFaults([InputFault(name, 1, "", what, allowed)]) from None
    cells = table.to_numpy(dtype=object)
    rows = [(line, [_cell(cell) for cell in row]) for line, row in enumerate(cells, 1)]
    _check_length(name, rows)
    return rows


def _check_unpacked(name, archive):
    """Raise InputFaults for what would grow beyond measure when it is read."""
    entries = archive.infolist()
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > MAX_UNPACKED:
        raise InputFaults([too_large(name, unpacked, MAX_UNPACKED)])
    sheets = [e for e in entries if e.filename.startswith("xl/worksheets/")]
    if any(FAR_COLUMN.search(archive.read(sheet)) for sheet in sheets):
        what = "has cells beyond column ZZ"
        raise InputFaults([InputFault(name, 1, "", what, "the leads' columns alone")])


def _cell(value):
    """Return the text of a workbook's cell."""
    if value is None or value != value:  # NaN and NaT do not equal themselves
        return ""
    if isinstance(value, datetime.date):  # times of day are among them
        return value.strftime("%Y-%m-%d")
    if isinstance(value, float):
        return f"{value:.12g}"  # 0.1 + 0.2 as the sheet shows it
    return str(value).strip()


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
    if job.startswith(FORMULA_STARTS):
        allowed = f"a name; write {shown(safe(job))} if it is meant"
        fault("job", f"{shown(job)} would be run as a formula", allowed)
    if len(job) > LONGEST_NAME:
        fault("job", f"{shown(job)} is too long", f"{LONGEST_NAME} characters")
    sides = [side for side in ("width", "height") if cells[side]]
    if len(sides) == 1:
        other = "height" if sides == ["width"] else "width"
        fault(other, f"is empty, though {sides[0]} is given", "both or neither")
    elif not job and not sides:
        fault("job", "is empty", "a job type's name, or width and height")
    is_masked = job.startswith("'") and job[1:].startswith(FORMULA_STARTS)
    return job[1:] if is_masked else job


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


def months_spanned(leads):
    """Return how many months the leads span, the first and the last counted in.

    Examples
    --------
    >>> months_spanned(
    ...     [Lead("hall", 1, "2026-11", "sold"), Lead("hall", 1, "2027-02", "guess")]
    ... )
    4
    """
    if not leads:
        raise ScoringError("there are no leads")
    counted = [12 * int(lead.month[:4]) + int(lead.month[5:7]) for lead in leads]
    return max(counted) - min(counted) + 1


def matched(leads, sizes):
    """Return the leads, each one without a job type given the one nearest in size.

    Parameters
    ----------
    sizes : {name of a job type: (width in m, height in m)}
        Nearest is by the product of the sides' ratios, so that 2 m is as far from 1 m
        as from 4 m.
    """

    def far(lead, name):
        pairs = zip((lead.width_m, lead.height_m), sizes[name], strict=True)
        return sum(abs(math.log(ours / theirs)) for ours, theirs in pairs)

    return tuple(
        lead
        if lead.job
        else replace(lead, job=min(sizes, key=lambda name: far(lead, name)))
        for lead in leads
    )


def mix(leads, job_names, months):
    """Return the expected jobs a month of each job type: shape (job,).

    Parameters
    ----------
    leads : Leads that name a job type (see `matched`)
    job_names : names of the job types, in the order of the result
    months : above 0, which the leads stand for

    Raises
    ------
    InputFaults
        With every lead whose job type is not among the names.
    """
    jobs, probability = _jobs(leads, job_names, months)
    return np.bincount(jobs, probability, minlength=len(job_names)) / months


def resampled(leads, job_names, months, uniform):
    """Return jobs a month of each draw: shape (draw, job).

    Each draw takes as many leads as there are, with replacement, and tosses for each
    whether it comes; so few leads spread wider around the same mean than many.

    Parameters
    ----------
    leads, job_names, months : as for `mix`
    uniform : shape (draw, lead, 2)
        Uniform numbers in [0, 1): which lead is taken, and the toss for it. Nothing
        else comes in by chance.

    Raises
    ------
    ScoringError
        As `mix`, and if the uniform numbers are not of that shape.

    Source
    ------
    Efron (1979), Bootstrap methods: another look at the jackknife, Annals of
    Statistics 7(1), 1–26, doi:10.1214/aos/1176344552.
    """
    jobs, probability = _jobs(leads, job_names, months)
    n_leads = len(jobs)
    if np.ndim(uniform) != 3 or np.shape(uniform)[1:] != (n_leads, 2):
        shape = f"({np.shape(uniform)}, not (draws, {n_leads}, 2))"
        raise ScoringError(f"uniform numbers of the wrong shape {shape}")
    taken = np.minimum((uniform[..., 0] * n_leads).astype(np.intp), n_leads - 1)
    comes = uniform[..., 1] < probability[taken]
    job = np.where(comes, jobs[taken], -1)
    counts = [(job == k).sum(axis=1) for k in range(len(job_names))]
    return np.stack(counts, axis=1) / months


def rests_on(leads, worth=None):
    """Return {basis: share} of the expected work that is sold, enquiry, guess.

    Parameters
    ----------
    worth : shape (lead,), 0 or more, optional
        What each lead is worth if it comes, such as its contribution; all alike if not
        told.

    Raises
    ------
    ScoringError
        If nothing is expected at all.

    Examples
    --------
    >>> sold = Lead("hall", 1.0, "2026-11", "sold")
    >>> rests_on([sold, replace(sold, basis="guess")])
    {'sold': 0.5, 'enquiry': 0.0, 'guess': 0.5}
    """
    worth = np.ones(len(leads)) if worth is None else np.asarray(worth, dtype=float)
    expected = worth * np.array([lead.probability for lead in leads])
    if not expected.sum() > 0:
        raise ScoringError("no lead is expected to come: every probability is 0")
    bases = np.array([lead.basis for lead in leads])
    return {
        basis: float(expected[bases == basis].sum() / expected.sum()) for basis in BASES
    }


def _jobs(leads, job_names, months):
    """Return place among the names, and probability, of each lead: shape (lead,)."""
    if not leads:
        raise ScoringError("there are no leads")
    if not (math.isfinite(months) and months > 0):
        raise ScoringError(f"leads of {months} months; more than 0")
    places = {name.casefold(): k for k, name in enumerate(job_names)}
    faults = []
    for lead in leads:
        if lead.job.casefold() in places:
            continue
        what = (
            f"no kind of job is called {shown(lead.job)}{nearest(lead.job, job_names)}"
        )
        if not lead.job:
            what = "the lead has no job type"
        allowed = f"one of {', '.join(map(shown, job_names))}"
        faults.append(InputFault(lead.file, lead.line, "job", what, allowed))
    if faults:
        raise InputFaults(faults)
    jobs = np.array([places[lead.job.casefold()] for lead in leads])
    return jobs, np.array([lead.probability for lead in leads], dtype=float)
