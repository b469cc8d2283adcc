"""One planted fault: where it goes, and where it is looked for first."""

from pathlib import Path
from typing import NamedTuple

from tests.planted.reached import function_at

ROOT = Path(__file__).parents[2]


class Fault(NamedTuple):
    """A wrong text in place of the right one.

    `first` says whose tests are tried first: beginnings of paths below tests/, apart by
    spaces. Without it, those of the file's own name and folder.
    """

    words: str
    file: str  # below scoring/
    right: str
    wrong: str
    first: str = ""


def matches(fault, root=ROOT):
    """Return whether a fault's right text stands once in its file."""
    file = root / "scoring" / fault.file
    return file.exists() and file.read_text(encoding="utf-8").count(fault.right) == 1


def function_of(fault, root=ROOT):
    """Return "file:function" of where a fault stands; None outside of functions."""
    if not fault.file.endswith(".py"):
        return None
    text = (root / "scoring" / fault.file).read_text(encoding="utf-8")
    begin = text.index(fault.right)
    begin += len(fault.right) - len(fault.right.lstrip())
    end = begin + len(fault.right.strip())
    lines = (text.count("\n", 0, at) + 1 for at in (begin, end))
    name = function_at(text, *lines)
    return name and f"{fault.file}:{name}"


def nearness(fault, test):
    """Return how near a test's path lies to a fault: 0 where it is looked for first."""
    path = Path(fault.file)
    if any(test.startswith(begin) for begin in fault.first.split()):
        return 0
    if test.startswith(f"{path.parent}/test_{path.stem}"):
        return 1
    if test.startswith(f"{path.parent}/"):
        return 2
    return 3 if test.startswith(f"{path.parts[0]}/") else 4
