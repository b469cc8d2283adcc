"""Settings that hold for every test."""

import atexit
import os
import shutil
import tempfile

import pytest
from hypothesis import HealthCheck, settings

# Each worker has a core to itself: more threads of numpy's would only get in the way
# of the other worker. It is read when numpy is first imported, after this file.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# What the page keeps of a case goes to a folder of the run's own.
os.environ["MURAL_DATA"] = tempfile.mkdtemp(prefix="mural-")
atexit.register(shutil.rmtree, os.environ["MURAL_DATA"], ignore_errors=True)

# A busy computer is no fault of the code: examples may take as long as they need. The
# same code meets the same examples, so that a change is to blame where a test fails;
# `--hypothesis-profile search` looks for others.
UNHURRIED = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("search", UNHURRIED)
settings.register_profile("repeatable", UNHURRIED, derandomize=True)
settings.load_profile("repeatable")


@pytest.fixture(autouse=True)
def every_number_is_one():
    """Make numpy raise where it would warn: no infinite figure, no NaN by the way.

    A number too small to keep is 0, and that is right.
    """
    import numpy as np  # after OPENBLAS_NUM_THREADS is set

    with np.errstate(all="raise", under="ignore"):
        yield
