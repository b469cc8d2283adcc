"""Test files run in a fork of one process that has loaded the libraries already."""

import contextlib
import importlib
import math
import os
import re
import signal
import sys
import time
import traceback
from pathlib import Path
from typing import NamedTuple

LIBRARIES = ("numpy", "scipy.stats", "scipy.optimize", "scipy.signal", "pandas")
LIBRARIES += ("pydantic", "pint", "yaml", "ruamel.yaml", "PIL.Image", "hypothesis")
LIBRARIES += ("streamlit.testing.v1", "click.testing", "openpyxl", "altair", "jinja2")
LIBRARIES += ("sqlalchemy", "pytest", "hypothesis.extra.numpy")
QUIET = ("-q", "-x", "--no-header", "--tb=short", "-n", "0", "-p", "no:cacheprovider")
QUIET += ("--hypothesis-profile=planted",)
QUIET += ("-W", "ignore::pytest.PytestAssertRewriteWarning")  # loaded before


class Ran(NamedTuple):
    """How tests ended: pytest's code, None after all patience; the first failure."""

    code: int | None
    seconds: float  # of a processor
    failed: str
    said: str


def load_libraries():
    """Import once what most tests import; nothing of the project."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for name in LIBRARIES:
        importlib.import_module(name)
    from hypothesis import HealthCheck, Phase, settings

    settings.register_profile(  # the same each time; an example need not be small
        "planted",
        deadline=None,
        derandomize=True,
        database=None,
        phases=(Phase.explicit, Phase.generate),
        suppress_health_check=[HealthCheck.too_slow],
    )


def ran(copy, tests, patience_s, prepare=None):
    """Return the Ran of test files, paths below tests/, in a copy of the tree.

    prepare : called in the fork before anything is imported, optional
    """
    log, until = copy.parent / "log.txt", time.monotonic() + patience_s
    child = os.fork()
    if not child:
        _run(copy, tests, log, prepare)
    code, seconds = _end_of(child, until)
    said = log.read_text(encoding="utf-8", errors="replace")
    failed = re.search(r"^(?:FAILED|ERROR) (\S+)", said, re.MULTILINE)
    return Ran(code, seconds, failed[1] if failed else "", said)


def _end_of(child, until):
    """Return (a fork's exit code, its processor time).

    After all patience it is ended, and what it began.
    """
    while time.monotonic() < until:
        done, status, used = os.wait4(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime
        time.sleep(0.05)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None, math.nan


def _run(copy, tests, log, prepare):
    """Run tests as pytest would from the copy's own folder, then end this process."""
    code = 3
    try:
        os.setsid()
        held = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(held, 1)
        os.dup2(held, 2)
        os.chdir(copy)
        _forget(copy)
        if prepare:
            prepare()
        import pytest

        temporary = copy.parent / "temporary"
        paths = [f"tests/{test}" for test in tests]
        code = int(pytest.main([*QUIET, f"--basetemp={temporary}", *paths]))
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _forget(copy):
    """Let `scoring` and `tests` be those of the copy."""
    root = Path(__file__).parents[2]
    apart = [path for path in sys.path if path and Path(path).resolve() != root]
    sys.path[:] = [str(copy), *apart]
    for name in list(sys.modules):
        if name.split(".")[0] in ("scoring", "tests"):
            del sys.modules[name]
    importlib.invalidate_caches()
