"""The tests of a visit: what each settles, takes and tells; a file beside this."""

from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

TABLE = Path(__file__).with_name("visit_tests.yaml")


class Estimate(NamedTuple):
    """What a test takes and how well it tells; common practice, no source."""

    minutes: float
    cost: float  # in the brief's currency
    repeats: int
    spread: float  # of one try, as a share of the figure's own doubt


class Trial(NamedTuple):
    """One test of a visit."""

    title: str
    settles: tuple[str, ...]  # keys, or their first parts; () for a yes or a no
    cautions: tuple[str, ...]  # names of words/cautions
    estimate: Estimate | None  # None: takes days, or settles no figure

    def is_settled(self, path):
        """Return whether it settles the figure under a key."""
        return any(path == key or path.startswith(f"{key}.") for key in self.settles)


@cache
def trials():
    """Return the Trials in the order of the file."""
    rows = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
    return tuple(
        Trial(
            row["title"],
            tuple(row.get("settles", ())),
            tuple(row.get("cautions", ())),
            Estimate(**row["estimate"]) if "estimate" in row else None,
        )
        for row in rows
    )


def trial_of(title):
    """Return the Trial of a title."""
    return next(trial for trial in trials() if trial.title == title)
