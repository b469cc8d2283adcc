"""A case in a folder: the brief, machines/, leads, artwork, and its last ten versions.

The command line takes such a folder wherever it takes a brief. Each file is written
whole or not at all; the version before is put away first, as one .zip.
"""

from pathlib import Path

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
    """Write a version, and delete those beyond the last ten."""
    check_folder(folder / VERSIONS)
    found = versions(folder)
    number = int(found[-1].stem) + 1 if found and found[-1].stem.isdecimal() else 1
    write_bytes(folder / VERSIONS / f"{number:06}.zip", zipped(case))
    for path in found[: max(0, len(found) + 1 - MOST_VERSIONS)]:
        path.unlink(missing_ok=True)


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
