"""What ties a buyer to a seller, said as the sheet tells it."""

import pytest

from scoring.page.money.seller import tie
from tests.cases import machine

SUPPORT = "support: {response: 1 day, parts_lead_time: 1 day}"


@pytest.mark.parametrize(
    ("told", "said"),
    [("true", "yes"), ("false", "no"), (None, "not told: ask in writing")],
)
def test_a_tie_is_said_as_it_is_told(told, said):
    """Prints on if the fee lapses: yes, no, or a question to ask."""
    more = "" if told is None else f", prints_if_fee_lapses: {told}"
    sheet = machine((SUPPORT, SUPPORT.replace("}", more + "}")))
    assert tie(sheet, "support.prints_if_fee_lapses") == said
    assert tie(sheet, "support.licence_transfers") == "not told: ask in writing"
