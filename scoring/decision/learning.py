"""What an exercise taught: gain between two tests, and how well people knew."""

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError


def normalised_gain(before, after):
    """Return Hake's gain: the share of what could still be learnt that was learnt.

    Parameters
    ----------
    before, after : float or shape (...)
        Right answers in per cent, 0 to 100; for a class its means.

    Returns
    -------
    float or shape (...)
        1 where all that was missing is known, 0 where nothing more is, negative where
        less is; NaN where all was known before, as nothing could be gained.

    Raises
    ------
    ScoringError
        If a figure is not within 0 to 100.

    Source
    ------
    Hake (1998), Interactive-engagement versus traditional methods, American Journal of
    Physics 66, 64–74, doi:10.1119/1.18809: ⟨g⟩ = (post − pre)/(100 − pre).

    Examples
    --------
    >>> float(normalised_gain(40, 70))
    0.5
    """
    before, after = _within(before, 100, "per cent"), _within(after, 100, "per cent")
    left = 100 - before
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(left > 0, (after - before) / left, np.nan)[()]


def brier(confidence, is_right):
    """Return the Brier score of stated confidence: the mean squared surprise.

    Parameters
    ----------
    confidence : shape (n,)
        How sure, as a share 0–1.
    is_right : shape (n,)
        Whether it came true.

    Returns
    -------
    float
        0 (sure and always right) to 1 (sure and always wrong); 0.25 for who always
        says “half and half”.

    Raises
    ------
    ScoringError
        If there is none, they are not as many, or a share is not within 0 to 1.

    Source
    ------
    Brier (1950), Verification of forecasts expressed in terms of probability, Monthly
    Weather Review 78, 1–3; the form for one event, half of his.

    Examples
    --------
    >>> brier([0.5, 0.5], [True, False])
    0.25
    """
    confidence = _within(confidence, 1, "shares")
    is_right = np.asarray(is_right, float)
    if confidence.shape != is_right.shape or not confidence.size:
        raise ScoringError(
            f"confidence of shape {confidence.shape} and outcomes of shape "
            f"{is_right.shape}; one of each for every statement"
        )
    return float(((confidence - is_right) ** 2).mean())


def _within(figures, most, what):
    figures = np.asarray(figures, float)
    check_finite(figures, what)
    if ((figures < 0) | (figures > most)).any():
        bad = figures[(figures < 0) | (figures > most)].flat[0]
        raise ScoringError(f"the {what} hold {float(bad):g}; 0 to {most}")
    return figures
