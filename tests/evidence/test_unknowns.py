"""What nobody tells counts as the worse of what the others tell, by hand."""

import pytest

from scoring import evaluate
from tests.cases import brief, machine

RESALE = "resale: 0 EUR"


def test_an_untold_resale_counts_as_the_lower_quartile():
    """Of 1 000 and 5 000 told: best 5 000, likely 2 000 (a quarter up), worst 1 000."""
    told = [
        machine((RESALE, f"resale: {worth} EUR"), name=name)
        for name, worth in (("Alder", 1000), ("Birch", 5000))
    ]
    silent = machine((RESALE, "resale: unknown"), name="Cedar")
    found = evaluate(brief(), [*told, silent]).evidence["Cedar", "resale"]
    assert (found.low, found.likely, found.high) == pytest.approx((1000, 2000, 5000))


def test_an_untold_price_counts_as_the_upper_quartile():
    """Of 8 000 and 12 000 told: best 8 000, likely 11 000, worst 12 000."""
    told = [machine(name="Alder", price=8000), machine(name="Birch", price=12000)]
    silent = machine(("price: 10000 EUR", "price: unknown"), name="Cedar")
    found = evaluate(brief(), [*told, silent]).evidence["Cedar", "price"]
    assert (found.low, found.likely, found.high) == pytest.approx((8000, 11000, 12000))
