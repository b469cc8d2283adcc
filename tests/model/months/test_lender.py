"""Loan by the month, cover and break-even against published and hand-worked figures."""

import math
from pathlib import Path

import numpy as np
import numpy_financial as npf
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from scoring.errors import ScoringError
from scoring.model.months import lender
from scoring.model.months.payment import lease, loan, machine_cash

BOOK = Path(__file__).parents[2] / "reference/loan_annuity_amortisation_openstax.yaml"


def test_schedule_as_in_the_textbook():
    """A three-year loan of 32,000 at 6 % has the rows that OpenStax prints."""
    case = yaml.safe_load(BOOK.read_text("utf-8"))
    given_, told = case["inputs"], case["published"]["values"]
    found = lender.loan_schedule(
        given_["principal"], given_["rate_per_month"], given_["months"]
    )
    tolerance = case["published"]["tolerance_abs"]
    for month, *row in told["rows_month_payment_interest_principal_balance"]:
        ours = [line[month - 1] for line in found]
        assert ours == pytest.approx(row, abs=tolerance)
    assert found.interest.sum() == pytest.approx(told["total_interest"], abs=0.5)


def test_schedule_as_numpy_financial():
    """Interest and principal of each month are those of numpy-financial."""
    found = lender.loan_schedule(9_000.0, 0.09 / 12, 36)
    month = np.arange(1, 37)
    interest = -npf.ipmt(0.09 / 12, month, 36, 9_000.0)
    principal = -npf.ppmt(0.09 / 12, month, 36, 9_000.0)
    np.testing.assert_allclose(found.interest, interest, atol=1e-9)
    np.testing.assert_allclose(found.principal, principal, atol=1e-9)
    assert found.balance[-1] == 0


@given(st.floats(0, 0.4), st.integers(1, 80), st.floats(0, 5))
def test_debt_service_is_what_the_months_pay(rate, n_months, late):
    """Interest and principal add up to the cash for the machine, and pay the loan."""
    payment = loan(10_000.0, 10_000.0, rate, n_months, delivery_months=late)
    n = 12 * 8
    found = lender.debt_service(payment, n)
    month = np.arange(n + 1)
    cash, _ = machine_cash(payment, month, n)
    np.testing.assert_allclose(found.interest + found.principal, -cash, atol=1e-6)
    assert found.principal.sum() == pytest.approx(10_000.0, rel=1e-6)
    assert found.balance[-1] == pytest.approx(0, abs=1e-6)
    assert (found.balance[: math.ceil(late)] == 0).all()


def test_a_lease_is_all_principal():
    """What a lease asks for has no interest of its own; the residual comes last."""
    found = lender.debt_service(lease(900.0, 900.0, 100.0, 9, residual=50.0), 12)
    assert found.interest.sum() == 0
    assert found.principal.tolist() == [0, *[100] * 8, 150, 0, 0, 0]


def test_cover_by_hand():
    """(26,000 − 6,000 drawings − 3,000 tax) over 12,000 that falls due is 1.42."""
    # tax 20 % of (20,000 − 5,000 interest) = 3,000; (20,000 − 3,000) / 12,000 = 1.4167
    tax = lender.tax_set_aside(np.array([20_000.0]), np.array([5_000.0]), 0.2)
    assert tax.tolist() == [3_000.0]
    assert lender.cover_ratio(20_000.0 - tax, 12_000.0) == pytest.approx(17 / 12)


def test_a_year_holds_twelve_months_and_the_signing():
    """25 months make two years; 24 make none, and that is said."""
    assert lender.by_year(np.arange(25.0)).tolist() == [78.0, 222.0]
    with pytest.raises(ScoringError, match="whole years"):
        lender.by_year(np.zeros(24))


def test_lowest_ratio_is_infinite_without_debt():
    """Years without an instalment are no good year: they do not count."""
    assert lender.lowest_ratio(np.array([np.nan, 1.4, 0.9])) == 0.9
    assert np.isinf(lender.lowest_ratio(np.full(3, np.nan)))


@given(st.floats(1, 900), st.floats(0, 300), st.floats(1, 5_000), st.floats(0, 4_000))
def test_break_even_is_the_root(left, own_pay, costs, living):
    """The closed form is where a root finder says that nothing is left over."""

    def over(n):
        return n * left - costs - max(living - n * own_pay, 0)

    expected = brentq(over, 0, 20_000, xtol=1e-10)
    assert lender.break_even_jobs(left, own_pay, costs, living) == pytest.approx(
        expected, rel=1e-6, abs=1e-6
    )


def test_no_break_even_where_a_job_leaves_nothing():
    """A job that costs what it brings pays for no machine."""
    assert lender.break_even_jobs(0.0, 50.0, 100.0) == np.inf
