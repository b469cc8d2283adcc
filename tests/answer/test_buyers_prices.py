"""What a machine's price moves with it, by hand: what is told, what is guessed."""

import pytest

from scoring import evaluate
from scoring.answer.buyers_prices import priced
from scoring.answer.run import run
from scoring.evidence.draws import in_brief_currency
from tests.cases import brief, machine

SILENT = (
    ("resale: 0 EUR", "resale: unknown"),
    ("upkeep: 0 EUR/year", "upkeep: unknown"),
)
TOLD = (
    ("resale: 0 EUR", "resale: 1500 EUR"),
    ("upkeep: 0 EUR/year", "upkeep: 90 EUR/year"),
)
INSURED = [("discount_rate: 0 %", "discount_rate: 0 %, insurance: 2 %")]


def of_one(*edits):
    """Return (Priced, MachineFigures) of one machine alone."""
    found = evaluate(brief(edits=INSURED), [machine(*edits)])
    drawn = in_brief_currency(found.rows, found.evidence, found.brief)
    again = run(found.brief, found.criteria, found.variants, drawn)
    of = found.evidence, found.variants, again.figures, again.outcome
    return priced(*of), again.figures.machines


def test_what_is_told_stays_where_the_price_doubles():
    """1 500 EUR of resale and 90 a year stay; 2 % more of 10 000 are insured."""
    of, machines = of_one(*TOLD)
    assert of.resale_more == pytest.approx(0)
    assert of.a_year_more == pytest.approx(200)
    assert of.upfront_more == pytest.approx(10_000)


def test_what_is_guessed_as_a_share_of_the_price_doubles_with_it():
    """Resale and upkeep that nobody tells are so many per cent of twice as much."""
    of, machines = of_one(*SILENT)
    assert machines.resale.min() >= 0 and machines.resale.max() > 500
    assert of.resale_more == pytest.approx(machines.resale)
    assert of.a_year_more == pytest.approx(200 + machines.upkeep)
