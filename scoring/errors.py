"""Faults a person can mend, in sentences. Anything else that is raised is a bug."""

from dataclasses import dataclass

SHOWN = 60  # characters of a faulty text that are repeated


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

    def __str__(self):
        key = f"{self.key}: " if self.key else ""
        allowed = f"; {self.allowed}" if self.allowed else ""
        return f"{self.file}:{self.line}: {key}{self.what}{allowed}"


class InputFaults(ScoringError):
    """Every fault found in one reading, a line each."""

    def __init__(self, faults):
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


def shown(written):
    """Return a faulty text in quotes, shortened."""
    text = written if isinstance(written, str) else str(written)
    return repr(text if len(text) <= SHOWN else text[: SHOWN - 1] + "…")
