"""The case for the bank: figures by hand, sums that meet, stress that never helps."""

from functools import cache

import numpy as np
import pytest

from scoring import evaluate
from scoring.errors import ScoringError
from scoring.model.months import lender
from scoring.questions import bank_case as cases_
from scoring.questions.bank_case import bank_case
from scoring.words.bank import loan_size
from tests import cases
from tests.cases import brief, job, machine

# One machine for 10,000, half of it lent without interest over 20 months; ten years'
# straight line to 0 would need resale; here resale is 0 after 5 years.
PLAIN = (
    "payment: {way: loan, deposit: 0 %, delivery_months: 0..0, borrowed: 5000 EUR, "
    "loan_rate: 0 %, loan_months: 20}\n"
    "trade: {months_to_full: 0, learning_start: 1, spoilt_start: 1, "
    "training_days: 0 day, first_jobs: 0, first_discount: 0 %, days_to_pay: 0 day, "
    "unpaid_share: 0 %}\n"
    "bank: {tax_share: 20 %, enquiries_won: 50 %, forced_sale: 40 %, debts: 50 EUR, "
    "debt_months: 6}\n"
)


def plain(**figures):
    """Return the Evaluation of the plain brief, two kinds of job in it."""
    jobs = [
        job(name="hall", per_month=3, more="    basis: sold\n"),
        job(name="shop", per_month=2, more="    basis: enquiries\n"),
    ]
    return evaluate(brief(*jobs, cash=8_000, more=PLAIN, **figures), [machine()])


@cache
def of_demo(name):
    return bank_case(cases.demo(name))


@pytest.fixture(scope="module")
def case():
    return bank_case(plain())


def test_cover_by_hand(case):
    """2,500 a month less a fifth for tax, over 250 a month and 50 for six months."""
    # A job brings 500 and costs nothing here: 5 jobs, 2,500 a month. Twelve months:
    # 30,000; tax 20 % = 6,000; 24,000 is left. Falls due 12·250 + 6·50 = 3,300.
    assert case.covered.available[0] == pytest.approx(24_000)
    assert case.covered.service[:3] == pytest.approx([3_300, 2_000, 0])
    assert case.covered.ratio[0] == pytest.approx(24_000 / 3_300)
    assert case.lowest == pytest.approx(24_000 / 3_300)
    assert case.chance_below == 0


def test_the_loan_that_the_work_carries_by_hand():
    """Left 24,000 a year, others 300 in the first: at 1.2 19,700 a year is carried.

    24,000/1.2 − 300 = 19,700 in the leanest year, 1,641.67 a month; over 24 months at
    1 % a month, annuity factor (1 − 1.01⁻²⁴)/0.01 = 21.2434 of printed tables.
    """
    found = lender.largest_loan(
        np.array([24_000.0, 24_000.0]), np.array([300.0, 0.0]), 0.01, 24, 1.2
    )
    assert found == pytest.approx(19_700 / 12 * 21.2434, rel=1e-5)


def test_the_size_of_the_loan_is_told(case):
    """What is needed and what is carried stand in one sentence."""
    assert case.carries == pytest.approx(19_700 / 12 * 20, rel=1e-9)
    assert "A loan of 5 000 EUR is needed" in loan_size(case).replace("\u202f", " ")
    assert loan_size(case).endswith("which is enough.")


def test_break_even_by_hand(case):
    """Instalment 250 and other debts 50 take 0.6 jobs a month that leave 500 each."""
    assert case.break_even == pytest.approx(300 / 500)


def test_jobs_evidenced_by_hand(case):
    """Three jobs sold count whole, two asked for by half."""
    assert case.evidenced == pytest.approx((3, 2, 0, 4))


def test_sources_by_hand(case):
    """10,000 to the door: half lent, half from 8,000 of own cash."""
    assert case.sources["loan or lease"] == pytest.approx(5_000)
    assert sum(case.uses.values()) == pytest.approx(sum(case.sources.values()))
    assert case.uses["price"] == pytest.approx(10_000)


def test_forced_sale_by_hand(case):
    """Two fifths of a straight line from 10,000 to 0 in 60 months."""
    month = np.arange(61)
    worth = 0.4 * 10_000 * (1 - month / 60)
    np.testing.assert_allclose(case.months.forced_sale, worth, atol=1e-6)
    # owed 5,000 against 4,000 at delivery
    assert case.uncovered == pytest.approx(1_000)
    assert case.uncovered_month == 0


def test_own_cash_by_hand(case):
    """8,000 less 5,000 own money, then 2,500 less 250 and 50 a month."""
    assert case.closing[0] == pytest.approx(3_000)
    assert case.closing[1] == pytest.approx(3_000 + 2_500 - 300)
    assert case.closing[12] == pytest.approx(3_000 + 30_000 - 3_300 - 6_000)


@pytest.mark.parametrize("name", ("new-entrant", "workshop", "second-rig"))
def test_the_months_are_those_of_the_page(name):
    """All lines but drawings and other debts add up to the cash of every screen."""
    case = of_demo(name)
    months = case.evaluation.expected.months.cash
    flows = sum(case.months[:6]) + case.months.end - months.living[0, 0]
    np.testing.assert_allclose(flows, months.flows[0, 0], atol=1e-6)
    whole = case.whole.expected.months.cash.flows[0, case.k]
    np.testing.assert_allclose(flows, whole, atol=1e-6)


@pytest.mark.parametrize("name", ("new-entrant", "workshop", "second-rig"))
def test_sources_meet_uses(name):
    """What the money is for is what it comes from, to the cent."""
    case = of_demo(name)
    assert sum(case.uses.values()) == pytest.approx(sum(case.sources.values()))


@pytest.mark.parametrize("name", ("new-entrant", "second-rig"))
def test_stress_lowers_the_worth(name):
    """No stress makes the purchase worth more; all at once is the worst."""
    told = {each.name: each.npv for each in of_demo(name).stresses}
    assert list(told) == list(cases_.STRESSES)
    assert max(told.values()) == told["as_expected"]
    assert min(told.values()) == told["all"]


def test_stressed_prices_by_hand(case):
    """Prices 15 % lower leave 20,400 a year after tax, over 3,300 that fall due."""
    stress = next(s for s in case.stresses if s.name == "lower_prices")
    # 12 · 2,125 = 25,500; less a fifth = 20,400
    assert stress.lowest_ratio == pytest.approx(20_400 / 3_300)


def test_nobody_left_is_said():
    """Where limits leave no machine, the case asks for a name."""
    nobody = plain(limits="highest_upfront: 1 EUR")
    with pytest.raises(ScoringError, match="--machine"):
        bank_case(nobody)
    assert bank_case(nobody, "Alder").name == "Alder"


def test_unpaid_owner_is_noticed(case):
    """A brief without an own hour and a living is told so; the demo tells one."""
    assert not case.draws_pay
    assert of_demo("new-entrant").draws_pay
