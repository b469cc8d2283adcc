"""A folder of many buyers: what was asked, and a Parquet file for each unit done.

Files appear whole or not at all, so a run that was ended goes on with what lacks.
"""

import io
import json
from fnmatch import fnmatch
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Literal

import numpy as np
from pydantic import BaseModel, Field

from scoring.errors import ScoringError
from scoring.inputs.written import check_folder, write, write_bytes
from scoring.population.unit import FIELDS

ASKED = "population.json"
FORM = 1  # of these files; rises where a column changes its meaning
PART = "buyers-*.parquet"
MOST_BYTES = 200_000_000  # of files that were sent
MOST = 1e15  # of any figure


class AskedMachine(BaseModel):
    """A machine, as a run was told of it."""

    name: str
    price: float | None
    currency: str | None


class AskedDifference(BaseModel):
    """A difference, as a run was told of it."""

    name: str
    unit: str = ""
    choices: list[str] = []


class AskedForm(BaseModel):
    """What stands in the folder about a run."""

    form: Literal[FORM]
    title: str
    currency: str
    buyers: Annotated[int, Field(ge=1, le=1_000_000)]
    draws: int
    seed: int
    files: str
    machines: Annotated[list[AskedMachine], Field(min_length=1, max_length=50)]
    differ: Annotated[list[AskedDifference], Field(min_length=2, max_length=12)]


def asked_of(task, crowd, machines, n_buyers):
    """Return what stands in the folder about the run: all that decides its figures."""
    digest = sha256(repr((task.template[1], [s[1] for s in task.sheets])).encode())
    return {
        "form": FORM,
        "title": crowd.title,
        "currency": crowd.currency,
        "buyers": n_buyers,
        "draws": task.n_draws,
        "seed": task.seed,
        "files": digest.hexdigest(),
        "machines": [_machine(machine) for machine in machines],
        "differ": [_differing(each) for each in crowd.differ],
    }


def _machine(machine):
    price = machine.price
    return {
        "name": machine.name,
        "price": None if price.is_unknown else price.likely,
        "currency": price.currency,
    }


def _differing(each):
    if each.is_choice:
        return {"name": each.name, "choices": list(each.called)}
    unit = "times" if each.is_factor else each.range.unit
    return {"name": each.name, "unit": unit}


def begun(folder, asked):
    """Make the folder, or take up one of the same run; ScoringError for another's."""
    check_folder(folder)
    for left in Path(folder).glob(".buyers-*"):  # of a run that was ended
        left.unlink(missing_ok=True)
    path, text = Path(folder) / ASKED, json.dumps(asked, ensure_ascii=False, indent=1)
    if not path.exists():
        if any(Path(folder).iterdir()):
            raise ScoringError(f"{folder}: holds other things; a new or empty folder")
        write(path, text + "\n")
        return
    there = _asked_in(folder)
    differs = [key for key in asked if there.get(key) != asked[key]]
    if differs:
        said = f"was begun with another {differs[0]}"
        if differs[0] in ("buyers", "draws", "seed"):
            said += f" ({there.get(differs[0])})"
        raise ScoringError(f"{folder}: {said}; a new folder, or all as it was")


def _asked_in(folder):
    path = Path(folder) / ASKED
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise ScoringError(
            f"{folder}: no {ASKED} in it; the folder that `population` has written"
        ) from None
    except OSError:
        raise ScoringError(f"{path}: cannot be read; work it out again") from None
    return _read(data, path)


def _read(data, name):
    """Return what was asked; ScoringError if it is not of this form."""
    try:
        found = AskedForm.model_validate_json(data)
    except ValueError:
        raise ScoringError(f"{name}: cannot be read; work it out again") from None
    return found.model_dump(exclude_unset=True)


def part_path(folder, unit):
    return Path(folder) / f"buyers-{unit.place:06}.parquet"


def missing(folder, units):
    """Return the Units whose file is not there."""
    return [unit for unit in units if not part_path(folder, unit).exists()]


def keep_part(folder, unit, columns):
    """Write the file of a Unit; the same columns give the same bytes."""
    import pyarrow as pa
    from pyarrow import parquet

    file = io.BytesIO()
    table = pa.table({name: pa.array(column) for name, column in columns.items()})
    parquet.write_table(table, file, compression="zstd", use_dictionary=False)
    write_bytes(part_path(folder, unit), file.getvalue())


def columns_in(folder):
    """Return (what was asked, {column: (buyer,)} of all buyers that are done)."""
    asked, paths = _asked_in(folder), sorted(Path(folder).glob(PART))
    if not paths:
        raise ScoringError(f"{folder}: no buyer is done yet; run `population` again")
    return asked, _columns(folder, [str(path) for path in paths], asked)


def columns_of(files):
    """Return what `columns_in` does of {name: bytes}, files of such a folder."""
    names = sorted(name for name in files if fnmatch(name, PART))
    if ASKED not in files or not names:
        raise ScoringError(f"the files are not all there; {ASKED} and {PART}")
    if sum(map(len, files.values())) > MOST_BYTES:
        raise ScoringError(f"the files are too large; {MOST_BYTES / 1e6:g} MB in all")
    asked = _read(files[ASKED], ASKED)
    return asked, _columns(PART, [io.BytesIO(files[name]) for name in names], asked)


def _columns(where, parts, asked):
    """Return the columns of all parts; ScoringError if they are not what was asked."""
    from pyarrow import ArrowException, parquet

    wrong = ScoringError(f"{where}: a file in it cannot be read")
    try:
        read = [parquet.ParquetFile(part) for part in parts]
        if sum(file.metadata.num_rows for file in read) > asked["buyers"]:
            raise wrong
        tables = [file.read() for file in read]
        found = {
            name: np.concatenate([table[name].to_numpy() for table in tables])
            for name in tables[0].column_names
        }
    except (ArrowException, KeyError, TypeError, OSError, ValueError):
        raise wrong from None
    wanted = _wanted(asked)
    if not set(wanted) <= set(found):
        raise wrong
    if not all(is_sound(found[name]) for name, is_sound in wanted.items()):
        raise ScoringError(f"{where}: figures in it that no run writes")
    return found


def _wanted(asked):
    """Return {column of a run: function that tells whether its figures can be}."""
    names = [machine["name"] for machine in asked["machines"]]
    wanted = {f"{field}: {name}": _is_told for field in FIELDS for name in names}
    wanted |= {f"best_up_to: {name}": _is_money for name in names}
    wanted |= {f"is_out: {name}": partial(_is_choice, 2) for name in names}
    for each in asked["differ"]:
        n = len(each.get("choices", ()))
        name = f"differs: {each['name']}"
        wanted[name] = partial(_is_choice, n) if n else _is_told
    return wanted | {"money_a_point": _is_money}


def _is_told(column):
    return column.dtype.kind in "biuf" and bool((abs(column) <= MOST).all())


def _is_choice(n, column):
    return _is_told(column) and bool(np.isin(column, np.arange(n)).all())


def _is_money(column):
    """Return whether a column holds figures of 0 or more, NaN where nothing is told."""
    is_wrong = column.dtype.kind != "f" or ((column < 0) | (column > MOST)).any()
    return not is_wrong
