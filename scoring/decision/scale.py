"""The scale [worst, best] of each criterion, and figures on it as scores 0–1."""

import numpy as np

# Figures that differ by less than this share of their size are the same figure.
ROUNDING = 1e-12
HALF_OF_LARGEST = np.finfo(float).max / 2


def default_scale(raw, is_benefit, flat_above=None):
    """Return anchors that hold the finite figures, rounded outward to a round step.

    The step is the power of ten at or below the spread. Without a spread the two
    anchors are equal, and 0 where no figure is finite. No anchor is above `flat_above`.

    Parameters
    ----------
    raw : shape (n_alternatives, n_criteria)
        Central figures, each column in its unit; not finite where not achievable.
    is_benefit : bool, shape (n_criteria,)
        True where more is better.
    flat_above : sequence of float or None, shape (n_criteria,), optional

    Returns
    -------
    shape (n_criteria, 2)
        [worst, best] in the unit of the column.

    Examples
    --------
    >>> default_scale([[12300, 3.2], [28900, 4.6]], [False, True]).tolist()
    [[30000.0, 10000.0], [3.0, 5.0]]
    """
    raw = np.asarray(raw, float)
    is_finite = np.isfinite(raw)
    capped = np.where(is_finite, np.minimum(raw, _caps(flat_above)), 0.0)
    low = capped.min(axis=0, where=is_finite, initial=np.inf)
    high = capped.max(axis=0, where=is_finite, initial=-np.inf)
    low, high = np.where(is_finite.any(axis=0), [low, high], 0.0)
    ends = np.minimum(_rounded_outward(low, high), _caps(flat_above))
    return np.stack(np.where(is_benefit, ends, ends[::-1]), axis=-1)


def _caps(flat_above):
    """Return the figures from which more counts no more; inf where there is none."""
    caps = np.asarray(np.nan if flat_above is None else flat_above, float)
    return np.where(np.isnan(caps), np.inf, caps)


def _rounded_outward(low, high):
    """Return (2, n_criteria): low and high on the step, as they are if the same."""
    spread = high - low
    is_same = spread <= ROUNDING * np.maximum(abs(low), abs(high))
    power = np.floor(np.log10(np.where(is_same, 1.0, spread)) + ROUNDING)
    below, above = 10.0 ** np.maximum(-power, 0), 10.0 ** np.maximum(power, 0)
    # One of the two is 1: 3/10 is nearer to 0.3 than 3·0.1 is.
    slack = 1e-9  # so that 0.3/0.1 = 2.9999999999999996 is 3 steps
    first = np.floor(low * below / above + slack) * above / below
    last = np.ceil(high * below / above - slack) * above / below
    return np.where(is_same, low, [first, last])


def scores(raw, scale, flat_above=None):
    """Return 0–1 scores: 0 at the worst anchor or beyond it, 1 at the best.

    Parameters
    ----------
    raw : shape (..., n_alternatives, n_criteria)
        Figures in their units; one that is not finite is not achievable and scores 0.
    scale : shape (n_criteria, 2)
        [worst, best]; where they are equal, every finite figure scores 1.
    flat_above : sequence of float or None, shape (n_criteria,), optional
        Figures and anchors above it count as it.

    Returns
    -------
    shape (..., n_alternatives, n_criteria)

    Examples
    --------
    >>> scores([[25, 3], [5, float("inf")]], [[30, 10], [2, 6]], [None, 4]).tolist()
    [[0.25, 0.5], [1.0, 0.0]]
    """
    raw, caps = np.asarray(raw, float), _caps(flat_above)
    worst, best = np.minimum(np.moveaxis(np.asarray(scale, float), -1, 0), caps)
    ends = np.minimum(worst, best), np.maximum(worst, best)
    within = np.clip(np.where(np.isfinite(raw), raw, worst), *ends)
    # Halves of the largest floats, whose difference would be more than the largest.
    part = np.where(np.maximum(abs(worst), abs(best)) > HALF_OF_LARGEST, 0.5, 1.0)
    span = part * best - part * worst
    share = (part * within - part * worst) / np.where(span == 0, 1.0, span)
    share = np.where(span == 0, 1.0, np.clip(share, 0.0, 1.0))
    return np.where(np.isfinite(raw), share, 0.0)


def separates(scale):
    """Return which criteria tell achievable alternatives apart: bool (n_criteria,).

    Examples
    --------
    >>> separates([[30, 10], [4, 4]]).tolist()
    [True, False]
    """
    scale = np.asarray(scale, float)
    return scale[..., 0] != scale[..., 1]
