"""Files that the project writes: whole or not at all, never over an input."""

import os
import tempfile
from pathlib import Path

from scoring.errors import ScoringError


def check_writable(path, inputs=()):
    """Raise ScoringError unless a file can be written there.

    Parameters
    ----------
    path : where to write
    inputs : files that were read, which are never written over
    """
    target = Path(path)
    if str(path) == "-":
        raise ScoringError("--out -: a file's name, such as visit.html")
    for read in inputs:
        if target.exists() and Path(read).exists() and target.samefile(read):
            raise ScoringError(f"{path}: is what was read; another name")
    if target.is_dir():
        raise ScoringError(f"{path}: is a folder; a file's name")
    if not os.access(target.parent, os.W_OK):
        raise ScoringError(f"{path}: cannot be written there; another folder")


def check_folder(path):
    """Make a folder where there is none; ScoringError if that cannot be."""
    try:
        Path(path).mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise ScoringError(f"{path}: is no folder: {error.strerror}") from None


def write(path, text):
    """Write a text so that, whatever happens, the old file or the new one is whole.

    Raises
    ------
    ScoringError
        Where it cannot be written.
    """
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path, data):
    """Write bytes as `write` does a text."""
    target = Path(path)
    try:
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except OSError as error:
        raise ScoringError(f"{path}: cannot be written: {error.strerror}") from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        os.replace(name, target)
    except OSError as error:
        Path(name).unlink(missing_ok=True)
        raise ScoringError(f"{path}: cannot be written: {error.strerror}") from None
