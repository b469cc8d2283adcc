"""A table of jobs done, as CSV or workbook → JobsDone, or every fault at once."""

import csv
import datetime
import io
import math
import re
from typing import NamedTuple

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.dimensions import (
    DAYS,
    MILLILITRES,
    MINUTES,
    MONEY,
    SHARE,
    SQUARE_METRES,
)
from scoring.inputs.formulas import guarded, unguarded
from scoring.inputs.quantity import Wrong, nearest
from scoring.inputs.table_rows import table_rows

MAX_BYTES = 5_000_000
MAX_ROWS = 20_000
LONGEST_NAME = 300
DIMENSIONS = {
    "area": SQUARE_METRES,
    "carry": MINUTES,
    "build": MINUTES,
    "prime": MINUTES,
    "print": MINUTES,
    "move": MINUTES,
    "pack": MINUTES,
    "ink": MILLILITRES,
    "spoilt": SHARE,
    "paid": MONEY,
    "days_to_pay": DAYS,
    "days_down": DAYS,
}
COUNTS = {"passes": 99, "people": 20}
COLUMNS = ("day", "kind", "machine", "won", "passes", "people", *DIMENSIONS)
REQUIRED = ("day", "kind")
BARE = {"m²", "min", "ml", "day"}  # what a bare number without a unit stands for
PLAIN = re.compile(r"\d+(?:\.\d+)?")
HEADER = re.compile(r"(\w+)(?:\s*[(\[](.+)[)\]]|\s+(\S.*))?")
DAY = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[ T]00:00:00)?")
YES_NO = {"": True, "yes": True, "no": False}
SHAPE = (
    f"a first row with the columns {', '.join(COLUMNS)}; all but day and kind may go"
)
TEMPLATE = (
    *("day", "kind", "won", "area m²", "passes", "people", "carry min", "build min"),
    *("prime min", "print min", "move min", "pack min", "ink ml", "spoilt %"),
    *("paid EUR", "days_to_pay", "days_down"),
)
EXAMPLES = (
    "2026-09-03,lounge wall,,7.2,4,1,9,31,14,262,,18,61,0,640,12,",
    "2026-09-09,lounge wall,no,,,,,,,,,,,,,,",
    "2026-09-14,two landings,,9.6,4,1,12,29,12,355,24,17,80,5,910,30,2",
)


class JobDone(NamedTuple):
    """One row of a job log; NaN, or None of a count, where nothing was written."""

    line: int
    day: datetime.date
    kind: str
    machine: str
    is_won: bool  # False: asked for, and not got
    passes: int | None
    people: int | None
    area: float  # m², as printed
    carry: float  # min, in or out
    build: float  # min, of one build; so prime and pack
    prime: float
    print: float  # min
    move: float  # min, of one move to the next wall
    pack: float
    ink: float  # ml
    spoilt: float  # share of the print that was done again
    paid: float
    days_to_pay: float
    days_down: float  # days that the machine stood still; above 0 is a stoppage


class JobsDone(NamedTuple):
    """A job log as it was read."""

    name: str
    rows: tuple[JobDone, ...]
    currency: str | None  # of what was paid


def load_job_log(source):
    """Return the JobsDone of a CSV or XLSX file, in its order.

    Columns by name in the first row, in any order; all but `day` and `kind` may be
    missing, and any other cell empty. A unit may stand in the column's name, as in
    `build min`; else bare numbers are min, m², ml and days. A cell is never run as a
    formula.

    Parameters
    ----------
    source : path, or (name, bytes) of a file that is already read

    Raises
    ------
    InputFaults
        With every fault of all rows.
    """
    name, rows = table_rows(source, MAX_BYTES, MAX_ROWS, SHAPE)
    reader = _Reader(name, *rows[0])
    if not reader.faults and len(rows) == 1:
        reader.fault(rows[0][0], "", "has no jobs", "a row for each")
    if reader.faults:
        raise InputFaults(reader.faults)
    found = tuple(reader.job(line, row) for line, row in rows[1:])
    if reader.faults:
        raise InputFaults(reader.faults)
    return JobsDone(name, found, reader.currency)


def job_log_template(kinds=()):
    """Return a CSV text to fill in: the columns and a few invented rows.

    With names of kinds of job, a row each instead, still to be filled in.

    Examples
    --------
    >>> print(job_log_template(["hall"]).splitlines()[1])
    ,hall,,,,,,,,,,,,,,,
    """
    named = [["", name, *[""] * (len(TEMPLATE) - 2)] for name in kinds]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(TEMPLATE)
    for row in named or [example.split(",") for example in EXAMPLES]:
        writer.writerow(map(guarded, row))
    return text.getvalue()


class _Column(NamedTuple):
    """A column of the first row; `factor` brings a bare number to the internal unit."""

    name: str
    unit: str
    factor: float | None
    currency: str | None


class _Reader:
    """Reads row after row, and gathers what is wrong with them."""

    def __init__(self, name, line, header):
        self.name, self.faults, self.currency = name, [], None
        self.columns = self._columns(line, header)

    def fault(self, line, key, what, allowed):
        self.faults.append(InputFault(self.name, line, key, what, allowed))

    def _columns(self, line, header):
        """Return {place: _Column} of the first row."""
        columns, names = {}, []
        for place, cell in enumerate(header):
            if not cell:
                continue
            found = HEADER.fullmatch(cell)
            column = found[1].lower() if found else cell
            unit = (found[2] or found[3] or "").strip() if found else ""
            if column not in COLUMNS:
                near = nearest(column, COLUMNS)
                what = f"unknown column {shown(cell)}{near}"
                self.fault(line, "", what, ", ".join(COLUMNS))
                continue
            if column in names:
                self.fault(line, column, "stands in two columns", "each column once")
            names.append(column)
            columns[place] = self._column(line, column, unit)
        for column in REQUIRED:
            if column not in names:
                self.fault(line, column, "there is no such column", SHAPE)
        return columns

    def _column(self, line, column, unit):
        dimension = DIMENSIONS.get(column)
        if dimension is None:
            if unit:
                self.fault(
                    line, column, f"takes no unit {shown(unit)}", "the name alone"
                )
            return _Column(column, "", None, None)
        unit = unit or (dimension.unit if dimension.unit in BARE else "")
        if not unit:
            return _Column(column, "", None, None)
        try:
            one = dimension.parse(f"1 {unit}")
        except Wrong as wrong:
            self.fault(line, column, wrong.what, wrong.allowed)
            return _Column(column, "", None, None)
        return _Column(column, unit, one.likely, one.currency)

    def job(self, line, row):
        """Return the JobDone of a row, None where it has faults."""
        n_before = len(self.faults)
        cells = dict.fromkeys(COLUMNS, "")
        columns = {}
        for place, cell in enumerate(row):
            column = self.columns.get(place)
            if column is not None:
                cells[column.name], columns[column.name] = cell, column
            elif cell:
                what = f"{shown(cell)} stands in a column without a name"
                self.fault(line, "", what, SHAPE)
        is_won = YES_NO.get(cells["won"].lower())
        if is_won is None:
            self.fault(line, "won", f"{shown(cells['won'])} is neither", "yes or no")
        figures = {
            name: self._figure(line, columns.get(name), cells[name])
            for name in DIMENSIONS
        }
        counts = {name: self._count(line, name, cells[name]) for name in COUNTS}
        told = [name for name in (*DIMENSIONS, *COUNTS) if cells[name]]
        if is_won is False and told:
            what = f"was not won, yet tells {', '.join(told)}"
            self.fault(line, "won", what, "yes, or those cells empty")
        job = JobDone(
            line=line,
            day=self._day(line, cells["day"]),
            kind=self._name(line, "kind", cells["kind"]),
            machine=self._name(line, "machine", cells["machine"]),
            is_won=is_won,
            **counts,
            **figures,
        )
        return job if len(self.faults) == n_before else None

    def _figure(self, line, column, cell):
        """Return a cell's figure in its internal unit, NaN where it is empty."""
        if not cell:
            return math.nan
        dimension = DIMENSIONS[column.name]
        currency, is_plain = column.currency, PLAIN.fullmatch(cell) is not None
        value = float(cell) * column.factor if is_plain and column.factor else math.nan
        low, high = dimension.bounds
        try:
            if not low <= value <= high:  # the quick way is out; say it as elsewhere
                value, currency = self._parsed(dimension, column, cell)
        except Wrong as wrong:
            self.fault(line, column.name, wrong.what, wrong.allowed)
            return math.nan
        if currency is not None:
            self._check_currency(line, column.name, currency)
        return value

    def _parsed(self, dimension, column, cell):
        """Return (value, currency) of a cell by the grammar of all sheets."""
        is_bare = re.fullmatch(r"[\d.,\-–]+", cell)
        quantity = dimension.parse(f"{cell} {column.unit}".strip() if is_bare else cell)
        if quantity.is_unknown or quantity.is_explicit:
            allowed = f"{dimension.allowed}; one figure, or an empty cell"
            raise Wrong(f"{shown(cell)} is not one figure", allowed)
        return quantity.likely, quantity.currency

    def _check_currency(self, line, key, currency):
        self.currency = self.currency or currency
        if currency != self.currency:
            what = f"is in {currency}, what stands above in {self.currency}"
            self.fault(line, key, what, "one currency in a log")

    def _count(self, line, key, cell):
        """Return a whole number, None where the cell is empty."""
        if not cell:
            return None
        most = COUNTS[key]
        number = re.fullmatch(r"(\d{1,4})(?:\.0*)?", cell)
        if not number or not 1 <= int(number[1]) <= most:
            what = f"{shown(cell)} is no number of {key}"
            self.fault(line, key, what, f"a whole number from 1 to {most}")
            return None
        return int(number[1])

    def _name(self, line, key, cell):
        if guarded(cell) != cell:
            allowed = f"a name; write {shown(guarded(cell))} if it is meant"
            self.fault(line, key, f"{shown(cell)} would be run as a formula", allowed)
        if len(cell) > LONGEST_NAME:
            what = f"{shown(cell)} is too long"
            self.fault(line, key, what, f"{LONGEST_NAME} characters")
        if key in REQUIRED and not cell:
            self.fault(line, key, "is empty", "the name of a kind of job")
        return unguarded(cell)

    def _day(self, line, cell):
        found = DAY.fullmatch(cell)
        try:
            return datetime.date.fromisoformat(found[1])
        except (TypeError, ValueError):
            what = f"{shown(cell)} is no day" if cell else "is empty"
            self.fault(line, "day", what, "a day, such as 2026-09-14")
            return None
