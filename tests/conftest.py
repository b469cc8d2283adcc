"""Settings that hold for every test."""

import os

from hypothesis import HealthCheck, settings

# Each worker has a core to itself: more threads of numpy's would only get in the way
# of the other worker. It is read when numpy is first imported, after this file.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# A busy computer is no fault of the code: examples may take as long as they need.
settings.register_profile(
    "unhurried",
    settings.default,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("unhurried")
