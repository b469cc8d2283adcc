"""What lacks in a file of claims learnt is told with what is allowed there."""

import pytest

from scoring.errors import InputFaults
from scoring.inputs.claims import load_claims

WHOLE = "time: {ratio: 1.1, unsure: 0.1, between_sellers: 0.1, between_figures: 0.1}\n"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("ratio: 1.1, ", "", "p.yaml:1: time.ratio: is missing; timed as a share of"),
        (
            "unsure: 0.1, ",
            "",
            "p.yaml:1: time.unsure: is missing; a standard deviation",
        ),
        (
            "ratio: 1.1",
            "ratio: 0",
            "p.yaml:1: time.ratio: '0' is not allowed here; 0.001",
        ),
        (
            "ratio: 1.1",
            "ratio: 101",
            "p.yaml:1: time.ratio: '101' is not allowed here; 100 or",
        ),
    ],
)
def test_a_fault_of_claims_says_what_is_allowed(old, new, said):
    """Missing, 0, more than a hundred times: line, key, what is wrong and right."""
    assert load_claims(("p.yaml", WHOLE.encode())).learnt["time"].ratio == 1.1
    with pytest.raises(InputFaults) as raised:
        load_claims(("p.yaml", WHOLE.replace(old, new).encode()))
    assert str(raised.value).startswith(said)
