"""A case in a folder: the brief, machines/, leads, artwork, and its last ten versions.

The command line takes such a folder wherever it takes a brief. Each file is written
whole or not at all; the version before is put away first, as one .zip.
"""

import hashlib
import shutil
from pathlib import Path
from threading import Lock

from scoring.errors import InputFaults, ScoringError
from scoring.inputs.brief_files import BRIEF
from scoring.inputs.case.zipped import (
    BESIDE,
    MAX_BYTES,
    RETIRED,
    case_of_parts,
    parts_of,
    unzipped,
    zipped,
)
from scoring.inputs.files import read_bytes
from scoring.inputs.machine_folder import MACHINES
from scoring.inputs.written import check_folder, write_bytes

VERSIONS = "versions"
SCENARIOS = "scenarios"
MOST_VERSIONS = 10
_turn = Lock()  # of looking at a folder and writing it


def load_case(folder):
    """Return the Case in a folder; InputFaults with what is wrong with its files."""
    folder = Path(folder)
    parts = {
        path.relative_to(folder).as_posix(): read_bytes(path, MAX_BYTES, "a file")[1]
        for path in _files(folder)
    }
    try:
        return case_of_parts(str(folder), parts)[0]
    except InputFaults:
        raise
    except OSError as error:
        raise ScoringError(f"{folder}: {error.strerror}") from None


def save_case(folder, case, before=None):
    """Write a Case into a folder, and the Case `before` away as a version.

    Files that are equal are left alone; those that the case has no more are deleted.

    Raises
    ------
    ScoringError
        Where it cannot be written.
    """
    folder = Path(folder)
    check_folder(folder / MACHINES)
    if before is not None:
        _put_away(folder, before)
    parts = parts_of(case)
    for name, data in parts.items():
        path = folder / name
        check_folder(path.parent)
        if not path.is_file() or path.read_bytes() != data:
            write_bytes(path, data)
    for path in _files(folder):
        if path.relative_to(folder).as_posix() not in parts:
            path.unlink(missing_ok=True)


def state_of(folder):
    """Return what tells one state of a folder's case from another, "" without one."""
    found = hashlib.sha256()
    try:
        paths = _files(Path(folder))
        if not paths:
            return ""
        for path in paths:
            name = path.relative_to(folder).as_posix()
            for part in (name.encode(), path.read_bytes()):
                found.update(b"%d:" % len(part) + part)
    except OSError:
        return ""
    return found.hexdigest()


def save_unless_changed(folder, case, before, seen):
    """Write a Case as `save_case`, and return the folder's state then.

    None, and nothing is written, where the folder is not in the state that was seen:
    somebody else wrote there.
    """
    with _turn:
        if state_of(folder) != seen:
            return None
        save_case(folder, case, before)
        return state_of(folder)


def put_away(folder, case):
    """Keep a Case among the versions; return the version's path."""
    return _put_away(Path(folder), case)


def delete_case(folder):
    """Delete a folder with its case, its versions and its scenarios.

    Raises
    ------
    ScoringError
        Where it cannot be deleted.
    """
    folder = Path(folder)
    try:
        with _turn:
            shutil.rmtree(folder)
    except OSError as error:
        raise ScoringError(f"{folder}: cannot be deleted: {error.strerror}") from None


def versions(folder):
    """Return the paths of the versions put away, the newest last."""
    return sorted((Path(folder) / VERSIONS).glob("*.zip"))


def undo(folder):
    """Bring the newest version back and return it as a Case; None where there is none.

    Raises
    ------
    ScoringError
        Where it cannot be written.
    """
    found = versions(folder)
    if not found:
        return None
    case, _ = unzipped(found[-1])
    save_case(folder, case)
    found[-1].unlink(missing_ok=True)
    return case


def _put_away(folder, case):
    """Write a version, delete those beyond the last ten; return its path."""
    check_folder(folder / VERSIONS)
    found = versions(folder)
    number = int(found[-1].stem) + 1 if found and found[-1].stem.isdecimal() else 1
    written = folder / VERSIONS / f"{number:06}.zip"
    write_bytes(written, zipped(case))
    for path in found[: max(0, len(found) + 1 - MOST_VERSIONS)]:
        path.unlink(missing_ok=True)
    return written


def _files(folder):
    """Return the files of a case in a folder, links and other things left out."""
    found = [folder / BRIEF]
    for sheets in (MACHINES, RETIRED):
        found += sorted((folder / sheets).glob("*.y*ml"))
    apart = {MACHINES, VERSIONS, SCENARIOS}
    found += sorted(
        path
        for path in folder.rglob("*")
        if path.suffix.lower() in BESIDE
        and path.relative_to(folder).parts[0] not in apart
    )
    return [path for path in found if path.is_file() and not path.is_symlink()]
