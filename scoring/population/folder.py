"""A folder of many buyers: what was asked, and a Parquet file for each unit done.

Files appear whole or not at all, so a run that was ended goes on with what lacks.
"""

import json
from hashlib import sha256
from pathlib import Path

import numpy as np

from scoring.errors import ScoringError
from scoring.inputs.written import check_folder, write, write_bytes

ASKED = "population.json"
FORM = 1  # of these files; rises where a column changes its meaning
PART = "buyers-*.parquet"


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
        found = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        raise ScoringError(
            f"{folder}: no {ASKED} in it; the folder that `population` has written"
        ) from None
    except (OSError, ValueError):
        raise ScoringError(f"{path}: cannot be read; work it out again") from None
    if not isinstance(found, dict) or found.get("form") != FORM:
        raise ScoringError(f"{path}: is of another version; work it out again")
    return found


def part_path(folder, unit):
    return Path(folder) / f"buyers-{unit.place:06}.parquet"


def missing(folder, units):
    """Return the Units whose file is not there."""
    return [unit for unit in units if not part_path(folder, unit).exists()]


def keep_part(folder, unit, columns):
    """Write the file of a Unit; the same columns give the same bytes."""
    import io

    import pyarrow as pa
    from pyarrow import parquet

    file = io.BytesIO()
    table = pa.table({name: pa.array(column) for name, column in columns.items()})
    parquet.write_table(table, file, compression="zstd", use_dictionary=False)
    write_bytes(part_path(folder, unit), file.getvalue())


def columns_in(folder):
    """Return (what was asked, {column: (buyer,)} of all buyers that are done)."""
    from pyarrow import ArrowException, parquet

    asked, paths = _asked_in(folder), sorted(Path(folder).glob(PART))
    if not paths:
        raise ScoringError(f"{folder}: no buyer is done yet; run `population` again")
    try:
        tables = [parquet.read_table(path) for path in paths]
        names = tables[0].column_names
        return asked, {
            name: np.concatenate([table[name].to_numpy() for table in tables])
            for name in names
        }
    except (ArrowException, KeyError, OSError):
        raise ScoringError(f"{folder}: a file in it cannot be read") from None
