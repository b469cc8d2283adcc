"""The shares told are honest: what is said to come first in x % does so in x %."""

import pytest

from tests.benchmarks.calibration import by_decile, worlds


@pytest.mark.slow
def test_shares_of_first_places_come_true():
    """In 240 worlds each decile of shares told agrees within four standard errors."""
    rows = by_decile(*worlds(240, 200, seed=11))
    assert sum(n for *_, n in rows) == 240 * 8
    assert len(rows) >= 8
    for told, came, error, _ in rows:
        # Four binomial errors, and the error of the told share itself: √(0.25/200).
        assert abs(came - told) < 4 * error + 0.035
