"""What to expect: the mean of the model over draws, not the model at mean figures.

Days are steps and limits are cliffs, so the two differ, and the difference decides.
A run holds, for each alternative, the draw in which all is as told, then the draws.

Source: Jensen (1906), Acta Mathematica 30, 175–193, doi:10.1007/BF02418571; Savage
(2009), The Flaw of Averages. Mean scores of an additive value: Keeney & Raiffa (1976),
Decisions with Multiple Objectives. From memory.
"""

from typing import NamedTuple

import numpy as np

from scoring.answer.limits import LimitKind
from scoring.decision import scale as scales
from scoring.model.figures import Figures
from scoring.model.job.reach import Misses
from scoring.model.months.average_year import Months
from scoring.model.outcome import Outcome

DOUBT = 0.05  # a limit broken in fewer draws than this is no doubt
HALF = 0.5


class LimitChance(NamedTuple):
    """One limit against every machine; arrays (alternative, machine)."""

    kind: LimitKind
    subject: str
    figure: np.ndarray  # mean
    allowed: np.ndarray  # mean
    unit: str
    chance: np.ndarray  # share of draws in which it is broken
    is_broken_as_told: np.ndarray  # bool
    told: np.ndarray  # the figure if all is as told
    allowed_as_told: np.ndarray

    def of(self, k):
        """Return the LimitChance of machine k of the first alternative, numbers."""
        return LimitChance(*(x[0, k] if isinstance(x, np.ndarray) else x for x in self))


class Chances(NamedTuple):
    """Shares of draws: (alternative, machine, job)."""

    can_do: np.ndarray
    misses: Misses
    more_days: np.ndarray  # takes more days than as told
    declined: np.ndarray


class Expected(NamedTuple):
    """Means over draws; the first axis holds alternatives.

    Of what is yes or no, or one of several ways, the most frequent. Days and minutes
    are means over the draws in which the job takes any, whatever else forbids it.
    """

    figures: Figures
    outcome: Outcome
    limits: tuple[LimitChance, ...]
    chances: Chances
    raw: np.ndarray  # (alternative, machine, criterion), each in its unit
    scores: np.ndarray  # (alternative, machine, criterion), 0–1, of all draws
    months: Months  # cash by the month, means
    npv: np.ndarray  # (alternative, machine), mean, of the months
    chance_in: np.ndarray  # (alternative, machine) share of draws within all limits
    is_in_as_told: np.ndarray  # bool (alternative, machine)


class Gist(NamedTuple):
    """Of Expected, what many alternatives are asked for: (alternative, machine, …)."""

    scores: np.ndarray  # (alternative, machine, criterion), 0–1, of all draws
    chance_in: np.ndarray
    is_in_as_told: np.ndarray  # bool
    npv: np.ndarray
    result: np.ndarray  # of the year


def mapped(change, *records):
    """Return a record of records with the arrays at one place in each made one.

    Arrays with fewer than two axes hold no draws and stay those of the first.
    """
    first = records[0]
    if isinstance(first, tuple):
        parts = [mapped(change, *each) for each in zip(*records, strict=True)]
        return type(first)(*parts) if hasattr(first, "_fields") else tuple(parts)
    if isinstance(first, np.ndarray) and first.ndim >= 2:
        return change(*records)
    return first


def as_told(record, n_alternatives, n_rows):
    """Return the first row of each alternative: (alternative, …)."""

    def first(array):
        if len(array) != n_alternatives * n_rows:
            return array
        return array.reshape(n_alternatives, n_rows, *array.shape[1:])[:, 0]

    return mapped(first, record)


def means(record, n_alternatives, n_rows):
    """Return the mean over the draws of each alternative: (alternative, …)."""

    def mean(array):
        if len(array) != n_alternatives * n_rows:
            return array
        return _mean(_draws(array, n_alternatives, n_rows))

    return mapped(mean, record)


def mean_of(n_alternatives, n_rows):
    """Return the function that `means` is of finite figures, without looking at them.

    For one month after the other, where looking takes longer than the mean.
    """

    def mean(figures):
        if len(figures) != n_alternatives * n_rows or figures.ndim < 2:
            return figures
        drawn = _draws(figures, n_alternatives, n_rows)
        # as `drawn.mean(axis=1)`, which takes twice as long on few draws
        return np.add.reduce(drawn, axis=1) / drawn.shape[1]

    return mean


def of_places(record, places, n_machines):
    """Return a record of records with these places of the machines' axis."""

    def chosen(array):
        return array[:, places] if array.shape[1] == n_machines else array

    return mapped(chosen, record)


def _draws(array, n_alternatives, n_rows):
    """Return the rows without those as told, but where there are no others."""
    rows = array.reshape(n_alternatives, n_rows, *array.shape[1:])
    return rows[:, 1:] if n_rows > 1 else rows


def _mean(array):
    """Return the mean over axis 1 of what is there; the most frequent of what counts.

    NaN, which means that there is no such thing, where no draw has any.
    """
    if array.dtype.kind == "b":
        return array.mean(axis=1) > HALF
    if array.dtype.kind in "iU":
        values = np.unique(array)
        counts = np.stack([(array == value).sum(axis=1) for value in values], axis=-1)
        return values[counts.argmax(axis=-1)]
    is_nan = np.isnan(array)
    if not is_nan.any():
        return array.mean(axis=1)
    n_told = (~is_nan).sum(axis=1)
    total = np.where(is_nan, 0.0, array).sum(axis=1)
    return np.divide(total, n_told, out=np.full(total.shape, np.nan), where=n_told > 0)


def told_of(again, n_alternatives, n_rows):
    """Return the Run in which all is as told: (alternative, …), without its months."""
    told = as_told(again._replace(months=None), n_alternatives, n_rows)
    return told._replace(drawn={key: x[::n_rows] for key, x in again.drawn.items()})


def expected(again, scale, flat_above, n_alternatives, n_rows):
    """Return the Expected of a Run; first axes hold alternatives.

    Parameters
    ----------
    again : Run of n_alternatives · n_rows draws, its months as `mean_of` or none
        Of each alternative the draw in which all is as told, then its draws.
    scale : shape (criterion, 2)
    """
    shape = (n_alternatives, n_rows)
    scores = scales.scores(again.raw, scale, flat_above)
    lived = again.outcome
    return Expected(
        figures=means(again.figures, *shape),
        outcome=means(lived, *shape),
        limits=tuple(_limit_chance(limit, shape) for limit in again.limits),
        chances=Chances(
            can_do=_share(lived.can_do, shape),
            misses=Misses(*(_share(miss > 0, shape) for miss in lived.misses)),
            more_days=_more_days(lived.site.days, shape),
            declined=_share(lived.year.is_declined, shape),
        ),
        raw=_finite_mean(again.raw, shape),
        scores=_draws(scores, *shape).mean(axis=1),
        months=means(again.months, *shape),
        npv=means(again.months.npv, *shape),
        chance_in=1 - _share(again.is_ruled_out, shape),
        is_in_as_told=~as_told(again.is_ruled_out, *shape),
    )


def gist(again, scale, flat_above, n_alternatives, n_rows):
    """Return the Gist of a Run: a part of its `expected`, in a fraction of the time."""
    shape = (n_alternatives, n_rows)
    scores = scales.scores(again.raw, scale, flat_above)
    return Gist(
        scores=_draws(scores, *shape).mean(axis=1),
        chance_in=1 - _share(again.is_ruled_out, shape),
        is_in_as_told=~as_told(again.is_ruled_out, *shape),
        npv=means(again.months.npv, *shape),
        result=means(again.outcome.year.result, *shape)[..., 0],
    )


def gist_of(whole):
    """Return the Gist of an Expected."""
    return Gist(
        whole.scores,
        whole.chance_in,
        whole.is_in_as_told,
        whole.npv,
        whole.outcome.year.result[..., 0],
    )


def _share(is_so, shape):
    """Return the share of draws in which something is so, (alternative, …)."""
    is_so = np.broadcast_to(is_so, (shape[0] * shape[1], *is_so.shape[1:]))
    return _draws(is_so, *shape).mean(axis=1)


def _more_days(days, shape):
    """Return the share of draws in which a job takes more days than as told."""
    n_alternatives, n_rows = shape
    days = np.broadcast_to(days, (n_alternatives * n_rows, *days.shape[1:]))
    rows = days.reshape(n_alternatives, n_rows, *days.shape[1:])
    return _share((rows > rows[:, :1]).reshape(days.shape), shape)


def _finite_mean(raw, shape):
    """Return the mean of raw figures over the draws that have one, inf without any.

    Hours for each 1000 earned have none where nothing is earned.
    """
    found = _mean(_draws(np.where(np.isfinite(raw), raw, np.nan), *shape))
    return np.where(np.isnan(found), np.inf, found)


def _limit_chance(limit, shape):
    told = as_told(limit, *shape)
    mean = means(limit, *shape)
    return LimitChance(
        limit.kind,
        limit.subject,
        mean.figure,
        mean.allowed,
        limit.unit,
        _share(limit.is_broken, shape),
        told.is_broken,
        told.figure,
        told.allowed,
    )


def is_out(chance_in, is_in_as_told, sure=None):
    """Return which machines are ruled out: bool, of the arrays' shape.

    Where a limit is broken in more than half of the draws, unless all is within limits
    as it is told: then the toolkit's own spread alone breaks it, and a test settles it.
    A buyer who asks to be `sure` (a share) rules out whatever holds less often.

    Source
    ------
    Limits that hold with a chance: Charnes & Cooper (1959), Management Science 6(1),
    73–79, doi:10.1287/mnsc.6.1.73; from memory.
    """
    broken_mostly = (chance_in < HALF) & ~is_in_as_told
    return broken_mostly if sure is None else broken_mostly | (chance_in < sure)


def is_doubtful(chance_in, is_in_as_told):
    """Return which machines break a limit in too many draws to be sure: bool."""
    return (chance_in < 1 - DOUBT) | ~is_in_as_told
