"""Faults a person can mend, in sentences. Anything else that is raised is a bug."""

import unicodedata
from dataclasses import dataclass

SHOWN = 60  # characters of a faulty text that are repeated
SAID = 300  # characters of any other part of a sentence
FAULTS = 50  # faults of one file that are told one by one
# Marks that turn the direction of the text after them: a number would read as another.
TURNING = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)
UNSEEN = ("Cc", "Cs", "Zl", "Zp")  # control, half a character, line, paragraph


class ScoringError(Exception):
    """A fault in what was written or asked; its text is shown as it stands."""


@dataclass(frozen=True)
class InputFault:
    """One thing wrong in one place of a file.

    Examples
    --------
    >>> str(InputFault("a.yaml", 3, "price", "-5 EUR is below 0", "0 EUR or more"))
    'a.yaml:3: price: -5 EUR is below 0; 0 EUR or more'
    """

    file: str
    line: int
    key: str
    what: str
    allowed: str
    n_more: int = 0  # faults of the file that this one stands for

    def __str__(self):
        key = f"{visible(self.key, SHOWN)}: " if self.key else ""
        allowed = f"; {visible(self.allowed)}" if self.allowed else ""
        return f"{visible(self.file)}:{self.line}: {key}{visible(self.what)}{allowed}"


class InputFaults(ScoringError):
    """Every fault found in one reading, a line each; of many in a file the first."""

    def __init__(self, faults):
        by_file = {}
        for fault in faults:
            by_file.setdefault(fault.file, []).append(fault)
        self.faults = tuple(f for found in by_file.values() for f in _first(found))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def more_faults(file, line, n_more):
    """Return the fault that stands for so many others of its file."""
    return InputFault(file, line, "", f"and {n_more} more", "", n_more)


def _first(faults):
    """Return the first faults of one file, and how many others there are."""
    singles = [fault for fault in faults if not fault.n_more]
    n_more = sum(fault.n_more for fault in faults) + len(singles[FAULTS:])
    told, last = singles[:FAULTS], faults[-1]
    return told + ([more_faults(last.file, last.line, n_more)] if n_more else [])


def is_hidden(character):
    """Return whether a character cannot be seen, or turns the text after it.

    Examples
    --------
    >>> [is_hidden(c) for c in ("a", "é", chr(27), chr(0x202E), chr(0x202F))]
    [False, False, True, True, False]
    """
    return character in TURNING or unicodedata.category(character) in UNSEEN


def visible(text, most=SAID):
    """Return a text of at most so many characters, with what is hidden written out.

    Examples
    --------
    >>> visible("a" + chr(27) + "[31m")
    'a\\\\x1b[31m'
    """
    cut = text if len(text) <= most else text[: most - 1] + "…"
    return "".join(repr(c)[1:-1] if is_hidden(c) else c for c in cut)


def shown(written):
    """Return a faulty text in quotes, shortened."""
    text = written if isinstance(written, str) else str(written)
    return repr(text if len(text) <= SHOWN else text[: SHOWN - 1] + "…")
