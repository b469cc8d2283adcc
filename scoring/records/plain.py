"""Numbers as JSON has them, and records as JSON-ready mappings."""

import math
from dataclasses import asdict

import numpy as np


def plain(value):
    """Return a number as JSON has it: NaN and infinities are null."""
    if value is None:
        return None
    value = value.item() if isinstance(value, np.generic) else value
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def json_ready(record):
    """Return a record, or a mapping of records, as JSON has it."""
    if isinstance(record, dict):
        return {name: asdict(one) for name, one in record.items()}
    return asdict(record)
