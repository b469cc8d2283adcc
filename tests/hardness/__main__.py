"""Thousands of spoilt inputs: python -m tests.hardness --n 10000 --seed 1

Prints how many were accepted and refused, and every kind of defect with an example;
`--keep FOLDER` keeps the inputs that made one.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings

from tests.hardness.driving import ACCEPTED, REFUSED, driven
from tests.hardness.mutations import cases

KINDS = (ACCEPTED, REFUSED)


def tried(n, chosen_seed, on_found=None):
    """Return (Counter of outcomes, {defect: (case, what)}) of n spoilt inputs."""
    counts, examples = Counter(), {}

    @seed(chosen_seed)
    @settings(
        max_examples=n,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(cases())
    def drive(case):
        found = driven(case)
        counts[found.outcome] += 1
        if found.outcome not in KINDS:
            smallest = examples.get(found.outcome, (case, found.what))[0]
            if len(case[2]) <= len(smallest[2]):
                examples[found.outcome] = (case, found.what)
        if on_found:
            on_found(sum(counts.values()))

    drive()
    return counts, examples


def main():
    """Try them, and say what became of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path)
    asked = parser.parse_args()

    def on_found(done):
        if done % 500 == 0:
            print(f"{done} …", file=sys.stderr, flush=True)

    counts, examples = tried(asked.n, asked.seed, on_found)
    total = sum(counts.values())
    print(f"{total} spoilt inputs, seed {asked.seed}")
    for outcome, n in counts.most_common():
        print(f"{n:6d}  {100 * n / total:5.1f} %  {outcome}")
    for outcome, (case, what) in examples.items():
        print(f"\n{outcome}: {case[0]} {case[1]}, {len(case[2])} bytes: {what}")
        if asked.keep:
            asked.keep.mkdir(parents=True, exist_ok=True)
            safe = "".join(c if c.isalnum() else "-" for c in outcome)
            (asked.keep / f"{safe}-{case[0]}-{case[1]}").write_bytes(case[2])
    sys.exit(bool(examples))


if __name__ == "__main__":
    main()
