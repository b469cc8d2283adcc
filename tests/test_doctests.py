"""The examples in the modules and in the README run and print what they claim."""

import doctest
import importlib
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from scoring.commands import main

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
WITH_EXAMPLES = [
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
    for path in sorted((ROOT / "scoring").rglob("*.py"))
    if ">>> " in path.read_text(encoding="utf-8")
]


def commands(text):
    """Return [(arguments, output)] of the toolkit's commands in ```console blocks.

    A line that starts with `$ ` is a command; the lines under it are its output, in
    which `...` stands for what is left out.
    """
    shown = []
    for block in re.findall(r"^```console\n(.*?)^```", text, re.DOTALL | re.MULTILINE):
        for entry in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, output = entry.partition("\n")
            _, ours, arguments = command.partition("-m scoring ")
            if ours:
                shown.append((arguments, output.strip("\n")))
    return shown


IN_README = commands(README.read_text(encoding="utf-8")) if README.exists() else []


@pytest.mark.parametrize("module", WITH_EXAMPLES)
def test_examples_of_a_module(module, monkeypatch):
    """Every example in the module's docstrings gives the answer printed under it."""
    monkeypatch.chdir(ROOT)
    outcome = doctest.testmod(importlib.import_module(module), optionflags=FLAGS)
    assert outcome.attempted > 0
    assert outcome.failed == 0


def test_readme_shows_a_ranking_on_the_command_line():
    """The README holds at least one `rank` command with its output."""
    assert [arguments for arguments, _ in IN_README if arguments.startswith("rank ")]


def test_python_examples_of_the_readme(monkeypatch):
    """Whatever Python session the README shows gives the answers it prints."""
    monkeypatch.chdir(ROOT)
    outcome = doctest.testfile(
        str(README), module_relative=False, optionflags=FLAGS, encoding="utf-8"
    )
    assert outcome.failed == 0


@pytest.mark.parametrize(("arguments", "output"), IN_README)
def test_commands_of_the_readme(arguments, output, monkeypatch):
    """A command shown in the README prints what the README says it prints."""
    monkeypatch.chdir(ROOT)
    outcome = CliRunner().invoke(main, shlex.split(arguments))
    assert_prints(output, outcome.output)


def assert_prints(output, printed):
    matches = doctest.OutputChecker().check_output(output, printed, FLAGS)
    assert matches, f"the README says\n{output}\nbut the command printed\n{printed}"


def test_the_first_command_of_the_readme_as_it_is_typed():
    """Started by itself, it prints the same as within the tests."""
    arguments, output = IN_README[0]
    run = subprocess.run(
        [sys.executable, "-m", "scoring", *shlex.split(arguments)],
        cwd=ROOT,
        env={**os.environ, "PYTHONUTF8": "1"},
        capture_output=True,
        encoding="utf-8",
    )
    assert_prints(output, run.stdout + run.stderr)


def test_commands_are_found_in_console_blocks():
    """Only our commands in console blocks count, each with the lines under it."""
    text = (
        "```sh\n$ python -m scoring rank no.yaml\n```\n"
        "```console\n$ ls\nREADME.md\n"
        "$ .venv/bin/python -m scoring rank a.yaml --format csv\nname,rank\n...\n```\n"
    )
    assert commands(text) == [("rank a.yaml --format csv", "name,rank\n...")]
