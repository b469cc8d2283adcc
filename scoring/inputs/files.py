"""Ordinary files of a bounded size; what else has a path is refused, not read."""

import os
import stat
from pathlib import Path

from scoring.errors import InputFault, InputFaults, shown

SHOWN = 300  # characters of a path that a sentence repeats
SUFFIXES = (".yaml", ".yml")
# A pipe nobody writes to would keep its reader waiting; Windows tells text from bytes.
OPEN = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def read_bytes(source, most, kind):
    """Return (name, bytes) of a file of at most so many bytes.

    Parameters
    ----------
    source : path, or (name, bytes) of a file that is already read
    kind : what the file should be, such as "a YAML file"

    Raises
    ------
    InputFaults
        If it is not there, is no ordinary file, cannot be read, or is too large; that
        is not read at all.
    """
    if isinstance(source, tuple):
        name, data = str(source[0]), source[1]
        if len(data) > most:
            raise InputFaults([too_large(name, len(data), most)])
        return name, data
    name = named(source)
    try:
        _check_ordinary(os.stat(source), name, most, kind)
        handle = os.open(source, OPEN)
        with open(handle, "rb") as file:
            _check_ordinary(os.fstat(handle), name, most, kind)
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise _fault(name, why_not(error), kind) from None
    if len(data) > most:  # it grew meanwhile, or its size is told as 0
        raise InputFaults([too_large(name, len(data), most)])
    return name, data


def named(path):
    """Return a path as a sentence names it, shortened where it is endless."""
    text = str(path)
    return text if len(text) <= SHOWN else f"{text[: SHOWN - 1]}…"


def why_not(error):
    """Return in words why a path cannot be read."""
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return "there is no such file"
    if isinstance(error, IsADirectoryError):
        return "is a folder, not a file"
    reason = getattr(error, "strerror", None) or "the path is none"
    return f"cannot be read: {reason}"


def too_large(name, size, most):
    """Return the fault of a file that is larger than it may be."""
    allowed = f"{most / 1e6:g} MB or less"
    return InputFault(name, 1, "", f"is {size / 1e6:.1f} MB large", allowed)


def _fault(name, what, allowed):
    return InputFaults([InputFault(name, 1, "", what, allowed)])


def _check_ordinary(status, name, most, kind):
    """Raise InputFaults for a folder, a device, a pipe, and for a file too large."""
    if stat.S_ISDIR(status.st_mode):
        raise IsADirectoryError
    if not stat.S_ISREG(status.st_mode):
        raise _fault(name, "is a device or a pipe, not an ordinary file", kind)
    if status.st_size > most:
        raise InputFaults([too_large(name, status.st_size, most)])


def beside(folder, name):
    """Return the path of a file that a sheet names, which lies in the sheet's folder.

    Links are followed first, so that none leads out of the folder.

    Raises
    ------
    ValueError, OSError, RuntimeError
        If it lies elsewhere, is no path at all, or is a ring of links.
    """
    real = Path(folder).resolve()
    if real not in (real / name).resolve().parents:
        raise ValueError(shown(name))
    return Path(folder) / name


def sheets_below(folder, *, is_deep=False):
    """Return the YAML files in a folder in order, those of the folders in it too.

    What begins with a point is left out: editors and computers leave such names behind
    for themselves.
    """
    folder = Path(folder)
    found = folder.rglob("*") if is_deep else folder.iterdir()
    return sorted(
        path
        for path in found
        if path.suffix.lower() in SUFFIXES
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
        and not os.path.isdir(path)
    )


def stamp(path):
    """Return what changes when a file does: its path, time and size."""
    try:
        status = os.stat(path)
    except OSError:  # it has just gone, or is a link to nowhere
        return str(path), 0, 0
    return str(path), status.st_mtime_ns, status.st_size
