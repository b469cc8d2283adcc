"""Every figure of speed as a ratio: `python -m tests.benchmarks`; some minutes."""

import subprocess
import sys

NAMES = ("command_line", "draws", "growth", "workbook", "page_latency")


def main():
    """Run each benchmark in a process of its own, one after the other."""
    for name in NAMES:
        print(f"== {name}", flush=True)
        subprocess.run([sys.executable, "-m", f"tests.benchmarks.{name}"], check=True)


if __name__ == "__main__":
    main()
