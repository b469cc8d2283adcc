"""Named states of a case: kept beside it, and what differs between two of them."""

import re
from pathlib import Path
from typing import NamedTuple

from scoring.errors import ScoringError, shown
from scoring.inputs.case.edit import data_of
from scoring.inputs.case.folder import SCENARIOS
from scoring.inputs.case.record import Case, file_name
from scoring.inputs.case.zipped import unzipped, zipped
from scoring.inputs.written import check_folder, write_bytes

MOST = 12
NAME = re.compile(r"[^\x00-\x1f\x7f]{1,60}")


class Scenario(NamedTuple):
    """A named state of a case."""

    case: Case
    path: Path | None  # of its file
    moved: dict  # what is supposed besides


def keep_scenario(folder, name, case, moved=None):
    """Keep a Case under a name in a case's folder.

    Parameters
    ----------
    moved : dict ready for JSON, optional
        What is supposed besides; handed back as it is.

    Raises
    ------
    ScoringError
        If the name is none, or it cannot be written.
    """
    check_name(name)
    check_folder(folder / SCENARIOS)
    held = scenarios_in(folder)
    if name not in held and len(held) >= MOST:
        raise ScoringError(f"{len(held)} scenarios; {MOST} or fewer")
    path = held[name].path if name in held else _path(folder, name)
    write_bytes(path, zipped(case, {"name": name, "moved": moved or {}}))


def check_name(name):
    """Raise ScoringError unless a scenario may be called so."""
    if not NAME.fullmatch(name.strip()):
        raise ScoringError(f"{shown(name)} is no name; 1 to 60 letters")


def scenarios_in(folder):
    """Return {name: Scenario}; what cannot be read is left out."""
    found = {}
    for path in sorted((folder / SCENARIOS).glob("*.zip")):
        try:
            case, page = unzipped(path)
        except ScoringError:
            continue
        page = page or {}
        moved = page.get("moved")
        moved = moved if isinstance(moved, dict) else {}
        found[str(page.get("name") or path.stem)] = Scenario(case, path, moved)
    return found


def drop_scenario(folder, name):
    """Delete a scenario."""
    held = scenarios_in(folder).get(name)
    if held is not None:
        held.path.unlink(missing_ok=True)


def _path(folder, name):
    taken = [f"{path.stem}.yaml" for path in (folder / SCENARIOS).glob("*.zip")]
    stem = file_name(name, taken).removesuffix(".yaml")
    return folder / SCENARIOS / f"{stem}.zip"


def changes_between(one, other):
    """Return [(where, path, before, after)] of what two Cases say differently.

    `where` is "brief" or a sheet's file name, `path` the dotted key; None stands for
    what is not there. Kinds of job and other entries with a name are matched by it.
    """
    found = list(_apart("brief", data_of(one.brief), data_of(other.brief)))
    for name in sorted({*one.sheets, *other.sheets}):
        texts = [case.sheets.get(name) for case in (one, other)]
        sides = [{} if text is None else data_of(text) for text in texts]
        if None in texts:
            kinds = ("not there" if text is None else "there" for text in texts)
            found.append((name, "", *kinds))
        else:
            found += _apart(name, *sides)
        if (name in one.retired) != (name in other.retired):
            sides = (
                "retired" if name in c.retired else "takes part" for c in (one, other)
            )
            found.append((name, "", *sides))
    return found


def _apart(where, one, other, path=""):
    """Yield what differs below a place."""
    one, other = _flat(one), _flat(other)
    for key in dict.fromkeys((*one, *other)):
        before, after = one.get(key), other.get(key)
        here = f"{path}{key}"
        if before == after:
            continue
        if isinstance(before, dict | list) and isinstance(after, dict | list):
            if not _is_figure(before) and not _is_figure(after):
                yield from _apart(where, before, after, f"{here}.")
                continue
        yield where, here, _said(before), _said(after)


def _flat(data):
    """Return a mapping of data; a list by the names in it, else by place."""
    if isinstance(data, dict):
        return data
    keys = [each.get("name") if isinstance(each, dict) else None for each in data]
    is_named = None not in keys and len(set(map(str, keys))) == len(keys)
    return dict(zip(keys if is_named else range(len(data)), data, strict=True))


def _is_figure(data):
    return isinstance(data, dict) and "value" in data


def _said(value):
    if _is_figure(value):
        return str(value["value"])
    if isinstance(value, dict | list):
        return "told"
    return None if value is None else str(value)
