"""Arrays that the model checks and divides the same way everywhere."""

import numpy as np

from scoring.errors import ScoringError


def amount(name, figure):
    """Return figures as an array; ScoringError unless each is finite and 0 or more."""
    figure = np.asarray(figure, dtype=float)
    wrong = figure[~(np.isfinite(figure) & (figure >= 0))]
    if wrong.size:
        raise ScoringError(f"{name}: {wrong[0]:g}; 0 or more")
    return figure
