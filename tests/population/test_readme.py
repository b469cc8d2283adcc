"""The README's many buyers are those that its commands print."""

import doctest
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
SHOWN = re.compile(r"```sh\n([^`]+)```\n+```text\n([^`]+)```")


def shown_of_many_buyers():
    """Return (commands, output) of the README's block of many buyers."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (found,) = [both for both in SHOWN.findall(text) if "population show" in both[0]]
    return found[0].splitlines(), found[1].replace("…", "...")


def test_the_readme_shows_many_buyers():
    """Its two commands go together: the folder that one writes, the other shows."""
    (work_out, show), output = shown_of_many_buyers()
    assert work_out.split()[-1] == show.split()[-1]
    assert output.count("...") == 1  # what is left out is left out once
    assert "buyers that these questions have not seen" in output


@pytest.mark.slow
def test_the_readmes_many_buyers(tmp_path):
    """A thousand buyers worked out anew print what the README says they print."""
    commands, output = shown_of_many_buyers()
    for command in commands:
        _, _, arguments = command.partition("-m scoring ")
        told = [
            part.replace("profiles", f"{ROOT}/profiles") for part in arguments.split()
        ]
        run = subprocess.run(
            [sys.executable, "-m", "scoring", *told],
            cwd=tmp_path,
            env={"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
            capture_output=True,
            encoding="utf-8",
        )
        assert run.returncode == 0, run.stderr
    # what follows the README's last line is cautions, as everywhere
    assert doctest.OutputChecker().check_output(output + "...", run.stdout, FLAGS)
