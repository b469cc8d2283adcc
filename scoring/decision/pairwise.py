"""Weights from pairwise judgements: principal eigenvector, consistency ratio."""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

# Mean consistency index of 500 000 random judgement matrices, by number of criteria:
# ahpsurvey 0.4.1 (R package), read in its documentation. Saaty's own table of 1980
# (0.58, 0.90, 1.12, … for 3, 4, 5) rests on fewer matrices and stops at 10 criteria.
RANDOM_INDEX = dict(enumerate((
    0.0, 0.0, 0.5251686, 0.8836651, 1.1081014, 1.2492774, 1.3415514, 1.4048466,
    1.4507197, 1.4857266, 1.5141022, 1.5356638, 1.5545925, 1.5703498, 1.5839958,
), start=1))  # fmt: skip
# 1/7 may be written as 0.14: a judgement and its mirror need not multiply to exactly 1.
RECIPROCAL_SLACK = 0.05


class Pairwise(NamedTuple):
    """Weights from pairwise judgements, and how far the judgements contradict."""

    weights: np.ndarray
    consistency_ratio: np.ndarray


def pairwise(judgements):
    """Return weights from pairwise judgements, and their consistency ratio.

    Parameters
    ----------
    judgements : shape (..., n_criteria, n_criteria)
        Row i, column j: how many times criterion i matters as much as j. Above 0, ones
        on the diagonal; the mirrored judgement is the reciprocal (within 5 %, so that
        1/7 may be written 0.14). At most 15 criteria.

    Returns
    -------
    Pairwise(weights, consistency_ratio), shapes (..., n_criteria) and (...)
        The principal eigenvector, summing to 1. A ratio of 0 is free of contradiction,
        1 is as contradictory as random judgements; by custom above 0.1 is too much.

    Raises
    ------
    ScoringError
        If the judgements are not such a table.

    Source
    ------
    Saaty (1980), The Analytic Hierarchy Process, McGraw-Hill. The random index is the
    simulated one of RANDOM_INDEX, not Saaty's.

    Examples
    --------
    >>> weights, consistency_ratio = pairwise([[1, 3], [1 / 3, 1]])
    >>> weights.round(9).tolist(), float(consistency_ratio)
    ([0.75, 0.25], 0.0)
    """
    judgements = _checked_judgements(judgements)
    n = judgements.shape[-1]
    values, vectors = np.linalg.eig(judgements)
    principal = values.real.argmax(axis=-1)[..., None]
    largest = np.take_along_axis(values.real, principal, axis=-1)[..., 0]
    vector = abs(np.take_along_axis(vectors, principal[..., None, :], axis=-1)[..., 0])
    weights = vector / vector.sum(axis=-1, keepdims=True)
    if n <= 2:  # nothing that could contradict
        return Pairwise(weights, np.zeros_like(largest))
    consistency_index = np.maximum(largest - n, 0.0) / (n - 1)
    return Pairwise(weights, consistency_index / RANDOM_INDEX[n])


def _checked_judgements(judgements):
    judgements = np.asarray(judgements, float)
    shape = judgements.shape
    if len(shape) < 2 or shape[-1] != shape[-2]:
        raise ScoringError(
            f"the judgements have shape {shape}; as many rows as columns are needed"
        )
    if shape[-1] not in RANDOM_INDEX:
        raise ScoringError(
            f"judgements of {shape[-1]} criteria; 1 to {max(RANDOM_INDEX)} are allowed"
        )
    is_bad = ~(np.isfinite(judgements) & (judgements > 0))
    if is_bad.any():
        bad = float(judgements[is_bad][0])
        raise ScoringError(
            f"the judgements hold {bad!r}; each must be a finite number above 0"
        )
    _check_mirrored(judgements)
    return judgements


def _check_mirrored(judgements):
    mirrored = np.swapaxes(judgements, -1, -2)
    is_off = abs(judgements * mirrored - 1) > RECIPROCAL_SLACK
    if is_off.any():
        place = tuple(np.argwhere(is_off)[0])
        i, j = place[-2] + 1, place[-1] + 1
        if i == j:
            raise ScoringError(
                f"the judgement of criterion {i} over itself is "
                f"{float(judgements[place])!r}; it must be 1"
            )
        raise ScoringError(
            f"the judgement of criterion {i} over {j} is {float(judgements[place])!r} "
            f"and of {j} over {i} is {float(mirrored[place])!r}; "
            "one must be 1 divided by the other"
        )
