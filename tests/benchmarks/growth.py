"""How the whole model grows with draws, machines and jobs: ratios near 1 are linear.

    .venv/bin/python tests/benchmarks/growth.py [--large]

A ratio is processor time for each draw (machine, job) against that in the row above;
below 1, more of them cost less each. Peak memory is the process's so far.
"""

import argparse
import resource
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from scoring import (
    evaluate,  # noqa: E402
    load_brief,  # noqa: E402
    load_machines,  # noqa: E402
)
from scoring.questions.firmness import (
    CHUNK,  # noqa: E402
    how_firm,  # noqa: E402
)

DRAWS = (1_000, 10_000, 100_000)
LARGE = (1_000_000, 10_000_000)
TIMES_MACHINES = (1, 5, 15)
TIMES_JOBS = (1, 3)
BRIEF = "profiles/briefs/workshop.yaml"


def copies(records, times):
    """Return the records so many times over, each copy with a name of its own."""
    return [
        each if n == 0 else each.model_copy(update={"name": f"{each.name} {n + 1}"})
        for n in range(times)
        for each in records
    ]


def with_jobs(brief, times):
    """Return the brief with its kinds of job so many times over."""
    return brief.model_copy(update={"work": tuple(copies(brief.work, times))})


def taken(deed):
    """Return the processor time of a deed in seconds."""
    start = time.process_time()
    deed()
    return time.process_time() - start


def rows(what, sizes, deed_of):
    """Print a row for each size: time, for each one, and that against the row above."""
    before = None
    for size, deed in zip(sizes, map(deed_of, sizes), strict=True):
        took = taken(deed)
        each, memory = took / size, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        ratio = "" if before is None else f"ratio {each / before:5.2f}"
        print(
            f"  {size:>10,} {what:8} {took:8.2f} s {1e6 * each:12.1f} µs each  "
            f"{ratio:11}  peak {memory / 1024:.0f} MiB",
            flush=True,
        )
        before = each


def main():
    """Print the three growths."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--large", action="store_true", help="to 10 million draws")
    options = parser.parse_args()
    brief, machines = load_brief(BRIEF), load_machines("profiles/machines")
    evaluation = evaluate(brief, machines)
    how_firm(evaluation, CHUNK)  # tables of quantiles are made once

    print("how firm, by draws; ratio of the time for each draw")
    draws = DRAWS + LARGE * options.large
    rows("draws", draws, lambda n: lambda: how_firm(evaluation, n))

    print("evaluate at 1,000 draws, by machines; ratio of the time for each machine")
    sizes = [len(machines) * n for n in TIMES_MACHINES]
    fields = {len(machines) * n: copies(machines, n) for n in TIMES_MACHINES}
    rows("machines", sizes, lambda n: lambda: evaluate(brief, fields[n]))

    print("evaluate at 1,000 draws, by kinds of job; ratio of the time for each kind")
    sizes = [len(brief.work) * n for n in TIMES_JOBS]
    briefs = {len(brief.work) * n: with_jobs(brief, n) for n in TIMES_JOBS}
    rows("jobs", sizes, lambda n: lambda: evaluate(briefs[n], machines))


if __name__ == "__main__":
    main()
