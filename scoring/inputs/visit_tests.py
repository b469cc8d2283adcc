"""What the tests of a visit take, and how well they tell: a file beside this."""

from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

TABLE = Path(__file__).with_name("visit_tests.yaml")


class Trial(NamedTuple):
    """One test of a visit; own estimates from common practice, no source."""

    title: str
    minutes: float
    cost: float  # in the brief's currency
    repeats: int
    spread: float  # of one try, as a share of the figure's own doubt


@cache
def trials():
    """Return the Trials in the order of the file."""
    rows = yaml.safe_load(TABLE.read_text(encoding="utf-8"))
    return tuple(Trial(**row) for row in rows)
