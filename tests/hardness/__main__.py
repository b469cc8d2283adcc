"""Thousands of spoilt inputs: python -m tests.hardness --n 10000 --seed 1

Prints how many were accepted and refused, and every kind of defect with an example;
`--keep FOLDER` keeps the inputs that made one, `--kinds log,zip` tries those alone.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, seed, settings

from tests.hardness.driving import ACCEPTED, DOORS, REFUSED, driven
from tests.hardness.mutations import cases

KINDS = (ACCEPTED, REFUSED)


def tried(n, chosen_seed, on_found=None, kinds=()):
    """Return (Counter of outcomes, {defect: (case, what)}) of n spoilt inputs.

    Of some kinds alone if told, such as "log" or "zip".
    """
    counts, examples = Counter(), {}

    @seed(chosen_seed)
    @settings(
        max_examples=n,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(cases(kinds))
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
    parser.add_argument("--kinds", default="", help="of these alone: log,zip,...")
    asked = parser.parse_args()

    def on_found(done):
        if done % 500 == 0:
            print(f"{done} …", file=sys.stderr, flush=True)

    kinds = [kind for kind in asked.kinds.split(",") if kind]
    if not {*kinds} <= {*DOORS}:
        parser.error(f"--kinds: some of {','.join(DOORS)}")
    counts, examples = tried(asked.n, asked.seed, on_found, kinds)
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
