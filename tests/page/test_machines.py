"""The screen "Machines": what a sheet says, and what it counts as."""

from scoring.words.figures import GROUP
from tests.page.pages import opened, shown


def test_a_quote_counts_as_likely_with_its_range():
    """12 900 quoted counts as 13 545 (12 900 to 14 835): 0, 5 and 15 % more."""
    page = opened("machines")
    (box,) = [each for each in page.selectbox if "Thrumble Lite" in each.options]
    box.select("Thrumble Lite").run()
    counts = f"13{GROUP}545 EUR (12{GROUP}900 to 14{GROUP}835)"
    assert counts in shown(page)
