"""A year as it may turn out: jobs come at random, wait their turn, and some go.

Each machine has a diary that holds `Diary.days_a_year` bookable days, spread evenly
over the working days. Jobs of each type come at random (Poisson) at their monthly rate
and are done first come first served, must-serve or not; the year starts with an empty
diary. A client who would have to wait longer than `patience_days` working days goes
elsewhere at once. After a job the machine may stop; each stoppage takes its days down
out of the diary, as in the average year of `scoring.model.year`.

There are no time steps. The days of work ahead fall evenly between two arrivals and
jump at each, so that one pass over the arrivals, all years and machines side by side,
is exact.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.queue.checked import MONTHS, check_counts, checked

BLOCK = 250  # years that share a random stream; changes the numbers drawn
TAIL = 1e-12  # chance of more stoppages after one job than are told apart
NOBODY = -1  # type of an arrival that is none: years have unequal numbers of them


class Turns(NamedTuple):
    """What becomes of arrivals served in turn; days are bookable days of the diary."""

    done_days: np.ndarray  # (year, machine, job): worked on each job type
    joined: np.ndarray  # (year, machine, job): jobs that did not go elsewhere
    lost_days: np.ndarray  # (year, machine): to stoppages
    idle_days: np.ndarray  # (year, machine)
    mean_ahead: np.ndarray  # (year, machine): days of work ahead, over time
    most_ahead: np.ndarray  # (year, machine)


class SimulatedYear(NamedTuple):
    """Years as they turned out; (year, machine), by type (year, machine, job).

    served + turned_away + waiting are the jobs that came, and days_worked + days_lost +
    days_idle the days of the diary. Of a job under way when the year ends, the share
    that is done counts as served and is paid.
    """

    served: np.ndarray  # by type, jobs
    turned_away: np.ndarray  # by type, jobs
    waiting: np.ndarray  # by type, jobs not done when the year ends
    contributions: np.ndarray  # money
    result: np.ndarray  # money: contributions and the other lines of the year
    days_worked: np.ndarray  # bookable days
    days_lost: np.ndarray  # to stoppages, bookable days
    days_idle: np.ndarray  # bookable days with nothing to do
    mean_backlog_weeks: np.ndarray  # until the diary is clear, averaged over the year
    max_backlog_weeks: np.ndarray


def simulate(
    per_month,
    booked_days,
    contribution,
    other_lines,
    jobs_between_stoppages,
    days_down,
    diary,
    patience_days=np.inf,
    seasonality=None,
    n_years=1000,
    seed=1,
    chunk=1000,
    is_random=True,
    on_progress=None,
):
    """Return the SimulatedYear of each machine, alone, with the same clients.

    All machines meet the same arrivals and the same luck, and a higher rate adds jobs
    to those that come anyway, so differences between machines and between rates are
    less noisy than the years themselves.

    Parameters
    ----------
    per_month : shape (job,)
        Jobs that come in an average month; 0 or more.
    booked_days : shape (machine, job)
        Days of the diary that one job takes, parts of days too; above 0. NaN where the
        machine cannot do the job or it is declined: nobody asks then.
    contribution : shape (machine, job)
        Money one job leaves, any sign; NaN is fine where `booked_days` is NaN.
    other_lines : shape (machine,)
        The year's other lines in all, costs below 0.
    jobs_between_stoppages, days_down : shape (machine,)
        Mean jobs from one stoppage to the next, above 0 (inf: never stops); days of
        the diary each costs, 0 or more. After each job comes a Poisson number of them.
    diary : Diary
    patience_days : working days, 0 or more
        How long a client waits for a job to begin; inf: nobody goes, 0: nobody waits.
        Compared with the wait as it will turn out, stoppages included.
    seasonality : shape (12,), optional
        Jobs by month, in proportion; 0 or more, not all 0.
    n_years : int, 1 or more
    seed : int, 0 or more
        Year r depends on the seed and r alone, not on `n_years`, `chunk` or what other
        machines there are.
    chunk : int
        Years at a time, in whole blocks of `BLOCK`.
    is_random : bool
        False: one year without chance, in which jobs and stoppages flow as expected.
    on_progress : function (share done), optional

    Returns
    -------
    SimulatedYear of shape (n_years, machine) and (n_years, machine, job); n_years is 1
    if is_random is False.

    Raises
    ------
    ScoringError
        If an argument is out of its range; every fault is named.

    Examples
    --------
    >>> from scoring.model.queue.checked import Diary
    >>> one = simulate([4.0], [[1.5]], [[300.0]], [-2000.0], [20.0], [2.0],
    ...                Diary(5, 48, 0.5), is_random=False)
    >>> one.served.round(6).tolist(), one.days_lost.round(6).tolist()
    ([[[48.0]]], [[4.8]])
    >>> one.result.round(6).tolist()
    [[12400.0]]
    """
    work = checked(
        per_month,
        booked_days,
        contribution,
        other_lines,
        jobs_between_stoppages,
        days_down,
        diary,
        patience_days,
        seasonality,
    )
    if not is_random:
        return _flowing(work)
    check_counts(n_years, seed, chunk)
    step = max(1, int(chunk) // BLOCK) * BLOCK
    parts = []
    for start in range(0, n_years, step):
        stop = min(start + step, n_years)
        parts.append(_chance_years(work, seed, start, stop))
        if on_progress:
            on_progress(stop / n_years)
    return SimulatedYear(*(np.concatenate(part) for part in zip(*parts, strict=True)))


def percentiles(figure, at=(10, 50, 90)):
    """Return what so many per cent of the years stay at or below: (len(at), machine).

    Parameters
    ----------
    figure : shape (year, machine)
        One field of a SimulatedYear.
    at : per cent, 0 to 100

    Raises
    ------
    ScoringError
        If a per cent is out of its range.

    Examples
    --------
    >>> percentiles(np.array([[0.0], [10.0], [20.0]]), (50, 75)).tolist()
    [[10.0], [15.0]]
    """
    at = np.asarray(at, dtype=float)
    wrong = at[~((at >= 0) & (at <= 100))]
    if wrong.size:
        raise ScoringError(f"percentile: {wrong[0].item()!r}; 0 to 100 (per cent)")
    return np.percentile(figure, at, axis=0)


def chance_below(figure, amount):
    """Return the share of years in which a figure is below an amount: (machine,).

    With the year's result and what is owed on a loan in a year, it is the chance of
    not covering loan and fixed costs.

    Parameters
    ----------
    figure : shape (year, machine)
    amount : scalar or shape (machine,), in the unit of the figure

    Examples
    --------
    >>> chance_below(np.array([[1.0, 5.0], [2.0, 6.0]]), 2.0).tolist()
    [0.5, 0.0]
    """
    return (np.asarray(figure) < amount).mean(axis=0)


def serve_in_turn(days, kinds, booked, is_taken, lost, patience, days_a_year):
    """Return the Turns of arrivals at each machine, first come first served.

    Parameters
    ----------
    days : shape (arrival, year)
        When each comes, in bookable days since the year began, in order; at most
        days_a_year.
    kinds : int, shape (arrival, year)
        Which job type; NOBODY where it is none, at or after the last that is one.
    booked, is_taken : shape (machine, job)
        Days a job takes; whether clients of that type ask for the machine.
    lost : shape (arrival, year, machine)
        Days of stoppages after the job.
    patience : bookable days
    days_a_year : float

    Examples
    --------
    Jobs of 3 days come on days 1 and 2 of 10; the second waits 2 days and is done on
    day 7, unless clients wait for a day at most.

    >>> days, kinds = np.array([[1.0], [2.0]]), np.array([[0], [0]])
    >>> work = np.array([[3.0]]), np.array([[True]]), np.zeros((2, 1, 1))
    >>> serve_in_turn(days, kinds, *work, np.inf, 10.0).idle_days.tolist()
    [[4.0]]
    >>> serve_in_turn(days, kinds, *work, 1.0, 10.0).idle_days.tolist()
    [[7.0]]
    """
    n_machines, n_jobs = booked.shape
    n_years = days.shape[1]
    shape = (n_years, n_machines)
    # The last type is nobody's, so that NOBODY = -1 points at it.
    takes = np.vstack([booked.T, np.zeros(n_machines)])
    asks = np.vstack([is_taken.T, np.zeros(n_machines, bool)])
    done_days = np.zeros((n_years, n_jobs + 1, n_machines))
    joined = np.zeros((n_years, n_jobs + 1, n_machines))
    lost_days, idle_days, area = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    ahead, most, now = np.zeros(shape), np.zeros(shape), np.zeros((n_years, 1))
    years = np.arange(n_years)
    for day, kind, down in zip(days[:, :, None], kinds, lost, strict=True):
        left = np.maximum(ahead - (day - now), 0)
        idle_days += np.maximum(day - now - ahead, 0)
        area += (ahead**2 - left**2) / 2  # `ahead` falls by a day a day down to `left`
        joins = asks[kind] & (left <= patience)
        takes_now = np.where(joins, takes[kind], 0.0)
        down = np.where(joins, down, 0.0)
        until_end = days_a_year - day - left
        done_days[years, kind] += np.clip(until_end, 0, takes_now)
        joined[years, kind] += joins
        lost_days += np.clip(until_end - takes_now, 0, down)
        ahead = left + takes_now + down
        most = np.maximum(most, ahead)
        now = day
    left = np.maximum(ahead - (days_a_year - now), 0)
    idle_days += np.maximum(days_a_year - now - ahead, 0)
    area += (ahead**2 - left**2) / 2
    return Turns(
        np.moveaxis(done_days[:, :n_jobs], 1, 2),
        np.moveaxis(joined[:, :n_jobs], 1, 2),
        lost_days,
        idle_days,
        area / days_a_year,
        most,
    )


def _chance_years(work, seed, start, stop):
    """Return the SimulatedYear of the years start..stop."""
    first, last = start // BLOCK, (stop - 1) // BLOCK
    blocks = [_arrivals(work, seed, block) for block in range(first, last + 1)]
    n_rows = max(len(block[0]) for block in blocks)
    share, kinds, luck = (
        np.hstack([_padded(part, n_rows, empty) for part in parts])[:, : stop - start]
        for parts, empty in zip(
            zip(*blocks, strict=True), (1.0, NOBODY, 0.0), strict=True
        )
    )
    turns = serve_in_turn(
        share * work.diary.days_a_year,
        kinds,
        work.booked,
        work.is_taken,
        _stoppages(luck, work.stoppages) * work.days_down,
        work.patience,
        work.diary.days_a_year,
    )
    came = (kinds[..., None] == np.arange(len(work.per_year))).sum(axis=0)
    return _told(work, came[:, None, :] * work.is_taken, turns)


def _padded(rows, n_rows, empty):
    return np.pad(rows, ((0, n_rows - len(rows)), (0, 0)), constant_values=empty)


def _arrivals(work, seed, block):
    """Return (share of the year gone by, job type, luck), each (arrival, BLOCK).

    Each job type has its own stream, in which a higher rate only adds jobs.
    """
    from scipy.stats import poisson  # slow to import

    times, kinds, lucks = [], [], []
    for kind, expected in enumerate(work.per_year):
        rng = np.random.default_rng([seed, block, kind])
        n_jobs = np.maximum(poisson.ppf(rng.random(BLOCK), expected), 0)
        n_rows = int(n_jobs.max())
        uniform = rng.random((n_rows, BLOCK, 2))
        comes = np.arange(n_rows)[:, None] < n_jobs
        months = np.linspace(0, 1, MONTHS + 1)
        when = np.interp(uniform[..., 0], work.by_month, months)
        times.append(np.where(comes, when, np.inf))
        kinds.append(np.where(comes, kind, NOBODY))
        lucks.append(uniform[..., 1])
    times, kinds, lucks = (np.concatenate(part) for part in (times, kinds, lucks))
    n_rows = int((kinds != NOBODY).sum(axis=0).max(initial=0))
    order = np.argsort(times, axis=0, kind="stable")[:n_rows]
    times, kinds, lucks = (
        np.take_along_axis(part, order, axis=0) for part in (times, kinds, lucks)
    )
    return np.minimum(times, 1.0), kinds, lucks


def _stoppages(luck, rate):
    """Return Poisson numbers of stoppages, (arrival, year, machine), from luck."""
    from scipy.stats import poisson  # slow to import

    most = int(poisson.isf(TAIL, rate.max(initial=0))) + 1
    chances = poisson.cdf(np.arange(most), rate[:, None])
    counts = [np.searchsorted(chance, luck, side="right") for chance in chances]
    return np.stack(counts, axis=-1)


def _flowing(work):
    """Return the one SimulatedYear in which everything comes and goes as expected.

    Work flows in all the time, cut to what clients will wait for. All types have the
    same seasons, so whatever waits is mixed as the year's jobs are, and what comes
    first is served in these proportions.
    """
    down = work.stoppages * work.days_down
    mix = work.per_year * work.is_taken
    wanted = (mix * (work.booked + down[:, None])).sum(axis=-1)
    days_a_year = work.diary.days_a_year
    n_steps = MONTHS * max(
        1, round(work.diary.days_per_week * work.diary.weeks_per_year / MONTHS)
    )
    edges = np.linspace(0, 1, n_steps + 1)
    months = np.linspace(0, 1, MONTHS + 1)
    room = days_a_year / n_steps
    zeros = np.zeros(wanted.shape)
    ahead, area, most, done, joined = zeros, zeros, zeros, zeros, zeros
    for share in np.diff(np.interp(edges, months, work.by_month)):
        came = np.clip(room + work.patience - ahead, 0, share * wanted)
        doing = np.minimum(ahead + came, room)
        later = ahead + came - doing
        area = area + (ahead + later) / 2
        ahead, done, joined = later, done + doing, joined + came
        most = np.maximum(most, ahead)
    is_wanted = wanted > 0
    part_done = np.divide(done, wanted, out=zeros.copy(), where=is_wanted)
    part_joined = np.divide(joined, wanted, out=zeros.copy(), where=is_wanted)
    served = mix * part_done[:, None]
    turns = Turns(
        (served * work.booked)[None],
        (mix * part_joined[:, None])[None],
        (served.sum(axis=-1) * down)[None],
        (days_a_year - done)[None],
        (area / n_steps)[None],
        most[None],
    )
    return _told(work, mix[None], turns)


def _told(work, came, turns):
    """Return the SimulatedYear of these Turns; `came` is (year, machine, job)."""
    served = np.divide(
        turns.done_days,
        work.booked,
        out=np.zeros(turns.done_days.shape),
        where=np.broadcast_to(work.is_taken, turns.done_days.shape),
    )
    contributions = (served * work.contribution).sum(axis=-1)
    a_week = work.diary.days_per_week * work.diary.bookable_share
    return SimulatedYear(
        served=served,
        turned_away=came - turns.joined,
        waiting=turns.joined - served,
        contributions=contributions,
        result=contributions + work.other_lines,
        days_worked=turns.done_days.sum(axis=-1),
        days_lost=turns.lost_days,
        days_idle=turns.idle_days,
        mean_backlog_weeks=turns.mean_ahead / a_week,
        max_backlog_weeks=turns.most_ahead / a_week,
    )
