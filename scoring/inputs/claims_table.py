"""How sellers' claims compare with timings: the toolkit's own table, a file beside."""

from functools import cache
from pathlib import Path

import yaml

TABLE = Path(__file__).with_name("claims.yaml")


@cache
def claims_table():
    """Return the toolkit's own table of claims, as it stands in the file."""
    return yaml.safe_load(TABLE.read_text(encoding="utf-8"))


@cache
def claimed_ranges():
    """Return {kind: (low, likely, high) changes} of sellers' claims; "" the rest."""
    ranges = claims_table()["range"]
    named = {"" if kind == "other" else kind: ends for kind, ends in ranges.items()}
    return {k: tuple(round(end - 1, 9) for end in ends) for k, ends in named.items()}
