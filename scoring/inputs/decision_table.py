"""A decision matrix in a CSV file → names, directions, weights and figures."""

import csv
import math
from dataclasses import dataclass
from pathlib import Path

from scoring.errors import InputFault, InputFaults, shown

MAX_BYTES = 1_000_000
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
    rows = _rows(Path(path))
    faults = []
    if len(rows) < 4:
        raise InputFaults([_fault(path, 1, "", "has no alternatives", SHAPE)])
    header = [cell.strip() for cell in rows[0][1:]]
    _check_names(path, 1, header, "criterion", faults)
    _check_shape(path, rows, faults)
    if faults:
        raise InputFaults(faults)
    is_benefit = _directions(path, header, rows[1], faults)
    weights = _numbers(path, 3, header, rows[2], faults)
    _check_weights(path, header, weights, faults)
    names = [row[0].strip() for row in rows[3:]]
    _check_names(path, 4, names, "alternative", faults)
    matrix = [
        _numbers(path, line, header, row, faults)
        for line, row in enumerate(rows[3:], 4)
    ]
    if faults:
        raise InputFaults(faults)
    return DecisionTable(
        tuple(names),
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
    return InputFault(str(path), line, key, what, allowed)


def _rows(path):
    """Return the rows with anything in them, or raise what is wrong with the file."""
    try:
        if path.stat().st_size > MAX_BYTES:
            raise InputFaults([_fault(path, 1, "", "is too large", "1 MB or less")])
        text = path.read_text(encoding="utf-8-sig")
        return [row for row in csv.reader(text.splitlines(), strict=True) if any(row)]
    except FileNotFoundError:
        raise InputFaults([_fault(path, 1, "", "there is no such file", "")]) from None
    except OSError as error:
        raise InputFaults(
            [_fault(path, 1, "", f"cannot be read: {error}", "")]
        ) from None
    except UnicodeDecodeError:
        raise InputFaults([_fault(path, 1, "", "is not UTF-8 text", "UTF-8")]) from None
    except csv.Error as error:
        raise InputFaults(
            [_fault(path, 1, "", f"is not CSV: {error}", "CSV")]
        ) from None


def _check_names(path, line, names, kind, faults):
    for k, name in enumerate(names):
        where = line + (k if kind == "alternative" else 0)
        if not name:
            faults.append(_fault(path, where, "", f"{kind} {k + 1} has no name", ""))
        elif name in names[:k]:
            faults.append(_fault(path, where, name, f"{kind} named twice", ""))


def _check_shape(path, rows, faults):
    for line, key in ((2, "direction"), (3, "weight")):
        found = rows[line - 1][0].strip()
        if found != key:
            faults.append(_fault(path, line, found, f"not {key!r}", SHAPE))
    for line, row in enumerate(rows, 1):
        if len(row) != len(rows[0]):
            what = f"{len(row)} cells where the first row has {len(rows[0])}"
            faults.append(_fault(path, line, row[0], what, "as many as the first row"))


def _directions(path, header, row, faults):
    cells = [cell.strip() for cell in row[1:]]
    for key, cell in zip(header, cells, strict=True):
        if cell not in DIRECTIONS:
            faults.append(
                _fault(path, 2, key, f"direction {shown(cell)}", "max or min")
            )
    return [DIRECTIONS.get(cell, True) for cell in cells]


def _numbers(path, line, header, row, faults):
    numbers = []
    for key, cell in zip(header, row[1:], strict=True):
        try:
            number = float(cell.strip())
        except ValueError:
            number = math.nan
        if not math.isfinite(number) or "_" in cell:
            what = f"{shown(cell.strip())} is not a number"
            faults.append(_fault(path, line, key, what, "digits with a point"))
        numbers.append(number)
    return numbers


def _check_weights(path, header, weights, faults):
    for key, weight in zip(header, weights, strict=True):
        if weight < 0:
            faults.append(_fault(path, 3, key, f"weight {weight:g}", "0 or more"))
    if not sum(weight for weight in weights if weight > 0):
        faults.append(_fault(path, 3, "weight", "the weights sum to 0", "one above 0"))
