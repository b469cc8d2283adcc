"""Numbers as JSON has them."""

import math

import numpy as np


def plain(value):
    """Return a number as JSON has it: NaN and infinities are null."""
    if value is None:
        return None
    value = value.item() if isinstance(value, np.generic) else value
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
