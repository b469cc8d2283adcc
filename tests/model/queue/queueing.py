"""Waiting lines in closed form: who is turned away, who waits, and how long.

Arrivals are Poisson and first come is first served; the figures are those of the long
run, not of a first year that starts with an empty diary. `load` is the arrival rate
times the mean time of one job: the servers that would be busy if none were turned away.
Rates and times share any one unit of time; all arguments broadcast.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError


class Queue(NamedTuple):
    """A waiting line in the long run; times in the unit of the mean service."""

    wait: np.ndarray  # mean time until a job is begun, of all jobs
    number_waiting: np.ndarray  # mean
    time: np.ndarray  # mean, from arrival until the job is done
    number: np.ndarray  # mean, waiting or being served


def erlang_b(load, n_servers):
    """Return the share of jobs turned away when nobody waits.

    It depends on the service times by their mean alone.

    Parameters
    ----------
    load : erlangs (no unit); 0 or more
    n_servers : whole numbers, 0 or more

    Raises
    ------
    ScoringError
        If a load is below 0 or not finite, or a count of servers is not whole.

    Source
    ------
    Erlang (1917), in Brockmeyer, Halstrøm & Jensen (1948), The Life and Works of A. K.
    Erlang, from memory. Computed by B(0) = 1, B(k) = a B(k − 1) / (k + a B(k − 1)).

    Examples
    --------
    >>> erlang_b(1.0, [0, 1, 2]).tolist()
    [1.0, 0.5, 0.2]
    """
    load, n_servers = np.broadcast_arrays(
        _at_least_0("load", load), _whole("servers", n_servers, 0)
    )
    share = np.ones(load.shape)
    for k in range(1, int(n_servers.max(initial=0)) + 1):
        share = np.where(k <= n_servers, load * share / (k + load * share), share)
    return share


def erlang_c(load, n_servers):
    """Return the share of jobs that wait when nobody leaves, exponential service.

    Parameters
    ----------
    load : erlangs (no unit); 0 or more, below n_servers
    n_servers : whole numbers, 1 or more

    Raises
    ------
    ScoringError
        If a load is not below its servers (the line would grow without end), or an
        argument is out of its range.

    Source
    ------
    Erlang (1917), as for `erlang_b`: C = B / (1 − ρ (1 − B)) with ρ = load / n_servers.

    Examples
    --------
    >>> erlang_c(0.5, 1).item()
    0.5
    """
    load, n_servers = np.broadcast_arrays(
        _at_least_0("load", load), _whole("servers", n_servers, 1)
    )
    _below_capacity(load, n_servers)
    lost = erlang_b(load, n_servers)
    return lost / (1 - load / n_servers * (1 - lost))


def mm_c(arrival_rate, mean_service, n_servers):
    """Return the Queue of Poisson arrivals, exponential service and n_servers.

    Parameters
    ----------
    arrival_rate : jobs per unit of time; 0 or more
    mean_service : time; 0 or more
    n_servers : whole numbers, 1 or more

    Raises
    ------
    ScoringError
        As `erlang_c`.

    Examples
    --------
    >>> mm_c(0.5, 1.0, 1).wait.item()
    1.0
    """
    rate = _at_least_0("arrival rate", arrival_rate)
    service = _at_least_0("mean service", mean_service)
    must_wait = erlang_c(rate * service, n_servers)
    return _queue(rate, service, must_wait * service / (n_servers - rate * service))


def chance_of_longer_wait(arrival_rate, mean_service, n_servers, time):
    """Return the share of jobs that wait longer than `time`, exponential service.

    Parameters
    ----------
    arrival_rate, mean_service, n_servers
        As `mm_c`.
    time : 0 or more; 0 gives `erlang_c`

    Raises
    ------
    ScoringError
        As `erlang_c`; if mean_service is 0, or time is out of its range.

    Examples
    --------
    >>> chance_of_longer_wait(0.5, 1.0, 1, 0.0).item()
    0.5
    """
    rate = _at_least_0("arrival rate", arrival_rate)
    service = _at_least_0("mean service", mean_service)
    if np.any(service == 0):
        raise ScoringError("mean service: 0 is not a time to serve in; above 0")
    load, time = rate * service, _at_least_0("time", time)
    return erlang_c(load, n_servers) * np.exp(-(n_servers - load) * time / service)


def pollaczek_khinchine(arrival_rate, mean_service, scv):
    """Return the Queue of Poisson arrivals at one server, whatever its service times.

    Parameters
    ----------
    arrival_rate : jobs per unit of time; 0 or more
    mean_service : time; 0 or more
    scv : squared coefficient of variation of service: variance / mean², 0 or more
        0 if all jobs take the same time, 1 if exponential.

    Raises
    ------
    ScoringError
        If arrival_rate · mean_service is not below 1, or an argument is out of range.

    Source
    ------
    Pollaczek (1930), Khinchine (1932), as in van Foreest, Analysis of Queueing Systems
    (open book), section on the M/G/1 queue:
    wait = (1 + scv)/2 · ρ/(1 − ρ) · mean service.

    Examples
    --------
    >>> pollaczek_khinchine(0.5, 1.0, [0.0, 1.0]).wait.tolist()
    [0.5, 1.0]
    """
    rate = _at_least_0("arrival rate", arrival_rate)
    service = _at_least_0("mean service", mean_service)
    load = rate * service
    _below_capacity(load, 1)
    scv = _at_least_0("squared coefficient of variation", scv)
    return _queue(rate, service, (1 + scv) / 2 * load / (1 - load) * service)


def _queue(rate, service, wait):
    """Return the Queue that has this mean wait, by Little's law."""
    rate, service, wait = np.broadcast_arrays(rate, service, wait)
    return Queue(wait, rate * wait, wait + service, rate * (wait + service))


def _at_least_0(name, value):
    value = np.asarray(value, dtype=float)
    wrong = value[~(np.isfinite(value) & (value >= 0))]
    if wrong.size:
        raise ScoringError(f"{name}: {wrong[0].item()!r}; finite, 0 or more")
    return value


def _whole(name, value, least):
    value = np.asarray(value, dtype=float)
    is_whole = np.isfinite(value) & (value == np.round(value)) & (value >= least)
    if not is_whole.all():
        wrong = value[~is_whole][0].item()
        raise ScoringError(f"{name}: {wrong!r}; a whole number, {least} or more")
    return value


def _below_capacity(load, n_servers):
    """Raise if work arrives as fast as the servers can do it, or faster."""
    load, n_servers = np.broadcast_arrays(load, n_servers)
    wrong = load >= n_servers
    if wrong.any():
        raise ScoringError(
            f"load: {load[wrong][0].item()!r} with {n_servers[wrong][0]:.0f} to serve: "
            "the line grows without end; below the number of servers"
        )
