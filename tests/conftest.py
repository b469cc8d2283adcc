"""Settings that hold for every test."""

from hypothesis import HealthCheck, settings

# A busy computer is no fault of the code: examples may take as long as they need.
settings.register_profile(
    "unhurried",
    settings.default,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("unhurried")
