"""How long commands take, against importing what they need, in turns in one run.

What `rank` needs are its modules; pint is left out, since usual units need none.

.venv/bin/python -m tests.benchmarks.command_line
"""

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
BRIEF = "profiles/briefs/new-entrant.yaml"
NEEDED = (
    "import click, numpy, pydantic, yaml, scipy.special; "
    "import scoring.commands, scoring.answer.evaluation, scoring.inputs.brief_files, "
    "scoring.inputs.machine_folder, scoring.text.ranking"
)
PAIRS = {
    "--help": (["-m", "scoring", "--help"], ["-c", "import click"]),
    "rank": (["-m", "scoring", "rank", BRIEF], ["-c", NEEDED]),
}
TIMES = 9


def main():
    """Print the median seconds of each command, of its reference, and their ratio."""
    print(f"{'command':10}{'s':>8}{'imports':>10}{'ratio':>8}")
    for name, (command, reference) in PAIRS.items():
        took = {"command": [], "reference": []}
        for _ in range(TIMES):
            took["command"].append(seconds(command))
            took["reference"].append(seconds(reference))
        ours, floor = (statistics.median(times) for times in took.values())
        print(f"{name:10}{ours:8.3f}{floor:10.3f}{ours / floor:8.2f}")


def seconds(arguments):
    """Return how long Python takes with these arguments."""
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, check=True, stdout=subprocess.DEVNULL
    )
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
