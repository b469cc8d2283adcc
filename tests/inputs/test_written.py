"""What is written is whole, whatever happens while it is being written."""

import os
import signal
import subprocess
import sys
import time

import pytest

from scoring.errors import ScoringError
from scoring.inputs.files import sheets_below
from scoring.inputs.written import check_writable, write

WRITER = (
    "import sys; from scoring.inputs.written import write\n"
    "n = 0\n"
    "while True:\n"
    "    n += 1\n"
    "    write(sys.argv[1], 'ab'[n % 2] * 400_000)\n"
)


@pytest.mark.parametrize("n_kills", [10, pytest.param(100, marks=pytest.mark.slow)])
def test_a_killed_writer_leaves_one_whole_file(n_kills, tmp_path):
    """Killed at any moment, the file is all of the old text or all of the new one.

    All that the project writes goes through this one function: the demo-day sheet, the
    page's cases; what a killed writer leaves beside the file begins with a point, so
    that no folder of sheets reads it.
    """
    target = tmp_path / "sheet.yaml"
    write(target, "a" * 400_000)
    for n in range(n_kills):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(target)])
        time.sleep(0.2 + 0.013 * (n % 20))
        os.kill(writer.pid, signal.SIGKILL)
        writer.wait()
        text = target.read_text("utf-8")
        assert text in ("a" * 400_000, "b" * 400_000)
    assert sheets_below(tmp_path) == [target]


def test_where_nothing_can_be_written_is_a_sentence(tmp_path):
    """A folder that is not there is named, and nothing is left behind."""
    for path in (tmp_path / "none" / "a.html", tmp_path):
        with pytest.raises(ScoringError, match="another folder|a file's name"):
            check_writable(path)
    with pytest.raises(ScoringError, match="cannot be written"):
        write(tmp_path / "none" / "a.html", "x")
    assert list(tmp_path.iterdir()) == []
