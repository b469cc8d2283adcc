"""Sentences on money say what a hand works out, with the right sign and machine."""

import pytest

from scoring import evaluate
from scoring.questions.years import years
from scoring.words.figures import GROUP
from scoring.words.money import low_point, returns, runs_short
from scoring.words.workings.criteria import working
from tests.cases import brief, machine
from tests.questions.test_years import NOW, PLAIN, asked


def test_the_low_point_is_told_as_what_is_owed():
    """10 000 paid at signing with 6 000 in cash: 10 000 in the red, 4 000 too much."""
    said = low_point(years(evaluate(asked(cash=6000), [machine()])), 0)
    assert said.startswith(
        f"Alder is deepest in the red by 10{GROUP}000 EUR, in month 0"
    )
    assert f"That is 4{GROUP}000 EUR more than your cash and credit." in said


def test_the_import_tax_comes_back_when_it_is_said_to():
    """2 000 of tax advanced with the price comes back after 3 months, not 4."""
    tax = ("import_tax: 0 %", "import_tax: 20 %")
    back = NOW.replace("delivery_months: 0", "delivery_months: 0, tax_back_months: 3")
    registered = (
        "discount_rate: 0 %",
        "discount_rate: 0 %, import_tax_recovered: true",
    )
    again = asked(more=PLAIN + back, edits=[registered])
    flows = years(evaluate(again, [machine(tax)])).cash.flows[0, 0]
    assert flows[:5].tolist() == pytest.approx([-12000, 2000, 2000, 4000, 2000])


def test_support_is_the_answer_and_the_parts():
    """3 days until an answer and 1 until parts arrive are 4 until it runs again."""
    steps = working(evaluate(brief(), [machine(response=3)]), "Alder", "support")
    found = [(step.what, step.value) for step in steps[:4]]
    assert found == [
        ("an answer", pytest.approx(3)),
        ("parts arrive", pytest.approx(1)),
        ("if all is as told", pytest.approx(4)),
        ("days until running again", pytest.approx(4)),
    ]


def test_pay_is_said_to_be_counted_where_it_is():
    """With an hour named, low point and return are after own pay; else before any."""
    hour = ("discount_rate: 0 %", "discount_rate: 0 %, own_hour: 10 EUR/h")
    for edits, pay in (([hour], True), ([], False)):
        found = years(evaluate(asked(edits=edits), [machine()]))
        assert returns(found, 0).endswith(
            "after your own pay." if pay else "before any pay for you."
        )
        assert ("but for the pay of your hours" in low_point(found, 0)) is pay


def test_cash_that_does_not_last_is_known_to_run_short():
    """10 000 at signing out of 6 000 runs short; out of 100 000 nothing does."""
    poor, rich = (
        years(evaluate(asked(cash=cash), [machine()])) for cash in (6000, 100000)
    )
    assert runs_short(poor, 0) and not runs_short(rich, 0)
