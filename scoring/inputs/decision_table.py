"""A decision matrix in a CSV file → names, directions, weights and figures."""

import math
from dataclasses import dataclass

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.csv_file import MAX_BYTES, check_seen, csv_rows
from scoring.inputs.files import named, read_bytes

MAX_ROWS = 1_000
DIRECTIONS = {"max": True, "min": False}


@dataclass(frozen=True)
class DecisionTable:
    """Alternatives against criteria; `matrix` has a row an alternative."""

    alternatives: tuple[str, ...]
    criteria: tuple[str, ...]
    is_benefit: tuple[bool, ...]
    weights: tuple[float, ...]
    matrix: tuple[tuple[float, ...], ...]


def load_table(path):
    """Return the DecisionTable of a CSV file.

    First column the alternatives, then a column a criterion; the second row is
    `direction` (max or min), the third `weight`.

    Raises
    ------
    InputFaults
        With every fault of the file.
    """
    rows = _rows(path)
    faults = []
    if len(rows) < 4:
        raise InputFaults([_fault(path, 1, "", "has no alternatives", SHAPE)])
    (first, (_, *header)), directions, weighed, *alternatives = rows
    _check_names(path, [(first, name) for name in header], "criterion", faults)
    _check_shape(path, rows, faults)
    if faults:
        raise InputFaults(faults)
    is_benefit = _directions(path, header, directions, faults)
    weights = _numbers(path, header, weighed, faults)
    _check_weights(path, header, weights, faults)
    names = [(line, row[0]) for line, row in alternatives]
    _check_names(path, names, "alternative", faults)
    matrix = [_numbers(path, header, row, faults) for row in alternatives]
    if faults:
        raise InputFaults(faults)
    return DecisionTable(
        tuple(name for _, name in names),
        tuple(header),
        tuple(is_benefit),
        tuple(weights),
        tuple(map(tuple, matrix)),
    )


SHAPE = (
    "row 1 the criteria, row 2 `direction` (max or min), row 3 `weight`, "
    "then a row an alternative"
)


def _fault(path, line, key, what, allowed):
    return InputFault(named(path), line, key, what, allowed)


def _rows(path):
    """Return [(line, cells)] with anything in them, or raise what is wrong."""
    name, data = read_bytes(path, MAX_BYTES, "a CSV file")
    rows = csv_rows(name, data, MAX_ROWS)
    check_seen(name, rows)
    return rows


def _check_names(path, named, kind, faults):
    seen = set()
    for k, (line, name) in enumerate(named, 1):
        if not name:
            faults.append(_fault(path, line, "", f"{kind} {k} has no name", ""))
        elif name in seen:
            faults.append(_fault(path, line, name, f"{kind} named twice", ""))
        seen.add(name)


def _check_shape(path, rows, faults):
    for (line, row), key in zip(rows[1:3], ("direction", "weight"), strict=True):
        if row[0] != key:
            faults.append(_fault(path, line, row[0], f"not {key!r}", SHAPE))
    width = len(rows[0][1])
    for line, row in rows:
        if len(row) != width:
            what = f"{len(row)} cells where the first row has {width}"
            faults.append(_fault(path, line, row[0], what, "as many as the first row"))


def _directions(path, header, numbered, faults):
    line, (_, *cells) = numbered
    for key, cell in zip(header, cells, strict=True):
        if cell not in DIRECTIONS:
            what = f"direction {shown(cell)}"
            faults.append(_fault(path, line, key, what, "max or min"))
    return [DIRECTIONS.get(cell, True) for cell in cells]


def _numbers(path, header, numbered, faults):
    line, (_, *cells) = numbered
    numbers = []
    for key, cell in zip(header, cells, strict=True):
        try:
            number = float(cell)
        except ValueError:
            number = math.nan
        if not math.isfinite(number) or "_" in cell:
            what = f"{shown(cell)} is not a number"
            faults.append(_fault(path, line, key, what, "digits with a point"))
        numbers.append(number)
    return numbers


def _check_weights(path, header, weights, faults):
    for key, weight in zip(header, weights, strict=True):
        if weight < 0:
            faults.append(_fault(path, 3, key, f"weight {weight:g}", "0 or more"))
    if not sum(weight for weight in weights if weight > 0):
        faults.append(_fault(path, 3, "weight", "the weights sum to 0", "one above 0"))
