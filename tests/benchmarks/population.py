"""What many buyers cost: processor time a buyer, growth, one worker against two.

    .venv/bin/python -m tests.benchmarks.population [--large]

The demo's template on the demo's eight machines. Ratios are processor time a buyer
against the row above; 1 is linear. `--large` goes on to 100,000 buyers, on few draws.
Last, a Dask scheduler with one local worker against two, by the clock: on a computer
with two cores to itself two take 1.7 times as much work or more.
"""

import argparse
import resource
import tempfile
import time
from pathlib import Path

from scoring.population import engine
from scoring.population.run import populate, task_of

ROOT = Path(__file__).parents[2]
TEMPLATE = ROOT / "profiles/populations/quenby.yaml"
GROWTH, LARGE = (1_000, 3_000), (10_000, 100_000)
FEW = 40  # draws, for growth
WORKERS = 2


def used():
    """Return processor seconds of this process and of all that it has ended."""
    of = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    each = (resource.getrusage(who) for who in of)
    return sum(one.ru_utime + one.ru_stime for one in each)


def taken(n_buyers, n_draws, engine_of):
    """Return (seconds by the clock, processor seconds) of a population."""
    task = task_of(TEMPLATE, ROOT / "profiles/machines", n_draws)
    start, before = time.perf_counter(), used()
    with tempfile.TemporaryDirectory() as folder:
        populate(task, n_buyers, folder, engine_of, lambda n: None)
    return time.perf_counter() - start, used() - before


def growth(sizes):
    """Print a row for each number of buyers."""
    last = None
    for n_buyers in sizes:
        clock, processor = taken(n_buyers, FEW, engine.processes(WORKERS))
        each = processor / n_buyers
        ratio = "" if last is None else f"ratio {each / last:.2f}"
        memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        spent = f"{1000 * each:6.2f} ms of processor a buyer"
        print(
            f"  {n_buyers:>8,} buyers {clock:8.1f} s  {spent}  {ratio:11} "
            f"peak of a worker {memory:.0f} MiB",
            flush=True,
        )
        last = each


def by_scheduler(n_buyers=400, n_draws=200):
    """Print what two Dask workers bring more than one."""
    from distributed import LocalCluster

    clocks = []
    for n_workers in (1, 2):
        with LocalCluster(n_workers=n_workers, threads_per_worker=1) as cluster:
            address = cluster.scheduler_address
            taken(50 * n_workers, FEW, engine.scheduler(address))  # modules are read
            clocks.append(taken(n_buyers, n_draws, engine.scheduler(address))[0])
    print(f"  two Dask workers against one: {clocks[0] / clocks[1]:.2f} times as much")


def main():
    """Print all."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--large", action="store_true", help="to 100,000 buyers")
    options = parser.parse_args()
    print(f"growth with buyers, {FEW} draws each, {WORKERS} processes")
    growth(GROWTH + LARGE * options.large)
    print("1,000 buyers, 8 machines, 200 draws each")
    clock, processor = taken(1_000, 200, engine.processes(WORKERS))
    print(f"  {clock:.1f} s by the clock, {processor:.1f} s of processor time")
    by_scheduler()


if __name__ == "__main__":
    main()
