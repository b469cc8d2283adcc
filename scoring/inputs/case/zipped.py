"""A case as one .zip, to be kept or mailed, and a .zip of anybody → a case, checked.

A zip archive can hold paths out of its folder, links, far more than it seems, or what
belongs to another program. So everything is looked at before it is unpacked, nothing
is laid out on the disk, and each part is read as the file that it says it is.
"""

import io
import json
import posixpath
import stat
import zipfile
import zlib
from dataclasses import replace

from scoring.errors import InputFault, InputFaults, is_hidden, shown
from scoring.inputs.brief_files import BRIEF
from scoring.inputs.case.record import SHEET, Case, checked
from scoring.inputs.files import read_bytes, too_large
from scoring.inputs.machine_folder import MACHINES

MAX_BYTES = 16_000_000
MAX_UNPACKED = 32_000_000
MAX_RATIO = 200  # unpacked to packed
MAX_PARTS = 200
SLACK = 1_000_000  # bytes that any part may unpack to, whatever its ratio
PAGE = "page.json"
RETIRED = f"{MACHINES}/retired"  # the folder of sheets that take no part
BESIDE = (".csv", ".xlsx", ".png", ".jpg", ".jpeg", ".svg")
LEFT_BEHIND = ("__MACOSX/", ".DS_Store", "Thumbs.db", "desktop.ini")
KIND = "a .zip that “Save my case” wrote"
DAY = (1980, 1, 1, 0, 0, 0)  # the first a zip can hold: equal cases, equal bytes


def zipped(case, page=None):
    """Return a Case as the bytes of a .zip.

    Parameters
    ----------
    page : dict ready for JSON, optional
        Where sliders stand; kept and handed back as it is.
    """
    parts = parts_of(case)
    if page is not None:
        parts[PAGE] = json.dumps(page, ensure_ascii=False, sort_keys=True).encode()
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(parts):
            info = zipfile.ZipInfo(name, DAY)
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, parts[name])
    return packed.getvalue()


def parts_of(case):
    """Return {path: bytes} of a Case, the brief last: it names the others."""
    parts = {}
    for name, text in case.sheets.items():
        folder = RETIRED if name in case.retired else MACHINES
        parts[f"{folder}/{name}"] = text.encode("utf-8")
    return parts | case.files | {BRIEF: case.brief.encode("utf-8")}


def unzipped(source):
    """Return (Case, page) of a .zip: a path or (name, bytes).

    Raises
    ------
    InputFaults
        If it is none, is no case, or what it holds has faults.
    """
    name, data = read_bytes(source, MAX_BYTES, KIND)
    parts = parts_of_zip(name, data)
    try:
        return case_of_parts(name, parts)
    except InputFaults as found:
        faults = [
            replace(fault, file=f"{name}: {fault.file}") for fault in found.faults
        ]
        raise InputFaults(faults) from None


def case_of_parts(name, parts):
    """Return (Case, page) of {path: bytes}, checked; InputFaults if it has faults."""
    if BRIEF not in parts:
        raise InputFaults([InputFault(name, 1, "", f"holds no {BRIEF}", KIND)])
    sheets, files, retired = {}, {}, set()
    for path, data in parts.items():
        folder, _, leaf = path.rpartition("/")
        if folder in (MACHINES, RETIRED) and SHEET.fullmatch(leaf):
            sheets[leaf] = _text(path, data)
            retired |= {leaf} if folder == RETIRED else set()
        elif path.lower().endswith(BESIDE):
            files[path] = data
        elif path not in (BRIEF, PAGE):
            what = f"holds {shown(path)}, which belongs to no case"
            raise InputFaults([InputFault(name, 1, "", what, KIND)])
    brief = _text(BRIEF, parts[BRIEF])
    case = Case(brief, sheets, files, frozenset(retired))
    return checked(case), _page(parts.get(PAGE))


def parts_of_zip(name, data):
    """Return {path: bytes} of an archive, each path and size looked at first."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = [e for e in archive.infolist() if not _is_left_behind(e.filename)]
            _check(name, entries)
            return _in_one_folder(
                {e.filename: _bytes(name, archive, e) for e in entries}
            )
    except InputFaults:
        raise
    except (
        *(zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, EOFError),
        *(NotImplementedError, RuntimeError, ValueError, OSError, UnicodeError),
    ):
        raise _fault(name, "cannot be read as a .zip") from None


def _is_left_behind(path):
    """Return whether a file is what computers leave in archives, or a folder."""
    is_noise = path.startswith(LEFT_BEHIND[0]) or path.endswith(LEFT_BEHIND[1:])
    return path.endswith("/") or is_noise


def _check(name, entries):
    names = [entry.filename for entry in entries]
    if len(entries) > MAX_PARTS:
        raise _fault(name, f"holds {len(entries)} files", f"{MAX_PARTS} or fewer")
    if len({path.casefold() for path in names}) < len(names):
        raise _fault(name, "holds two files of one name", "each name once")
    for entry in entries:
        if not is_plain(entry.filename):
            what = f"holds {shown(entry.filename)}, a path out of its folder"
            raise _fault(name, what)
        if stat.S_ISLNK(entry.external_attr >> 16):
            raise _fault(name, f"holds {shown(entry.filename)}, a link")
        if entry.flag_bits & 0x1:
            raise _fault(name, "is locked with a password", "one without")
        if entry.file_size > MAX_RATIO * entry.compress_size + SLACK:
            raise _fault(name, "unpacks to far more than it is")
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > MAX_UNPACKED:
        raise InputFaults([too_large(name, unpacked, MAX_UNPACKED)])


def is_plain(path):
    """Return whether a path stays in its folder on every computer."""
    is_whole = path == posixpath.normpath(path) and not path.startswith(("/", ".."))
    odd = any(c in '\\:*?"<>|' or is_hidden(c) for c in path)
    return bool(path) and is_whole and not odd and len(path) <= 200


def _bytes(name, archive, entry):
    """Return one part; what is larger than it is said to be is a fault."""
    with archive.open(entry) as file:
        data = file.read(entry.file_size + 1)
    if len(data) > entry.file_size:
        raise _fault(name, "unpacks to far more than it is")
    return data


def _in_one_folder(parts):
    """Return the parts without the one folder that all of them lie in."""
    tops = {path.partition("/")[0] for path in parts}
    if BRIEF in parts or len(tops) != 1:
        return parts
    return {path.partition("/")[2]: data for path, data in parts.items()}


def _text(name, data):
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        fault = InputFault(name, 1, "", "is not UTF-8", "text saved as UTF-8")
        raise InputFaults([fault]) from None


def _page(data):
    """Return what was said of sliders, None where it cannot be read."""
    try:
        held = json.loads(data)
    except (TypeError, ValueError, RecursionError):
        return None
    return held if isinstance(held, dict) else None


def _fault(name, what, allowed=KIND):
    return InputFaults([InputFault(str(name), 1, "", what, allowed)])
