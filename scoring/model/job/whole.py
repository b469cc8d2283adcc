"""Whole numbers of stands, strokes and days out of quotients that rounding blurs."""

import numpy as np

SLACK = 1e-9  # so that a stand which fills the day exactly does not cost another


def ceil(quotient):
    """Return the quotient rounded up, a whole number missed by rounding kept."""
    return np.ceil(quotient - SLACK)


def floor(quotient):
    """Return the quotient rounded down, a whole number missed by rounding kept."""
    return np.floor(quotient + SLACK)


def divided(numerator, denominator, otherwise):
    """Return the quotient where the denominator is above 0, else `otherwise`."""
    is_valid = denominator > SLACK
    if np.all(is_valid):
        return numerator / denominator
    numerator, denominator = np.broadcast_arrays(numerator, denominator)
    out = np.full_like(numerator, otherwise, dtype=float)
    return np.divide(numerator, denominator, out=out, where=is_valid)
