"""What is supposed on the screens becomes the engine's change, in its own unit."""

from types import SimpleNamespace

import pytest

from scoring.page.state import work


@pytest.mark.parametrize(("per_cent", "share"), [(20, 0.2), (7.5, 0.075), (0, 0.0)])
def test_money_that_earns_so_many_per_cent_is_a_share(per_cent, share):
    """A rate of 20 on the slider is 0.2 a year in the model."""
    nothing = work.Chosen(1, (), 100, (), None)
    base = SimpleNamespace(brief=SimpleNamespace(work=()))
    (change,) = work.changes_of(base, nothing._replace(rate=per_cent))
    assert change.key == ("brief", "money.discount_rate")
    assert change.known == pytest.approx(share)
