"""Cash by the month, against what is published, by hand and by invariants."""

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.figures import Trade
from scoring.model.money.finance import net_present_value
from scoring.model.months.cash import (
    Running,
    Work,
    cash_of_draws,
    monthly_cash,
)
from scoring.model.months.learning import demand_share, learning_excess, learning_factor
from scoring.model.months.payment import (
    Payment,
    deposit_and_balance,
    lease,
    loan,
    own_cash,
    still_owed,
)
from scoring.model.months.steps import DAYS_A_MONTH
from scoring.model.months.worth import (
    equivalent_annual_cost,
    funds_gap,
    low_point,
    monthly_rate,
    payback_month,
    rates_of_return,
    worth,
)
from scoring.model.outcome import outcome
from tests.decision.published import published
from tests.model import builders

# Each file names its source; all were read in a transcription, none in the original.
# OpenStax, Principles of Finance, loan amortisation
LOAN = published("loan_annuity_amortisation_openstax")
MORTGAGE = published("mortgage_annuity_openstax")
# OpenStax, Principles of Finance, ch. 16, an embroidery machine
MACHINE = published("npv_irr_payback_machine_openstax")
# OpenStax, Principles of Accounting, a printing press
PRESS = published("depreciation_printing_press_openstax")
# Wikipedia, "Equivalent annual cost", practical example
TWO_MACHINES = published("equivalent_annual_cost_two_machines_wikipedia")
NO_WORK = Work(jobs=0.0, price=0.0, cost=0.0)
FOUR = Work(jobs=4.0, price=500.0, cost=200.0)
money = st.floats(0, 1e5)
rates = st.floats(0, 0.5, allow_subnormal=False)
years = st.integers(1, 4)
payments = st.sampled_from(
    [
        lambda price: own_cash(price, 1.5),
        lambda price: deposit_and_balance(price, price / 3, 3),
        lambda price: loan(price, price / 2, 0.07, 30, price / 5, 2),
        lambda price: lease(price, price * 0.9, price / 40, 24, price / 10),
    ]
)
trades = st.builds(
    Trade,
    months_to_full=st.floats(0, 18),
    seasonality=st.permutations([0.4, 0.6, 0.8, 0.9, 1, 1, 1, 1, 1.1, 1.2, 1.4, 1.6]),
    first_month=st.integers(0, 11),
    learning_start=st.floats(1, 3),
    learning_halving=st.floats(1, 20),
    spoilt_start=st.floats(1, 4),
    training_days=st.floats(0, 10),
    first_jobs=st.floats(0, 8),
    first_discount=st.floats(0, 0.1),
    deposit_share=st.floats(0, 1),
    days_to_pay=st.floats(0, 120),
    unpaid_share=st.floats(0, 0.3),
)
PLAIN, NOTHING, FREE = Trade(), Running(), own_cash(0.0)


def cash(work=NO_WORK, trade=PLAIN, running=NOTHING, payment=FREE, horizon=1):
    return monthly_cash(work, trade, running, payment, horizon)


def by_month(yearly):
    """Return flows at each year's end as flows by the month."""
    flows = np.zeros(12 * (len(yearly) - 1) + 1)
    flows[::12] = yearly
    return flows


def yearly_sums(flows):
    return flows[..., 1:].reshape(*flows.shape[:-1], -1, 12).sum(axis=-1)


def test_plain_years():
    """Without ramp, delay, learning and loss each year is the plain year."""
    # 12 × 4 × (500 − 200) = 14 400; less fee 1 200, upkeep 600, fixed 2 400: 10 200
    found = cash(FOUR, PLAIN, Running(1200, 600, 2400, 3000), own_cash(20_000), 3)
    assert found.flows[0] == -20_000
    assert yearly_sums(found.flows) == pytest.approx([10_200, 10_200, 13_200])
    assert found.flows[1:-1] == pytest.approx(np.full(35, 850))
    # 144 jobs cost 20 000 + 36 × 800 + 3 × 4 200 − 3 000 = 58 400
    result = worth(found, 0.0)
    assert result.cost_per_job == pytest.approx(58_400 / 144)
    assert result.npv == pytest.approx(72_000 - 58_400)
    # 20 000 / 850 = 23.5
    assert result.payback_month == 24


def test_plain_years_are_the_year_model():
    """The average year of two machines and two job types, spread over its months."""
    machines = builders.machines({"plan_fee": 700}, {"upkeep": 400, "prime_min": 30})
    jobs = builders.jobs({"distance_km": 20}, {"per_month": 1, "width_m": 5})
    business = builders.business(fixed_costs=900)
    of = outcome(machines, jobs, business)
    served = of.year.served_per_month
    n_jobs = served.sum(axis=-1, keepdims=True)
    income = of.year.revenue / 12 / n_jobs
    work = Work(n_jobs, income, income - of.year.lines.contributions / 12 / n_jobs)
    lines = of.year.lines
    running = Running(
        -lines.plan_fee,
        -(lines.upkeep + lines.idle_care + lines.ageing),
        -lines.fixed_costs,
        machines.resale,
    )
    found = cash(work, PLAIN, running, own_cash(of.upfront), 5)
    assert found.flows.shape == (1, 2, 61)
    assert found.flows[..., 0] == pytest.approx(-of.upfront[..., 0])
    each = np.broadcast_to(of.year.result, (1, 2, 5))
    assert yearly_sums(found.flows) == pytest.approx(each)
    assert (found.lines.receipts.sum(axis=-1) > 0).all()


def test_low_point():
    """Deposit, balance, a month's wait for the client: the low is the month after."""
    # month 0 −3 000; 1: −100; 2: −100 − 7 000; 3: 2 jobs cost 200, nobody has paid,
    # −300; 4: + 1 200 − 300; so the curve is −3 000, −3 100, −10 200, −10 500, −9 600
    of = (
        Work(jobs=2.0, price=600.0, cost=100.0),
        Trade(days_to_pay=DAYS_A_MONTH),
        Running(fixed_costs=1200),
        deposit_and_balance(10_000, 3_000, 2),
    )
    found = cash(*of)
    result = worth(found, 0.1)
    assert cash_of_draws(*of, 1).lowest == pytest.approx(-10_500)
    curve = [-3_000, -3_100, -10_200, -10_500, -9_600]
    assert result.curve[:5] == pytest.approx(curve)
    assert (result.low_point, result.low_month) == (pytest.approx(-10_500), 3)
    # ten months of 1 200 − 200, twelve of −100, −10 000: the last month collects
    assert result.curve[-1] == pytest.approx(-1_200)
    assert result.payback_month == np.inf
    assert funds_gap(found.flows, 8_000) == pytest.approx(2_500)
    assert funds_gap(found.flows, 11_000) == 0


@given(trades, payments, st.floats(0, 3), st.floats(1, 6))
def test_draws_sink_as_deep_as_their_months(trade, way, days, builds):
    """With their months kept or not, draws have one low point, worth and mean month."""
    of_draws = np.array([[[4.0]], [[1.0]], [[0.0]]])
    work = Work(of_draws, 500.0, 200.0, 6.0, days, 9.0, 0.5, 40.0, 10.0, 90.0, builds)
    price = np.array([[[9_000.0], [20_000.0]]])
    of = work, trade, Running(1200, 600, 2400), way(price)
    flows = monthly_cash(*of, 2).flows

    def mean(figures):
        return np.broadcast_to(figures, (3, 2, 1)).mean(axis=0, keepdims=True)

    found = cash_of_draws(*of, 2, 0.08, mean)
    assert found.lowest.shape == found.npv.shape == (3, 2)
    assert found.lowest == pytest.approx(low_point(flows)[0])
    assert found.npv == pytest.approx(net_present_value(flows, monthly_rate(0.08)))
    assert found.cash.flows == pytest.approx(flows.mean(axis=0, keepdims=True))
    one = cash_of_draws(work._replace(jobs=1.0), *of[1:3], way(20_000.0), 2)
    assert one.lowest == pytest.approx(found.lowest[1, 1])
    assert one.cash is None


def test_low_point_of_nothing_paid():
    """Who never needs money has a low point of 0 at the signing."""
    lowest, month = low_point([[0, 5, 3], [4, -9, 5], [3, 1, 1]])
    assert lowest.tolist() == [0, -5, 0]
    assert month.tolist() == [0, 1, 0]


def test_payback_waits_out_a_dip():
    """Payback is the month from which cash stays up, plain and discounted."""
    # −100, −40, 10, −20, 20; at 100 % a month: −100 + 30 + 12.5 − 3.75 + 2.5 < 0
    flows = [-100, 60, 50, -30, 40]
    assert payback_month(flows) == 4
    assert payback_month(flows, 2.0**12 - 1) == np.inf
    assert payback_month([0, 1, 1]) == 0


def test_learning_by_hand():
    """The excess of the first builds: 1 + 1/2 + 1/4 at a halving a build."""
    factors = learning_factor(np.arange(3), 2.0, 1)
    assert factors.tolist() == [2, 1.5, 1.25]
    assert learning_excess(0, 3, 2.0, 1) == pytest.approx(1.75)
    assert learning_excess(1, 2, 2.0, 1) == pytest.approx(0.75)
    # three jobs a month, 40 each for building: 3 × 200 + 1.75 × 40 = 670 at first,
    # then an eighth of the excess: 1.75 / 8 × 40 = 8.75
    work = Work(jobs=3.0, price=500.0, cost=200.0, build_cost=40.0)
    slow = Trade(learning_start=2.0, learning_halving=1.0)
    found = cash(work, slow).lines.job_costs
    assert found[1:3] == pytest.approx([-670, -608.75])


@given(st.integers(0, 40), st.integers(1, 30), st.floats(1, 3), st.floats(1, 20))
def test_learning_excess_is_the_sum_of_the_builds(done, more, start, halving):
    """The closed form is the sum over the builds, however a month cuts them."""
    each = learning_factor(np.arange(done, done + more), start, halving) - 1
    found = learning_excess(done, more, start, halving)
    assert found == pytest.approx(each.sum(), abs=1e-9)
    first = learning_excess(done, more / 3, start, halving)
    rest = learning_excess(done + more / 3, 2 * more / 3, start, halving)
    assert first + rest == pytest.approx(found, abs=1e-9)


def test_learning_takes_days():
    """While building is slow, fewer jobs fit into the month's days."""
    # 2 days a job, half of it building; first builds twice as slow: 2 × 1.5 = 3 days,
    # 6 days hold 2 jobs; then the excess is 1/4: 2 × (1 + 1/8) = 2.25, 6 / 2.25 = 8/3
    work = Work(4.0, 500.0, 0.0, days=2.0, days_available=6.0, build_share=0.5)
    slow = Trade(learning_start=2.0, learning_halving=1.0)
    found = cash(work, slow)
    assert found.jobs[1:3] == pytest.approx([2, 8 / 3])
    # days worked in the first: 2 × (2 + 0.5 × 1.5) = 5.5 of 6; learned: 6 / 2 = 3 jobs
    assert found.days[1] == pytest.approx(5.5)
    assert (found.days <= 6).all()
    assert cash(work).jobs[1:] == pytest.approx(np.full(12, 3))


def test_demand_rises_evenly():
    """Four months to full work from a delivery after one: 1/8, 3/8, 5/8, 7/8, 1."""
    found = demand_share(np.arange(7), 4.0, 1.0)
    assert found == pytest.approx([0, 0, 1 / 8, 3 / 8, 5 / 8, 7 / 8, 1])
    assert demand_share(np.arange(3), 0.0, 0.0).tolist() == [0, 1, 1]


@given(st.floats(0, 12), st.floats(0, 11))
def test_a_ramp_loses_half_of_itself(ramp, wait):
    """Over a horizon, work is lost for the wait and for half the months of the rise."""
    found = cash(
        FOUR, Trade(months_to_full=ramp), NOTHING, own_cash(0.0, wait), horizon=2
    )
    assert found.jobs.sum() == pytest.approx(4 * (24 - wait - ramp / 2))
    assert found.revenue.sum() == pytest.approx(500 * found.jobs.sum())


def test_seasons_follow_the_calendar():
    """A business signed so that month 1 is November starts with November's factor."""
    factors = np.array([0.5, 0.5, 1, 1, 1, 1, 1, 1, 1, 1, 1.25, 1.75])
    found = cash(FOUR, Trade(seasonality=factors, first_month=10), horizon=2)
    assert found.jobs[:6] == pytest.approx([0, 5, 7, 2, 2, 4])
    assert found.jobs[13:].tolist() == found.jobs[1:13].tolist()


def test_training_days_come_first_and_are_not_paid():
    """5 of the first month's 8 days go to training, at 90 of the crew's wages a day."""
    # 4 jobs of 2 days fill 8 days; 3 are left in month 1: 1.5 jobs. Later months are
    # whole. 1.5 · 300 left, less 5 · 90.
    work = FOUR._replace(days=2.0, days_available=8.0, day_wages=90.0)
    found = cash(work, Trade(training_days=5.0))
    assert found.jobs[1:4] == pytest.approx([1.5, 4, 4])
    assert found.flows[1:3] == pytest.approx([1.5 * 300 - 450, 1200])
    assert found.days[1] == pytest.approx(8)
    # 10 days of training fill month 1 and a quarter of month 2.
    found = cash(work, Trade(training_days=10.0))
    assert found.jobs[1:4] == pytest.approx([0, 3, 4])


def test_first_jobs_are_cheaper():
    """Six jobs at 20 % off 500: four in month 1, two of four in month 2."""
    found = cash(FOUR, Trade(first_jobs=6.0, first_discount=0.2))
    assert found.revenue[1:4] == pytest.approx([1600, 1800, 2000])
    assert found.flows[1:4] == pytest.approx([800, 1000, 1200])


def test_more_is_spoilt_at_first():
    """Thrice as much spoilt at first, the excess halving with each job."""
    # Two jobs a month; learned they spoil 10 each: 2 more at once, then 1, ½, ¼ …
    work = Work(jobs=2.0, price=500.0, cost=200.0, spoilt_cost=10.0)
    found = cash(work, Trade(spoilt_start=3.0, learning_halving=1.0))
    assert found.flows[1:3] == pytest.approx([600 - 10 * 3, 600 - 10 * 0.75])


def test_clients_pay_late_and_not_all():
    """A quarter with the job, of the rest nine tenths a month and a half later."""
    # 4 × 500 = 2 000: 500 with the job, 1 500 × 0.9 = 1 350 later, half of it after
    # one month, half after two
    trade = Trade(deposit_share=0.25, days_to_pay=1.5 * DAYS_A_MONTH, unpaid_share=0.1)
    found = cash(FOUR, trade)
    assert found.lines.receipts[:5] == pytest.approx([0, 500, 1175, 1850, 1850])
    # a month and a half of 1 350 is out at the end and comes in with the last month
    assert found.lines.receipts[-1] == pytest.approx(1850 + 1.5 * 1350)


@given(trades, st.floats(0, 10))
def test_receipts_are_what_clients_owe_less_the_unpaid(trade, wait):
    """However late clients pay, over the horizon all comes in but the unpaid share."""
    found = cash(FOUR, trade, payment=own_cash(0.0, wait))
    lost = (1 - trade.deposit_share) * trade.unpaid_share
    owed = found.revenue.sum()
    assert found.lines.receipts.sum() == pytest.approx(owed * (1 - lost))
    assert (found.lines.receipts >= -1e-9).all()


def test_the_fee_runs_by_the_month_from_delivery():
    """1 200 a year are 100 a month, from the third month where delivery takes two."""
    found = cash(running=Running(plan_fee=1200), payment=own_cash(0.0, 2), horizon=2)
    assert found.flows.tolist() == [0] * 3 + [-100] * 22


def test_import_tax_lent():
    """A recovered import tax is paid at delivery and comes back months later."""
    payment = own_cash(0.0, 2)._replace(tax_lent=4000, tax_back_months=3)
    found = cash(payment=payment).flows
    assert found.tolist() == [0, 0, -4000, 0, 0, 4000] + [0] * 7
    late = payment._replace(tax_back_months=99)
    assert cash(payment=late).flows[-1] == 4000


def of_loan(file):
    inputs = file["inputs"]
    rate = 12 * inputs["rate_per_month"]
    return loan(inputs["principal"], inputs["principal"], rate, inputs["months"])


@pytest.mark.parametrize(
    "file, rows",
    [(LOAN, "rows_month_payment_interest_principal_balance"), (MORTGAGE, "rows")],
    ids=["loan", "mortgage"],
)
def test_loan_rows(file, rows):
    """The level payment and each printed row of the amortisation."""
    payment, printed = of_loan(file), file["published"]
    assert payment.instalment == pytest.approx(printed["values"]["payment"], abs=0.005)
    assert (payment.deposit, payment.balance) == (0, 0)
    # the book rounds as it goes: the file's tolerance is its drift
    within = printed["tolerance_abs"]
    for month, _, interest, repaid, left in printed["values"][rows]:
        before, after = still_owed(payment, np.array([month - 1, month]))
        assert after == pytest.approx(left, abs=within)
        assert before - after == pytest.approx(repaid, abs=within)
        assert payment.instalment - (before - after) == pytest.approx(
            interest, abs=within
        )


def test_loan_in_the_months():
    """Paid out at delivery, thirty-six sums follow; a shorter horizon settles it."""
    values, within = LOAN["published"]["values"], LOAN["published"]["tolerance_abs"]
    payment = of_loan(LOAN)
    whole = cash(payment=payment, horizon=4).flows
    assert whole[0] == 0
    assert whole[1:37] == pytest.approx(np.full(36, -values["payment"]), abs=0.005)
    assert not whole[37:].any()
    assert -whole.sum() - 32_000 == pytest.approx(values["total_interest"], abs=within)
    # delivered after three months, at the end of the third year 33 sums are paid: the
    # balance of that printed row is settled
    later = payment._replace(delivery_months=3)
    found = cash(payment=later, horizon=3).lines
    left = dict(
        (row[0], row[4])
        for row in values["rows_month_payment_interest_principal_balance"]
    )
    assert not found.machine[:4].any()
    assert found.settled[-1] == pytest.approx(-left[33], abs=within)


@given(st.floats(1e3, 1e5), rates, st.integers(1, 60), years)
def test_a_loan_is_worth_what_it_lends(principal, rate, n_months, horizon):
    """At its own rate a loan costs what it pays out, settled early or not."""
    payment = loan(principal, principal, rate, n_months)
    flows = cash(payment=payment, horizon=horizon).flows
    value = net_present_value(flows, rate / 12)
    assert value == pytest.approx(-principal, rel=1e-9)


@given(st.floats(1e3, 1e5), st.floats(1e-3, 0.5), st.integers(2, 60), st.data())
def test_loan_is_the_librarys(principal, rate, n_months, data):
    """Payment and balance are numpy-financial's with the sign turned."""
    n_paid = data.draw(st.integers(0, n_months))
    payment = loan(principal, principal, rate, n_months)
    level = npf.pmt(rate / 12, n_months, -principal)
    assert payment.instalment == pytest.approx(level, rel=1e-9)
    library = -npf.fv(rate / 12, n_paid, -payment.instalment, principal)
    found = still_owed(payment, n_paid)
    assert found == pytest.approx(library, abs=1e-6 * principal)


def test_lease():
    """Own money at delivery, monthly sums, the residual; or all that is left."""
    # 1 000: 100 at signing, 700 leased, 200 at delivery; 8 sums of 100 and 50 at last
    payment = lease(1000, 700, 100, 8, 50, deposit=100, delivery_months=1)
    found = cash(payment=payment)
    assert found.flows.tolist() == [-100, -200] + [-100] * 7 + [-150, 0, 0, 0]
    # from month 6, at the horizon 6 of 8 sums are paid: 2 × 100 + 50 is settled
    later = cash(payment=payment._replace(delivery_months=6)).lines
    assert later.machine[6:].tolist() == [-200] + [-100] * 6
    assert later.settled[-1] == -250


def test_machine_of_the_book():
    """The book's machine, its years put at every twelfth month."""
    values, tolerance = MACHINE["published"]["values"], MACHINE["published"]
    tolerance, rate = tolerance["tolerance_abs"], MACHINE["inputs"]["rate"]
    flows = by_month(MACHINE["inputs"]["cash_flows"])
    npv = net_present_value(flows, monthly_rate(rate))
    assert npv == pytest.approx(values["NPV"], abs=tolerance["NPV"])
    assert payback_month(flows) == 12 * values["payback"]
    # 5.05 years: not back before the sixth year's money comes at its end
    assert payback_month(flows, rate) == 72
    found = rates_of_return(flows)
    assert 100 * found.rate == pytest.approx(
        values["IRR_percent"], abs=tolerance["IRR"]
    )
    assert (found.kind, found.n_rates, found.sign_changes) == ("one", 1, 1)


@pytest.mark.parametrize("fold", [90.0, 1e3, 1e9, 1e20])
def test_rates_of_return_of_whatever_height(fold):
    """One paid and so many times as much back a month later: by hand, fold¹² − 1."""
    found = rates_of_return(np.array([-1.0, fold]))
    assert found.kind == "one"
    assert found.rate == pytest.approx(fold**12 - 1, rel=1e-9)


def test_rates_of_return_none_one_several():
    """Two rates, none, one below 0, and flows that never change sign."""
    # x = 1/(1 + r): −1600, 10000, −10000 gives 25 x² − 25 x + 4 = 0, x = .8 or .2, so
    # 25 % or 400 %; 100, −200, 150 has no real root; −100, 50 gives x = 2, r = −50 %
    # −1, 6, −11, 6 in y = 1 + r: (y − 1)(y − 2)(y − 3), so 0, 100 and 200 %
    flows = [
        by_month(each)
        for each in (
            [-1600, 10000, -10000, 0],
            [100, -200, 150, 0],
            [-100, 50, 0, 0],
            [-1, -1, 0, -1],
            [-1, 6, -11, 6],
        )
    ]
    found = rates_of_return(flows)
    assert found.kind.tolist() == ["several", "none", "one", "none", "several"]
    assert found.n_rates.tolist() == [2, 0, 1, 0, 3]
    assert found.sign_changes.tolist() == [2, 2, 1, 0, 3]
    expected = [0.25, np.nan, -0.5, np.nan, 0]
    assert found.rate == pytest.approx(expected, abs=1e-9, nan_ok=True)


def test_rate_of_return_of_a_loan_of_twenty_years():
    """To the lender a loan at 1 % a month returns 1.01¹² − 1 a year."""
    payment = loan(1000, 1000, 0.12, 240)
    flows = np.full(241, payment.instalment)
    flows[0] = -1000
    with np.errstate(over="raise", invalid="raise"):
        found = rates_of_return(flows)
    assert found.rate == pytest.approx(1.01**12 - 1)
    assert found.kind == "one"


@given(st.floats(1e3, 1e5), st.floats(50, 1e4), st.integers(1, 5), money)
def test_rate_of_return_agrees_with_the_library(upfront, month, n_years, resale):
    """Of a plain purchase the one rate is worth 0 and is the library's."""
    flows = np.full(12 * n_years + 1, month)
    flows[0] = -upfront
    flows[-1] += resale
    found = rates_of_return(flows)
    assert found.kind == "one"
    value = net_present_value(flows, monthly_rate(found.rate))
    assert value == pytest.approx(0, abs=1e-6 * upfront)
    library = (1 + npf.irr(flows)) ** 12 - 1
    assert found.rate == pytest.approx(library, rel=1e-5, abs=1e-7)


@pytest.mark.parametrize(
    "name, printed", [("A", "EAC_A"), ("B", "EAC_B_correct")], ids="AB"
)
def test_two_machines_of_unequal_lives(name, printed):
    """The equivalent annual costs; the page prints 30780 for the second's 30708."""
    inputs, values = TWO_MACHINES["inputs"], TWO_MACHINES["published"]
    within, values = values["tolerance_abs"], values["values"]
    machine, rate = inputs[name], inputs["rate"]
    upkeep = [machine["annual_maintenance"]] * machine["life"]
    flows = -by_month([machine["investment"], *upkeep])
    found = equivalent_annual_cost(flows, rate)
    assert found == pytest.approx(values[printed], abs=within)
    library = -npf.pmt(rate, machine["life"], machine["investment"])
    assert found - upkeep[0] == pytest.approx(library)


def test_cost_per_unit_is_the_books_wear():
    """A press used down to its resale costs the page what the book writes off."""
    inputs, values = PRESS["inputs"], PRESS["published"]["values"]
    life = inputs["life"]
    per_month = inputs["total_units"] / (12 * life)
    running = Running(resale=inputs["salvage"])
    press = Work(jobs=1.0, price=0.0, cost=0.0, area_m2=per_month, days=2.0)
    found = worth(cash(press, PLAIN, running, own_cash(inputs["cost"]), life), 0.0)
    pages = np.array(inputs["units"])
    assert pages * found.cost_per_m2 == pytest.approx(values["units_of_production"])
    assert 12 * found.cost_per_job == pytest.approx(values["straight_line"])
    assert found.equivalent_annual_cost == pytest.approx(values["straight_line"])
    # 48 000 written off in 60 months of 2 days
    assert found.cash_per_day == pytest.approx(-400)


def test_no_work_has_no_cost_of_a_job():
    """Where nothing is served there is no cost of a square metre, a job or a day."""
    found = worth(cash(payment=own_cash(1000)), 0.1)
    each = [found.cost_per_m2, found.cost_per_job, found.cash_per_day]
    assert np.isnan(each).all()


def test_npv_by_months():
    """At 100 % a month, 4 and 8 are worth 2 and 2; the rate is the yearly one."""
    flows = np.array([-3.0, 4, 8])
    assert net_present_value(flows, monthly_rate(2.0**12 - 1)) == pytest.approx(1)
    assert monthly_rate(1.005**12 - 1) == pytest.approx(0.005)


@given(payments, money, money, trades, rates, years)
def test_a_higher_price_never_raises_the_npv(paying, one, other, trade, rate, horizon):
    """Paid in any way, a dearer machine is worth no more and pays back no sooner."""
    low, high = sorted([one, other])
    cheap, dear = (
        worth(cash(FOUR, trade, Running(600), paying(price), horizon), rate)
        for price in (low, high)
    )
    assert dear.npv <= cheap.npv + 1e-6
    assert dear.low_point <= cheap.low_point + 1e-6
    # next to equal prices may round to either side of paid back
    if high > low + 1:
        assert dear.payback_month >= cheap.payback_month


@given(trades, st.floats(0, 20), st.floats(0, 10), st.floats(0, 3), rates)
def test_more_jobs_never_lower_the_result(trade, jobs, more, days, rate):
    """Work that leaves something even while it is learned never takes from the sum."""
    # a job brings at least 1 000 × 0.9 × 0.7; costs 300, and 100 × (3 − 1) × 1.4 at
    # the most
    work = Work(np.array([jobs, jobs + more]).reshape(1, 2, 1), 1000.0, 300.0)
    work = work._replace(
        days=days, days_available=12.0, build_share=0.5, build_cost=100.0
    )
    found = cash(work, trade, Running(900), own_cash(5000, 1), 2)
    few, many = found.flows.sum(axis=-1)[0]
    assert many >= few - 1e-6
    assert found.jobs[0, 1].sum() >= found.jobs[0, 0].sum() - 1e-9


def test_many_machines_are_one_call():
    """Draws and machines in one call give what each gives alone."""
    rng = np.random.default_rng(3)

    def figures(low, high):
        return rng.uniform(low, high, (3, 2, 1))

    work = Work(
        figures(1, 9),
        figures(300, 900),
        figures(50, 250),
        figures(4, 9),
        figures(1, 2),
        figures(5, 9),
        figures(0, 1),
        figures(0, 50),
    )
    trade = Trade(
        figures(0, 9),
        learning_start=figures(1, 3),
        days_to_pay=figures(0, 90),
        unpaid_share=figures(0, 0.2),
    )
    running = Running(figures(0, 900), figures(0, 900), figures(0, 900), figures(0, 9))
    price = figures(5000, 9000)
    n_months = np.array([[[24], [40]]])
    payment = loan(price, price / 2, 0.06, n_months, price / 4, figures(0, 5))
    found = cash(work, trade, running, payment, 3)
    result = worth(found, 0.08)
    assert found.flows.shape == (3, 2, 37)
    assert result.npv.shape == (3, 2)
    assert found.flows == pytest.approx(sum(found.lines))

    def at(record, draw, machine):
        def one(figure):
            is_whole = np.ndim(figure) != 3
            return (
                figure
                if is_whole
                else np.broadcast_to(figure, (3, 2, 1))[draw, machine, 0]
            )

        return type(record)(*map(one, record))

    for draw, machine in np.ndindex(3, 2):
        records = (at(each, draw, machine) for each in (work, trade, running, payment))
        alone = cash(*records, 3)
        assert found.flows[draw, machine] == pytest.approx(alone.flows)
        assert result.npv[draw, machine] == pytest.approx(worth(alone, 0.08).npv)


@pytest.mark.parametrize(
    "call, sentence",
    [
        (lambda: cash(horizon=0), "years: 0; a whole number, 1 or more"),
        (lambda: own_cash(-5.0), "upfront: -5; 0 or more"),
        (
            lambda: cash(payment=own_cash(0.0, 12)),
            "delivery_months: 12; before the horizon's end, 12 months",
        ),
        (
            lambda: loan(1000, 900, 0.05, 12, deposit=300),
            "deposit and financed sum: 200 above upfront; at most it",
        ),
        (
            lambda: loan(1000, 900, 0.05, 2.5),
            "months: 2.5; a whole number, 1 or more",
        ),
        (
            lambda: cash(trade=Trade(seasonality=[2.0] * 12)),
            "seasonality: twelve factors of mean 1, January first",
        ),
        (
            lambda: cash(trade=Trade(seasonality=[1.0] * 4)),
            "seasonality: twelve factors of mean 1, January first",
        ),
        (
            lambda: cash(trade=Trade(unpaid_share=1.5)),
            "unpaid_share: 1.5; 1 or less",
        ),
        (
            lambda: cash(trade=Trade(learning_start=0.5)),
            "learning_start: 0.5; 1 or more",
        ),
        (
            lambda: cash(trade=Trade(learning_halving=0.0)),
            "learning_halving: 0; more than 0",
        ),
        (
            lambda: cash(FOUR._replace(price=np.nan)),
            "price: nan; 0 or more",
        ),
        (
            lambda: cash(payment=Payment(np.inf, 0.0)),
            "deposit: inf; 0 or more",
        ),
        (
            lambda: monthly_rate(-1.0),
            "rate a year: -1; more than -1 (-100 %)",
        ),
    ],
)
def test_faults_in_sentences(call, sentence):
    """What cannot be is named with what is allowed."""
    with pytest.raises(ScoringError) as fault:
        call()
    assert str(fault.value) == sentence
