"""Who works out the units: any executor; processes here, or workers of a scheduler."""

import ctypes
import sys
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, wait
from contextlib import contextmanager
from functools import lru_cache

from scoring.errors import ScoringError
from scoring.population.unit import worked

AHEAD = 2  # units under way for each worker: none waits, and memory has an end
PATIENCE = 10  # seconds for a scheduler to answer
M_TRIM_THRESHOLD, M_MMAP_THRESHOLD = -1, -3  # of glibc's malloc.h
KEPT_BYTES = 1_000_000_000
LOST = "a worker has ended, perhaps for want of memory; start again to go on from here"


def work_out(executor, n_workers, task, units, on_done):
    """Work the units out in any order; hand each (Unit, columns) over as it comes.

    Parameters
    ----------
    executor : concurrent.futures.Executor
    on_done : function (Unit, {column: array}), called here

    Raises
    ------
    ScoringError
        If a worker is lost, and whatever the units raise.
    """
    waiting, under_way = iter(units), {}
    try:
        while True:
            for unit in waiting:
                under_way[executor.submit(worked_apart, task, unit)] = unit
                if len(under_way) >= AHEAD * n_workers:
                    break
            if not under_way:
                return
            done, _ = wait(under_way, return_when=FIRST_COMPLETED)
            for future in done:
                on_done(under_way.pop(future), future.result())
    except BrokenExecutor:
        raise ScoringError(LOST) from None
    finally:
        for future in under_way:
            future.cancel()


def worked_apart(task, unit):
    """Return what `worked` does, in a process that is there for nothing else."""
    _keep_pages()
    return worked(task, unit)


@lru_cache(maxsize=1)
def _keep_pages():
    """Let this process keep the memory that arrays leave, for the next ones.

    To give pages back and to ask for them again takes a tenth of a unit's time. Of
    glibc (`mallopt`); elsewhere nothing changes.
    """
    if sys.platform != "linux":
        return
    libc = ctypes.CDLL(None)
    if hasattr(libc, "mallopt"):
        for parameter in (M_TRIM_THRESHOLD, M_MMAP_THRESHOLD):
            libc.mallopt(parameter, KEPT_BYTES)


@contextmanager
def processes(n_workers):
    """Yield (executor, workers) of processes on this computer."""
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    # A process of its own from the start: threads of this one are not copied.
    with ProcessPoolExecutor(n_workers, mp_context=get_context("spawn")) as executor:
        yield executor, n_workers


@contextmanager
def scheduler(address):
    """Yield (executor, workers) of a Dask scheduler; ScoringError if none answers."""
    from distributed import Client  # dear to load, and needed for this alone

    try:
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError, TimeoutError):
        raise ScoringError(
            f"{address}: no scheduler answers there; start one with `dask scheduler`, "
            "which says its address, such as tcp://127.0.0.1:8786"
        ) from None
    with client:
        n_workers = sum(client.nthreads().values())
        if not n_workers:
            raise ScoringError(f"{address}: this scheduler has no worker; add one")
        yield client.get_executor(), n_workers
