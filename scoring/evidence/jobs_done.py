"""A job log → the machine's own times, the mix, stoppages, days to pay, share won."""

import math
from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError, shown
from scoring.evidence.claims import Ratio
from scoring.inputs.print_tests import FASTEST_TIMES, NORMAL_95, T_95, t_interval
from scoring.inputs.quantity import nearest, quantity_at

MONTH_DAYS = 365.25 / 12
SURE = 0.95  # of each interval
# (key of the machine sheet, column of the log) of what is timed as such
TIMES = (
    ("assembly_time", "build"),
    ("prime_time", "prime"),
    ("move_time", "move"),
    ("pack_down_time", "pack"),
)
FEWEST = 3  # rows from which a figure is taken over; fewer are told, not used


class Seen(NamedTuple):
    """A figure of a log: 95 % interval of its mean, and how single jobs differ."""

    n: int
    low: float
    likely: float  # the mean
    high: float
    unsure: float  # standard error of the mean, as a share of it
    tenth: float = math.nan  # of single jobs
    ninetieth: float = math.nan


class KindSeen(NamedTuple):
    """What a log tells of one kind of job."""

    name: str
    n: int
    per_month: Seen | None  # None where all is on one day
    area: Seen | None
    print: Seen | None
    carry: Seen | None
    paid: Seen | None
    paid_per_m2: Seen | None  # without what is paid whatever the area


class LogSeen(NamedTuple):
    """What a log tells of one machine and of its owner's trade."""

    machine: str
    n_jobs: int
    n_asked: int  # won and not won
    first: object  # day
    last: object
    months: float  # that the jobs stand for; NaN where all are on one day
    times: dict  # {key of the sheet: Seen}, min
    speeds: dict  # {passes: Seen}, m²/h
    ink: Seen | None  # ml/m²
    spoilt: Seen | None
    kinds: tuple[KindSeen, ...]
    won: Seen | None  # share of what was asked
    days_to_pay: Seen | None
    stoppages: int
    jobs_between: Seen | None
    days_down: Seen | None
    currency: str | None


def seen(done, machine_name, all_machines=(), printed=None, inked=None, fees=None):
    """Return the LogSeen of one machine's rows; rows without a machine are its own.

    Parameters
    ----------
    done : JobsDone
    machine_name : str
    all_machines : names that the log's column `machine` may hold, optional
    printed, inked : {kind of job, in small letters: factor}, optional
        What a m² of a kind of job is in printing time and in ink, such as 0.7 where the
        rest is skipped or left bare; 1 for a kind that is not there.
    fees : {kind of job, in small letters: what is paid whatever the area}, optional
        `paid_per_m2` is of the rest; 0 for a kind that is not there.

    Raises
    ------
    ScoringError
        If no row is of this machine, or none was won.
    """
    known = [machine_name, *all_machines]
    rows = [row for row in done.rows if row.machine in ("", machine_name)]
    jobs = [row for row in rows if row.is_won]
    if not jobs:
        there = sorted({row.machine for row in done.rows if row.machine})
        named = f"; it names {', '.join(map(shown, there))}" if there else ""
        near = nearest(machine_name, known[1:]) if machine_name not in there else ""
        what = f"{done.name}: no job was done with {shown(machine_name)}{near}{named}"
        raise ScoringError(what)
    first, last = min(row.day for row in jobs), max(row.day for row in jobs)
    months = _months(len(jobs), (last - first).days)
    stops = [row.days_down for row in jobs if row.days_down > 0]
    is_asked = len(rows) > len(jobs)
    return LogSeen(
        machine=machine_name,
        n_jobs=len(jobs),
        n_asked=len(rows),
        first=first,
        last=last,
        months=months,
        times=_told({key: mean_of(_column(jobs, name)) for key, name in TIMES}),
        speeds=_speeds(jobs, printed or {}),
        ink=ratio_of(_column(jobs, "ink"), _areas(jobs, inked or {})),
        spoilt=mean_of(_column(jobs, "spoilt")),
        kinds=tuple(_kinds(jobs, months, fees or {})),
        won=share_of(len(jobs), len(rows)) if is_asked else None,
        days_to_pay=mean_of(_column(jobs, "days_to_pay")),
        stoppages=len(stops),
        jobs_between=jobs_between(len(stops), len(jobs)) if stops else None,
        days_down=mean_of(np.array(stops)),
        currency=done.currency,
    )


def _column(jobs, name):
    return np.array([getattr(job, name) for job in jobs], float)


def _told(figures):
    return {key: figure for key, figure in figures.items() if figure is not None}


def _months(n, days):
    """Return the months that n jobs stand for, whose first and last are so far apart.

    Jobs at random leave n + 1 gaps, of which n − 1 lie between the first and the last;
    without the two at the ends a log would flatter.
    """
    return (n + 1) / (n - 1) * days / MONTH_DAYS if n > 1 and days > 0 else math.nan


def _areas(jobs, factors):
    """Return the areas of jobs, times the factor of each kind."""
    return np.array([job.area * factors.get(job.kind.casefold(), 1.0) for job in jobs])


def _speeds(jobs, factors):
    """Return {passes: Seen in m²/h}: gross area by the minutes printed."""
    passes = sorted({job.passes for job in jobs if job.passes})
    found = {}
    for mode in passes:
        of_mode = [job for job in jobs if job.passes == mode]
        pace = ratio_of(_column(of_mode, "print"), _areas(of_mode, factors))
        if pace is not None and pace.low > 0:
            ends = [60 / end for end in (pace.high, pace.likely, pace.low)]
            found[mode] = Seen(pace.n, *ends, pace.unsure)
    return found


def _kinds(jobs, months, fees):
    """Yield the KindSeen of each kind of job, the most frequent first."""
    by_name = {}
    for job in jobs:
        by_name.setdefault(job.kind.casefold(), []).append(job)
    for same in sorted(by_name.values(), key=lambda rows: (-len(rows), rows[0].kind)):
        paid, area = _column(same, "paid"), _column(same, "area")
        by_area = paid - fees.get(same[0].kind.casefold(), 0.0)
        yield KindSeen(
            name=same[0].kind,
            n=len(same),
            per_month=None if math.isnan(months) else rate_of(len(same), months),
            area=mean_of(area),
            print=mean_of(_column(same, "print")),
            carry=mean_of(_column(same, "carry")),
            paid=mean_of(paid),
            paid_per_m2=ratio_of(by_area, area),
        )


def mean_of(values):
    """Return the Seen of figures of independent jobs, None without any.

    One figure has no interval, of two the interval is the two; else the 95 % t-interval
    (`inputs.print_tests.t_interval`), never below half the least figure.

    Parameters
    ----------
    values : shape (n,); NaN where nothing was written
    """
    values = values[np.isfinite(values)]
    n = len(values)
    if n == 0:
        return None
    mean = float(values.mean())
    if n == 1:
        return Seen(1, mean, mean, mean, math.nan)
    low, high = float(values.min()), float(values.max())
    error = float(values.std(ddof=1)) / math.sqrt(n)
    if n > 2:
        low, _, high = t_interval(values)
        low = max(low, FASTEST_TIMES * float(values.min()))
    ends = np.quantile(values, [0.1, 0.9]).tolist()
    low, high = min(low, mean), max(high, mean)
    return Seen(n, low, mean, high, error / mean if mean > 0 else math.nan, *ends)


def ratio_of(parts, wholes):
    """Return the Seen of Σ parts / Σ wholes with its 95 % interval, None without any.

    Parameters
    ----------
    parts, wholes : shape (n,); a row counts where both are told and its whole is not 0

    Source
    ------
    Cochran (1977), Sampling Techniques, 3rd ed., ch. 6, the ratio estimator and its
    variance from the residuals; from memory.
    """
    is_told = np.isfinite(parts) & np.isfinite(wholes) & (wholes > 0)
    parts, wholes = parts[is_told], wholes[is_told]
    n = len(parts)
    if n == 0 or not parts.sum() > 0:
        return None
    ratio = float(parts.sum() / wholes.sum())
    if n == 1:
        return Seen(1, ratio, ratio, ratio, math.nan)
    residual = parts - ratio * wholes
    error = math.sqrt(float((residual**2).sum()) / (n * (n - 1))) / wholes.mean()
    each = parts / wholes
    low, high = float(each.min()), float(each.max())
    if n > 2:
        t = T_95[n - 2] if n - 1 <= len(T_95) else NORMAL_95
        low = max(ratio - t * error, FASTEST_TIMES * low)
        high = ratio + t * error
    ends = np.quantile(each, [0.1, 0.9]).tolist()
    return Seen(n, min(low, ratio), ratio, max(high, ratio), error / ratio, *ends)


def rate_of(n, months):
    """Return the Seen of jobs a month: n jobs in so many months.

    Source
    ------
    The exact interval of a Poisson mean: Garwood (1936), Fiducial limits for the
    Poisson distribution, Biometrika 28(3/4), 437–442, doi:10.1093/biomet/28.3-4.437.

    Examples
    --------
    >>> [round(x, 2) for x in rate_of(10, 1)[1:4]]
    [4.8, 10.0, 18.39]
    """
    from scipy.special import gammaincinv  # slow to import

    tail = (1 - SURE) / 2
    low = float(gammaincinv(n, tail)) if n else 0.0
    high = float(gammaincinv(n + 1, 1 - tail))
    unsure = 1 / math.sqrt(n) if n else math.nan
    return Seen(n, low / months, n / months, high / months, unsure)


def share_of(n, n_all):
    """Return the Seen of a share: n of so many.

    Source
    ------
    Jeffreys' interval, Beta(n + ½, N − n + ½): Brown, Cai & DasGupta (2001),
    Statistical Science 16(2), 101–133, doi:10.1214/ss/1009213286.
    """
    from scipy.special import betaincinv

    tail = (1 - SURE) / 2
    a, b = n + 0.5, n_all - n + 0.5
    low, high = (float(betaincinv(a, b, p)) for p in (tail, 1 - tail))
    share = n / n_all
    low, high = min(low, share), max(high, share)
    error = math.sqrt(a * b / (a + b + 1)) / (a + b) / share if n else math.nan
    return Seen(n_all, low, share, high, error)


def jobs_between(n_stops, n_jobs):
    """Return the Seen of jobs between stoppages, exponential, after n_stops in n_jobs.

    Jeffreys' prior Gamma(½, 0) of the stoppages a job gives Gamma(n + ½, jobs).

    Raises
    ------
    ScoringError
        Without a stoppage; then only a least number can be told (`at_least_between`).

    Source
    ------
    Gamma–exponential, conjugate: Gelman et al. (2013), Bayesian Data Analysis, 3rd ed.,
    ch. 2; Jeffreys' prior of a rate; both from memory.
    """
    from scipy.special import gammaincinv

    if n_stops < 1:
        raise ScoringError("no stoppage: only a least number of jobs can be told")
    tail, a = (1 - SURE) / 2, n_stops + 0.5
    rates = [float(gammaincinv(a, p)) / n_jobs for p in (1 - tail, tail)]
    low, high = 1 / rates[0], 1 / rates[1]
    return Seen(n_stops, low, n_jobs / n_stops, high, 1 / math.sqrt(n_stops))


def at_least_between(n_jobs):
    """Return the jobs between stoppages that no stoppage in n_jobs shows, 95 % sure.

    Source
    ------
    A third: Hanley & Lippman-Hand (1983), If nothing goes wrong, is everything all
    right?, JAMA 249(13), 1743–1745, doi:10.1001/jama.1983.03330370053031.
    """
    return n_jobs / 3


def ratios(log_seen, machine):
    """Return the Ratios of what a log timed to what the seller of its machine claims.

    Only figures that the sheet quotes as a single figure are claims.
    """
    found = [(key, "time", figure) for key, figure in log_seen.times.items()]
    found += [(f"speed.{n}", "speed", each) for n, each in log_seen.speeds.items()]
    found += [
        ("ink.colour", "ink", log_seen.ink),
        ("reliability.jobs_between_stoppages", "life", log_seen.jobs_between),
    ]
    return [
        Ratio(
            log_seen.machine, kind, key, figure.likely, claim, figure.unsure, figure.n
        )
        for key, kind, figure in found
        if figure is not None and figure.n >= FEWEST and math.isfinite(figure.unsure)
        for claim in claimed(machine, key)
    ]


def claimed(machine, key):
    """Return [what the seller claims of a figure], [] where it is no single claim."""
    if key.startswith("speed."):
        quantity = machine.speed.get(int(key.partition(".")[2]))
    else:
        quantity = quantity_at(machine, key)
    if quantity is None or quantity.basis != "quoted" or quantity.is_explicit:
        return []
    return [quantity.likely] if quantity.likely > 0 else []
