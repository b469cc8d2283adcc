"""What the owner draws, in the case for the bank: worked by hand."""

import pytest

from scoring.questions.bank_case import bank_case, stress_changes
from tests.questions.test_bank_case import plain

LIVING = [("discount_rate: 0 %", "discount_rate: 0 %, living: 1200 EUR")]


@pytest.fixture(scope="module")
def case():
    return bank_case(plain(edits=LIVING))


def test_drawings_are_paid_after_tax(case):
    """30,000 a year earned, a fifth for tax, 14,400 drawn: 9,600 over 3,300 due.

    What is drawn lowers no tax: it is no cost of a trade of one's own.
    """
    assert case.covered.tax[0] == pytest.approx(6_000)
    assert case.covered.available[0] == pytest.approx(30_000 - 6_000 - 14_400)
    assert case.lowest == pytest.approx(9_600 / 3_300)
    assert case.draws_pay


def test_own_cash_ends_the_year_with_what_is_left(case):
    """8,000 in cash less 5,000 of one's own, then a year's 9,600 less 3,300 due."""
    assert case.closing[12] == pytest.approx(8_000 - 5_000 + 9_600 - 3_300)


def test_all_at_once_lowers_prices_too():
    """Jobs −30 % of a year that stands for 30 days, prices −15 %, three months late."""
    evaluation = plain()
    changes = stress_changes(evaluation, "all")
    prices = [each for each in changes if ".price." in each.key[1]]
    assert len(prices) == 2 and {each.times for each in prices} == {0.85}
    jobs = [each for each in changes if each.key[1].endswith("per_month")]
    assert [each.times for each in jobs] == pytest.approx([0.7 * 335 / 365] * 2)
    (late,) = [each for each in changes if each.later]
    assert late.later == 3
