"""The command line: `python -m scoring …`."""

from scoring.commands import main

main(prog_name="python -m scoring")
