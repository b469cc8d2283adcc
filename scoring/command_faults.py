"""How a command ends that cannot do what it was asked: a sentence, exit 2."""

import os
import sys
from functools import wraps

import click

from scoring.errors import ScoringError


def faults_to_stderr(command):
    """Show what a person can mend as sentences on standard error, exit 2.

    Where the output cannot be written – a full disk, a reader that has gone – too.
    """

    @wraps(command)
    def run(*args, **kwargs):
        try:
            if sys.stdout is None:  # closed before it began
                raise ScoringError("output: is closed; a terminal, a file or a pipe")
            command(*args, **kwargs)
            sys.stdout.flush()
        except ScoringError as error:
            click.echo(str(error), err=True)
            sys.exit(2)
        except OSError as error:
            _give_up_stdout()
            click.echo(f"output: cannot be written: {error.strerror}", err=True)
            sys.exit(2)

    return run


def _give_up_stdout():
    """Let what is still to be written go nowhere, so that the end says nothing more."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        pass
