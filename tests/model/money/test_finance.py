"""Present value, rate of return, payback and annuity, against what is published."""

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.money.finance import (
    annuity_payment,
    cash_flows,
    discounted_payback,
    equivalent_annual,
    internal_rate_of_return,
    net_present_value,
    payback_months,
    sign_changes,
    straight_line_worth,
)
from tests.decision.published import published

# Each file names its source; all were read in a transcription, none in the original.
# OpenStax, Principles of Finance, ch. 16, an embroidery machine
MACHINE = published("npv_irr_payback_machine_openstax")
# numpy-financial documentation; first rate of return after Gitman (2003), p. 348
LIBRARY = published("numpy_financial_doc_examples")
# Microsoft Support, function reference: NPV, IRR
SPREADSHEET = published("spreadsheet_function_examples_npv_irr_sln_db_ddb")
# OpenStax, Principles of Finance, loan amortisation
LOAN = published("loan_annuity_amortisation_openstax")
MORTGAGE = published("mortgage_annuity_openstax")
# Wikipedia, "Equivalent annual cost", practical example
TWO_MACHINES = published("equivalent_annual_cost_two_machines_wikipedia")
money = st.floats(1e3, 1e5)
yearly = st.floats(1e2, 1e5)
years = st.integers(1, 10)
rates = st.floats(-0.5, 1, allow_subnormal=False)


def of_machine():
    """Return (flows, rate, printed values, tolerances) of the embroidery machine."""
    inputs, printed = MACHINE["inputs"], MACHINE["published"]
    flows = np.array(inputs["cash_flows"], dtype=float)
    return flows, inputs["rate"], printed["values"], printed["tolerance_abs"]


def test_flows_of_a_purchase():
    """Upfront is paid now, each year leaves its result, the last the resale as well."""
    found = cash_flows(900, 300, 3, 50)
    assert found.tolist() == [-900, 300, 300, 350]


def test_flows_over_axes():
    """Draws (2, 1) and machines (3,) broadcast; time is the last axis."""
    found = cash_flows([[100.0], [200.0]], [10.0, 20.0, 30.0], 4, 5)
    assert found.shape == (2, 3, 5)
    assert found[1, 2].tolist() == [-200, 30, 30, 30, 35]


def test_machine_present_value():
    """The machine is worth what the book prints, with the first flow undiscounted."""
    flows, rate, printed, tolerance = of_machine()
    found = net_present_value(flows, rate)
    assert found == pytest.approx(printed["NPV"], abs=tolerance["NPV"])
    # profitability index: worth of the inflows over what was paid
    index = 1 + found / -flows[0]
    assert index == pytest.approx(printed["PI"], abs=tolerance["PI"])


def test_machine_present_value_profile():
    """Eight printed rates, in one call."""
    flows, _, printed, tolerance = of_machine()
    profile = printed["NPV_profile"]
    found = net_present_value(flows, [float(rate) for rate in profile])
    assert found == pytest.approx(list(profile.values()), abs=tolerance["profile"])


def test_machine_rate_of_return():
    """The machine returns 14.09 %; the book's later 14.10 % is the coarser print."""
    flows, _, printed, tolerance = of_machine()
    found = 100 * internal_rate_of_return(flows)
    assert found == pytest.approx(printed["IRR_percent"], abs=tolerance["IRR"])


def test_machine_payback():
    """Plain payback in year 4, discounted payback 5.05 years."""
    flows, rate, printed, tolerance = of_machine()
    assert discounted_payback(flows, 0) == printed["payback"]
    found = discounted_payback(flows, rate)
    within = tolerance["discounted_payback"]
    assert found == pytest.approx(printed["discounted_payback"], abs=within)


def test_machine_terminal_value_is_the_sum_of_the_books_parts():
    """Inflows carried to year 6 give what the book's parts add to, not its misprint."""
    # the parts add to 31,589.23; the book prints 31,595.22
    flows, rate, printed, tolerance = of_machine()
    inflows = np.where(flows > 0, flows, 0)
    found = net_present_value(inflows, rate) * (1 + rate) ** 6
    within = tolerance["terminal_value"]
    assert found == pytest.approx(printed["terminal_value_correct"], abs=within)
    assert found != pytest.approx(printed["terminal_value_printed_wrong"], abs=within)
    # modified rate of return, (terminal value / paid)^(1/6) − 1: 12 % either way
    modified = 100 * ((found / 16000) ** (1 / 6) - 1)
    assert modified == pytest.approx(printed["MIRR_percent"], abs=tolerance["MIRR"])


def test_library_present_value():
    """The present value of numpy-financial's documentation."""
    of = LIBRARY["inputs"]["npv"]
    found = net_present_value(of["flows"], of["rate"])
    within = LIBRARY["published"]["tolerance_abs"]
    assert found == pytest.approx(LIBRARY["published"]["values"]["npv"], abs=within)


def test_library_rates_of_return():
    """The documentation's five sign patterns; of several rates the one nearest 0."""
    flows = LIBRARY["inputs"]["irr"]
    printed = LIBRARY["published"]["values"]["irr"]
    found = [internal_rate_of_return(each) for each in flows]
    within = LIBRARY["published"]["tolerance_abs"]
    assert found == pytest.approx(printed, abs=within)
    # the file's note: the third and the fifth change sign more than once
    assert [sign_changes(each) for each in flows] == [1, 1, 2, 1, 3]


def test_library_payment_and_level_flows():
    """The documentation's loan payment and present value of a savings plan."""
    inputs, printed = LIBRARY["inputs"], LIBRARY["published"]
    rate, n_periods, principal = inputs["pmt"]
    within = printed["tolerance_abs"]
    payment = annuity_payment(principal, rate, n_periods)
    assert payment == pytest.approx(-printed["values"]["pmt"], abs=within)
    # 100 paid each month, the savings drawn at the end: the library's sign is reversed
    rate, n_periods, payment, drawn = inputs["pv"]
    found = net_present_value(cash_flows(0, payment, n_periods, drawn), rate)
    assert found == pytest.approx(-printed["values"]["pv"], abs=within)


def test_spreadsheet_present_value_is_a_period_later():
    """A spreadsheet's NPV discounts its first flow: ours with nothing put before it."""
    printed = SPREADSHEET["published"]["values"]["NPV"]
    for case, value in zip(SPREADSHEET["inputs"]["NPV"], printed, strict=True):
        later = [-case.get("minus", 0), *case["flows"]]
        found = net_present_value(later, case["rate"])
        assert found == pytest.approx(value, abs=0.005)
    # the trap: the first example without the 0 before it is 10 % more
    case = SPREADSHEET["inputs"]["NPV"][0]
    now = net_present_value(case["flows"], case["rate"])
    assert now == pytest.approx(1.1 * printed[0], abs=0.0055)
    assert now != pytest.approx(printed[0], abs=100)


def test_spreadsheet_rates_of_return():
    """The spreadsheet's rate after five years and, below 0, after two."""
    flows = SPREADSHEET["inputs"]["IRR"]
    printed = SPREADSHEET["published"]["values"]
    five, two = internal_rate_of_return(flows), internal_rate_of_return(flows[:3])
    assert five == pytest.approx(printed["IRR5"], abs=5e-10)
    assert two == pytest.approx(printed["IRR2"], abs=5e-10)


def loan(file):
    inputs = file["inputs"]
    return inputs["principal"], inputs["rate_per_month"], inputs["months"]


@pytest.mark.parametrize("file", [LOAN, MORTGAGE], ids=lambda file: file["id"])
def test_loan_payment(file):
    """The level payment to the cent."""
    found = annuity_payment(*loan(file))
    assert found == pytest.approx(file["published"]["values"]["payment"], abs=0.005)


@pytest.mark.parametrize(
    "file, rows",
    [(LOAN, "rows_month_payment_interest_principal_balance"), (MORTGAGE, "rows")],
    ids=["loan", "mortgage"],
)
def test_loan_rows(file, rows):
    """After each printed month the balance is what the payments to come are worth."""
    principal, rate, n_months = loan(file)
    payment = annuity_payment(principal, rate, n_months)

    def balance(month):
        left = np.full(n_months - month + 1, payment)
        left[0] = 0  # nothing is due at the moment itself
        return net_present_value(left, rate)

    # the book rounds as it goes: the file's tolerance is its drift
    within = file["published"]["tolerance_abs"]
    for month, _, interest, repaid, still in file["published"]["values"][rows]:
        assert balance(month) == pytest.approx(still, abs=within)
        assert rate * balance(month - 1) == pytest.approx(interest, abs=within)
        assert balance(month - 1) - balance(month) == pytest.approx(repaid, abs=within)


def test_loan_interest_and_factors():
    """Interest paid in all, and the annuity factor of the formula, not of the prose."""
    principal, rate, n_months = loan(LOAN)
    payment = annuity_payment(principal, rate, n_months)
    interest = n_months * payment - principal
    printed = LOAN["published"]
    within = printed["tolerance_abs"]
    assert interest == pytest.approx(printed["values"]["total_interest"], abs=within)
    # the book's formula has 32.871, its prose 32.781 with two digits swapped
    assert principal / payment == pytest.approx(32.871, abs=0.0005)
    # the mortgage's is printed to six decimals from a rounded power; four hold
    factor = 1 / annuity_payment(1, *loan(MORTGAGE)[1:])
    printed = MORTGAGE["published"]["values"]["annuity_factor"]
    assert factor == pytest.approx(printed, abs=1e-4)


def test_two_machines_of_unequal_lives():
    """The equivalent annual costs, the second with its swapped digits put right."""
    inputs, printed = TWO_MACHINES["inputs"], TWO_MACHINES["published"]
    within, printed = printed["tolerance_abs"], printed["values"]
    machines = [inputs["A"], inputs["B"]]
    invested = [machine["investment"] for machine in machines]
    lives = [machine["life"] for machine in machines]
    upkeep = [machine["annual_maintenance"] for machine in machines]
    first, second = equivalent_annual(invested, inputs["rate"], lives) + upkeep
    assert first == pytest.approx(printed["EAC_A"], abs=within)
    # the page prints 30780 for 30708
    assert second == pytest.approx(printed["EAC_B_correct"], abs=within)
    assert second != pytest.approx(printed["EAC_B_printed_wrong"], abs=within)
    assert second < first


def test_several_sign_changes():
    """Of two rates the one nearest 0; none where no rate exists; all in one call."""
    # −1600, 10000, −10000 (the oil pump of Lorie & Savage, 1955, from memory):
    # with x = 1/(1 + r): 25 x² − 25 x + 4 = 0, x = .8 or .2, so r = 25 % or 400 %
    # 100, −200, 150: 3 x² − 4 x + 2 = 0 has no real root
    # −100, 50, 0: −100 + 50 x = 0, x = 2, r = −50 %
    flows = [[-1600, 10000, -10000], [100, -200, 150], [-100, 50, 0]]
    found = internal_rate_of_return(flows)
    assert found == pytest.approx([0.25, np.nan, -0.5], nan_ok=True)
    assert net_present_value(flows[0], [0.25, 4]) == pytest.approx([0, 0], abs=1e-9)
    assert sign_changes(flows).tolist() == [2, 2, 1]


def test_no_sign_change_has_no_rate_of_return():
    """Only paying, only receiving or nothing at all has no rate of return."""
    flows = [[-5, -1, 0], [5, 0, 1], [0, 0, 0]]
    assert np.isnan(internal_rate_of_return(flows)).all()
    assert sign_changes(flows).tolist() == [0, 0, 0]


def test_zeros_do_not_change_sign():
    """A zero between, before or after other flows is left out of the count."""
    flows = [[0, -5, 0, 5], [-5, 0, 0, -5], [5, 0, -5, 0]]
    assert sign_changes(flows).tolist() == [1, 0, 1]


def test_payback_months():
    """Twelve times upfront over the year's result; never where it leaves nothing."""
    found = payback_months([24000, 24000, 24000, 0, 0], [16000, 0, -1, 100, 0])
    assert found.tolist() == [18, np.inf, np.inf, 0, np.inf]


def test_discounted_payback_within_a_period():
    """Half the second year's discounted flow is half of the second year."""
    # at 100 %: 200/2 = 100, 400/4 = 100, 800/8 = 100
    flows = [[-150, 200, 400, 800], [-300, 200, 400, 800], [-301, 200, 400, 800]]
    assert discounted_payback(flows, 1.0).tolist() == [1.5, 3, np.inf]


def test_discounted_payback_of_nothing_paid():
    """Nothing to earn back is earned back at once; the first time counts."""
    flows = [[0, 5, 5], [7, -9, 1], [-5, 10, -8]]
    assert discounted_payback(flows, 0.0).tolist() == [0, 0, 0.5]


def test_no_interest():
    """At a rate of 0 the level sum is the n-th part and worth is the plain sum."""
    assert annuity_payment(1200, [0, 0], [12, 4]).tolist() == [100, 300]
    assert equivalent_annual(-1000, 0.0, 4) == -250
    assert net_present_value([-10, 4, 7], 0) == 1


@given(money, st.floats(1e-16, 1e-9), years)
def test_next_to_no_interest(principal, rate, n_years):
    """A rate next to 0 gives next to the n-th part."""
    found = annuity_payment(principal, rate, n_years)
    assert found == pytest.approx(principal / n_years, rel=1e-7)


@given(money, st.floats(1e-4, 1), years)
def test_annuity_agrees_with_the_library(principal, rate, n_years):
    """The payment is numpy-financial's with the sign turned."""
    found = annuity_payment(principal, rate, n_years)
    assert found == pytest.approx(-npf.pmt(rate, n_years, principal), rel=1e-9)


@given(st.floats(-1e5, 1e5), rates, years)
def test_equivalent_annual_is_worth_the_value(value, rate, n_years):
    """The level sum paid each year is worth the value now."""
    level = equivalent_annual(value, rate, n_years)
    found = net_present_value(cash_flows(0, level, n_years), rate)
    assert found == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(money, money, yearly, years, rates)
def test_a_higher_upfront_never_raises_the_present_value(one, other, year, n, rate):
    """Paying more for the same years is never worth more."""
    low, high = sorted([one, other])
    cheap, dear = net_present_value(cash_flows([low, high], year, n), rate)
    assert dear <= cheap
    assert payback_months(low, year) <= payback_months(high, year)


@given(money, yearly, years, money)
def test_the_rate_of_return_zeroes_the_present_value(upfront, year, n, resale):
    """At its rate of return a purchase is worth 0."""
    flows = cash_flows(upfront, year, n, resale)
    rate = internal_rate_of_return(flows)
    assert net_present_value(flows, rate) == pytest.approx(0, abs=1e-6 * upfront)


@given(money, rates, years)
def test_level_years_worth_the_upfront_return_the_rate(upfront, rate, n):
    """Years that are worth the upfront at a rate return it and pay back at the end."""
    flows = cash_flows(upfront, equivalent_annual(upfront, rate, n), n)
    assert internal_rate_of_return(flows) == pytest.approx(rate, abs=1e-9)
    assert discounted_payback(flows, rate) == pytest.approx(n, abs=1e-5)


@given(money, yearly, st.integers(1, 10))
def test_undiscounted_payback_agrees_with_the_months(upfront, year, n):
    """At a rate of 0 the level years' payback in periods is the months over 12."""
    found = discounted_payback(cash_flows(upfront, year, n), 0.0)
    expected = payback_months(upfront, year) / 12
    assume(not n < expected < n + 1e-6)  # rounding decides between the end and never
    assert found == pytest.approx(expected if expected <= n else np.inf)


@given(st.lists(st.tuples(money, st.floats(-1e5, 1e5)), min_size=1, max_size=4), rates)
def test_many_purchases_are_one_call(purchases, rate):
    """Arrays of purchases give what each purchase gives alone."""
    upfront, year = np.array(purchases).T
    flows = cash_flows(upfront, year, 5, 100)
    each = [cash_flows(*purchase, 5, 100) for purchase in purchases]
    np.testing.assert_array_equal(flows, each)
    for measure in (
        lambda flows: net_present_value(flows, rate),
        lambda flows: discounted_payback(flows, rate),
        internal_rate_of_return,
        sign_changes,
    ):
        alone = [measure(one) for one in each]
        np.testing.assert_allclose(measure(flows), alone, rtol=1e-12)


def test_rates_over_axes():
    """A rate a draw (draw, 1) applies to all machines' flows (draw, machine, time)."""
    # at 0: −100 + 121 = 21; at 10 %: −100 + 110 = 10 and −100 + 121/1.1 = 10
    flows = np.broadcast_to([-100.0, 121.0], (2, 3, 2))
    found = net_present_value(flows, np.array([[0.0], [0.1]]))
    assert found == pytest.approx(np.array([[21.0] * 3, [10.0] * 3]))


@pytest.mark.parametrize(
    "call, sentence",
    [
        (lambda: cash_flows(1, 1, 0), "years: 0; a whole number, 1 or more"),
        (lambda: cash_flows(1, 1, 2.5), "years: 2.5; a whole number, 1 or more"),
        (
            lambda: cash_flows(1, [1, np.nan], 2),
            "year's result: nan is not a figure; a finite number",
        ),
        (
            lambda: net_present_value([-1, 2], -1),
            "rate: -1 a period; more than -1 (-100 %)",
        ),
        (
            lambda: discounted_payback([-1, np.inf], 0.1),
            "flow: inf is not a figure; a finite number",
        ),
        (
            lambda: internal_rate_of_return([-1, np.nan]),
            "flow: nan is not a figure; a finite number",
        ),
        (
            lambda: payback_months(np.inf, 5),
            "upfront: inf is not a figure; a finite number",
        ),
        (lambda: annuity_payment(100, 0.1, 0), "periods: 0; more than 0"),
        (
            lambda: equivalent_annual(100, -2, 3),
            "rate: -2 a period; more than -1 (-100 %)",
        ),
    ],
)
def test_faults_in_sentences(call, sentence):
    """A figure that cannot be is named with what is allowed."""
    with pytest.raises(ScoringError) as fault:
        call()
    assert str(fault.value) == sentence


@pytest.mark.parametrize("n_years", [0, -1.0, [3, 0], float("nan")])
def test_a_thing_that_lasts_no_time_has_no_worth(n_years):
    """A life of no years gets a sentence, not a division by zero."""
    with pytest.raises(ScoringError, match="years: "):
        straight_line_worth(1000.0, 100.0, n_years, 1.0)
