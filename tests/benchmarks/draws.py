"""How fast shares of ranks and whole-model draws are, against bare arithmetic.

    .venv/bin/python tests/benchmarks/draws.py [--large]

Prints ratios to a reference measured in the same run: what lasts is the ratio.
"""

import argparse
import os
import platform
import resource
import sys
import time
from importlib.metadata import version
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from scoring import (
    evaluate,  # noqa: E402
    load_brief,  # noqa: E402
    load_machines,  # noqa: E402
)
from scoring.decision import (
    acceptability,  # noqa: E402
    drawn_weights,  # noqa: E402
)
from scoring.questions.firmness import (
    CHUNK,  # noqa: E402
    how_firm,  # noqa: E402
)

N_DRAWS, N_ALTERNATIVES, N_CRITERIA = 100_000, 40, 12
N_LOOP = 300  # draws for the library that takes one decision matrix at a time
REPEATS = 3


def seconds(deed):
    """Return the best wall time of a deed."""
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        deed()
        times.append(time.perf_counter() - start)
    return min(times)


def shares():
    """Print rank acceptability against the bare product and sort."""
    rng = np.random.default_rng(1)
    scores = rng.random((N_ALTERNATIVES, N_CRITERIA))
    weights = drawn_weights.sample_weights(N_DRAWS, N_CRITERIA, rng)
    bare = seconds(lambda: np.argsort(weights @ scores.T, axis=1))

    twins = scores.copy()
    twins[1] = twins[0]  # a tie in every draw
    totals = weights @ scores.T
    print(
        f"rank acceptability, {N_DRAWS} draws × {N_ALTERNATIVES} alternatives × "
        f"{N_CRITERIA} criteria"
    )
    print(f"  bare matrix product and sort {1000 * bare:8.0f} ms")
    taken = seconds(lambda: acceptability.counts_of_weights(scores, weights))
    for name, took, of in (
        ("product and counting", taken, bare),
        ("counting alone", seconds(lambda: acceptability.rank_counts(totals)), bare),
        (
            "ties in every draw, to none",
            seconds(lambda: acceptability.counts_of_weights(twins, weights)),
            taken,
        ),
    ):
        print(f"  {name:28} {1000 * took:8.0f} ms  ratio {took / of:.2f}")
    looped = library(scores, weights[:N_LOOP]) * N_DRAWS / N_LOOP
    print(
        f"  a library in a loop          {1000 * looped:8.0f} ms  "
        f"{looped / taken:.0f} times ours (from {N_LOOP} draws)"
    )


def library(scores, weights):
    """Return the time that pymcdm's TOPSIS takes, one decision matrix at a time."""
    from pymcdm.methods import TOPSIS

    method, types = TOPSIS(), np.ones(N_CRITERIA)

    def loop():
        for row in weights:
            np.argsort(-method(scores, row, types))

    return seconds(loop)


def model(is_large):
    """Print whole-model draws a second, and the memory that more of them take."""
    machines = load_machines("profiles/machines")
    evaluation = evaluate(load_brief("profiles/briefs/workshop.yaml"), machines)
    how_firm(evaluation, CHUNK)  # tables of quantiles are made once
    print("whole model, evidence and weights drawn, worth of every figure")
    for n_draws in (10_000, 100_000, *([10_000_000] if is_large else [])):
        start = time.perf_counter()
        how_firm(evaluation, n_draws)
        taken = time.perf_counter() - start
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"  {n_draws:>10} draws {taken:8.1f} s {n_draws / taken:8.0f} draws/s  "
            f"peak {memory:.0f} MiB"
        )


def main():
    """Print what was measured, and on what."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--large", action="store_true", help="10 million draws, too")
    options = parser.parse_args()
    print(
        f"{os.cpu_count()} cores, {platform.machine()}, Python "
        f"{platform.python_version()}, numpy {version('numpy')}"
    )
    shares()
    model(options.large)


if __name__ == "__main__":
    main()
