"""How fast shares of ranks are, against bare arithmetic; the model is in `growth`.

    .venv/bin/python tests/benchmarks/draws.py

Prints ratios to a reference measured in the same run: what lasts is the ratio.
"""

import os
import platform
import sys
import time
from importlib.metadata import version
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from scoring.decision import (
    acceptability,  # noqa: E402
    drawn_weights,  # noqa: E402
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


def main():
    """Print what was measured, and on what."""
    print(
        f"{os.cpu_count()} cores, {platform.machine()}, Python "
        f"{platform.python_version()}, numpy {version('numpy')}"
    )
    shares()


if __name__ == "__main__":
    main()
