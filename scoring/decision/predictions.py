"""How good predictions were: ranges that held, distance of what came, bias."""

import numpy as np

from scoring.errors import ScoringError

SQRT_PI = np.sqrt(np.pi)


def crps_of_normal(mean, sd, lived):
    """Return the continuous ranked probability score of normal predictions.

    In the unit of what was predicted; 0 is a sure and true prediction, more is worse.

    Source
    ------
    Gneiting & Raftery (2007), Strictly proper scoring rules, prediction, and
    estimation, JASA 102(477), 359–378, doi:10.1198/016214506000001437, section 4.2:
    σ (z (2Φ(z) − 1) + 2φ(z) − 1/√π), turned so that less is better; from memory.

    Examples
    --------
    >>> round(float(crps_of_normal(0.0, 1.0, 0.0)), 4)
    0.2337
    """
    from scipy.special import ndtr

    z = (np.asarray(lived, float) - mean) / sd
    density = np.exp(-(z**2) / 2) / np.sqrt(2 * np.pi)
    return sd * (z * (2 * ndtr(z) - 1) + 2 * density - 1 / SQRT_PI)


def crps_of_sample(sample, lived):
    """Return the continuous ranked probability score of a sample of a prediction.

    Parameters
    ----------
    sample : shape (…, n), draws of equal weight, n ≥ 1
    lived : shape (…), what came

    Returns
    -------
    shape (…), in the unit of what was predicted: E|X − y| − E|X − X′|/2

    Source
    ------
    Gneiting & Raftery (2007), as above, equation (21); the second mean of sorted draws
    is Σ (2i − n − 1) x_i / n², by arithmetic.
    """
    x = np.sort(np.asarray(sample, float), axis=-1)
    n = x.shape[-1]
    if n == 0:
        raise ScoringError("a prediction without draws cannot be scored")
    off = np.abs(x - np.asarray(lived, float)[..., None]).mean(axis=-1)
    return off - ((2 * np.arange(1, n + 1) - n - 1) * x).sum(axis=-1) / n**2


def place_in(sample, lived):
    """Return the share of a sample that lies below what came, ties halved: (…)."""
    x, y = np.asarray(sample, float), np.asarray(lived, float)[..., None]
    return (x < y).mean(axis=-1) + (x == y).mean(axis=-1) / 2


def with_error(quantiles, errors, n_errors=21):
    """Return samples of predictions with the error of what is measured on top.

    Parameters
    ----------
    quantiles : shape (…, n), evenly spaced quantiles of the prediction
    errors : shape (…), standard error of the mean that was lived

    Returns
    -------
    shape (…, n · n_errors)
    """
    from scipy.special import ndtri

    z = ndtri((np.arange(n_errors) + 0.5) / n_errors)
    z /= np.sqrt((z**2).mean())  # the middle of each slice alone would be too narrow
    x = np.asarray(quantiles, float)[..., None]
    found = x + np.asarray(errors, float)[..., None, None] * z
    return found.reshape(*x.shape[:-2], -1)


def with_counts(quantiles, exposure, n_counts=41):
    """Return samples of how many come in a time, where the rate is only predicted.

    Parameters
    ----------
    quantiles : shape (…, n), evenly spaced quantiles of the rate, 0 or more
    exposure : time, or number of jobs, in which they are counted; above 0

    Returns
    -------
    shape (…, n · n_counts), whole numbers: Poisson for each rate
    """
    from scipy.special import pdtrik

    u = (np.arange(n_counts) + 0.5) / n_counts
    mean = np.maximum(np.asarray(quantiles, float) * exposure, 1e-12)[..., None]
    none = np.exp(-mean)  # pdtrik wants more than the chance of none
    count = np.ceil(pdtrik(np.maximum(u, none), mean) - 1e-9)
    found = np.where(u <= none, 0.0, count)
    return found.reshape(*mean.shape[:-2], -1)
