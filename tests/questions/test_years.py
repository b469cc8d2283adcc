"""Money by the month and simulated years, on small cases worked by hand."""

import numpy as np
import pytest
from scipy import stats

from scoring import evaluate
from scoring.errors import InputFaults
from scoring.questions.years import chances, if_wrong, short_of_both, years
from scoring.words.figures import GROUP
from scoring.words.ruled_out import reasons
from tests.cases import brief, demo, job, machine

# Nothing late: work in full from the first month, learned, paid at once, all of it.
PLAIN = (
    "trade: {months_to_full: 0, learning_start: 1, spoilt_start: 1, "
    "training_days: 0 day, first_discount: 0 %, days_to_pay: 0 day, "
    "unpaid_share: 0 %, patience: 1000 day}\n"
)
NOW = "payment: {way: cash, delivery_months: 0}\n"


def asked(*jobs, more=PLAIN + NOW, **given):
    """Return a small Brief without anything late, unless given otherwise."""
    return brief(*jobs, more=more, **given)


def test_without_delay_the_months_are_the_average_year():
    """Twelve months of 4 jobs at 500 are the year's 24 000; back after five months."""
    # 10 000 at signing, then 2 000 a month: month 5 is the first with 0 or more; after
    # 60 months −10 000 + 60 · 2 000 = 110 000, the present value at 0 %.
    found = years(evaluate(asked(), [machine()]))
    flows = found.cash.flows[0, 0]
    assert flows[0] == pytest.approx(-10000)
    assert flows[1:].tolist() == pytest.approx([2000] * 60)
    assert found.worth.low_point[0, 0] == pytest.approx(-10000)
    assert found.worth.payback_month[0, 0] == 5
    assert found.worth.npv[0, 0] == pytest.approx(110000)
    assert found.funds_gap[0] == 0


def test_a_rising_demand_and_a_late_delivery_cost_months():
    """Delivery after 2 months and 4 months to full: 2 + half of 4 months are lost."""
    # A rise from 0 over 4 months brings half of their work: 4 · 2 000/2 = 4 000 less;
    # two months of waiting bring nothing: 4 000 less.
    late = PLAIN.replace("months_to_full: 0", "months_to_full: 4")
    late += NOW.replace("delivery_months: 0", "delivery_months: 2")
    found = years(evaluate(asked(more=late), [machine()]))
    assert found.worth.npv[0, 0] == pytest.approx(110000 - 8000)
    assert found.cash.flows[0, 0, 1:3].tolist() == pytest.approx([0, 0])


def test_a_loan_spreads_the_price_and_its_interest():
    """6 000 over 12 months at 0 % are 500 a month; 4 000 are paid at signing."""
    loan = (
        "payment: {way: loan, deposit: 40 %, borrowed: 6000 EUR, loan_rate: 0 %, "
        "loan_months: 12, delivery_months: 0}\n"
    )
    found = years(evaluate(asked(more=PLAIN + loan), [machine()]))
    flows = found.cash.flows[0, 0]
    assert flows[0] == pytest.approx(-4000)
    assert flows[1:14].tolist() == pytest.approx([1500] * 12 + [2000])
    assert found.instalments_a_year[0] == pytest.approx(6000)


def test_a_lease_asks_its_months_and_the_residual():
    """10 % at signing, 300 a month for 24 months, 1 000 to own it with the last."""
    lease = (
        "payment: {way: lease, deposit: 10 %, lease_per_month: 300 EUR, "
        "residual: 1000 EUR, loan_months: 24, delivery_months: 0}\n"
    )
    found = years(evaluate(asked(more=PLAIN + lease), [machine()]))
    flows = found.cash.flows[0, 0]
    assert flows[0] == pytest.approx(-1000)
    assert flows[1:26].tolist() == pytest.approx([1700] * 23 + [700, 2000])


def test_money_that_is_not_there_is_named():
    """With 8 000 of cash, a low point of 10 000 lacks 2 000."""
    found = years(evaluate(asked(cash=8000), [machine()]))
    assert found.funds_gap[0] == pytest.approx(2000)


def test_the_simulated_years_go_to_the_average_year():
    """Where all work fits, the mean of simulated years is the average year's result."""
    # 4 jobs a month of one day each in a diary of 10: little waits, nobody leaves. The
    # mean misses what waits at the year's end, less than one job of 48; standard error
    # of 2 000 years of a Poisson sum of 48 jobs of 500: 500 · √48/√2000 = 77.
    evaluation = evaluate(asked(), [machine()])
    found = chances(evaluation, n_years=2000)
    from scoring.model.queue import simulated_year

    assert found.results.shape == (3, 1)
    assert found.results[1, 0] == pytest.approx(24000, abs=500 + 4 * 77)
    # P10 and P90 of a Poisson sum: about 24 000 ∓ 1.2816 · 500 · √48 = 4 440.
    spread = found.results[2, 0] - found.results[0, 0]
    assert spread == pytest.approx(2 * 1.2816 * 500 * 48**0.5, rel=0.12)
    assert simulated_year.percentiles(np.arange(101.0)[:, None])[1, 0] == 50


def test_an_overfull_diary_turns_clients_away():
    """20 jobs of a day in a diary of 10 with impatient clients: many go elsewhere."""
    busy = PLAIN.replace("patience: 1000 day", "patience: 5 day") + NOW
    found = chances(evaluate(asked(job(per_month=20), more=busy), [machine()]))
    assert found.turned_away[0] > 80
    assert found.days_idle[0] < 40


def test_a_higher_price_never_raises_present_value():
    """Over prices from 5 000 to 40 000 the present value by the months only falls."""
    values = [
        years(evaluate(asked(), [machine(price=price)])).worth.npv[0, 0]
        for price in (5000, 12000, 25000, 40000)
    ]
    assert values == sorted(values, reverse=True)


def test_the_demo_by_the_month():
    """Every machine of the demo has its months; those that serve nothing never pay."""
    evaluation = demo("new-entrant")
    found, chance = years(evaluation), chances(evaluation, n_years=200)
    k = evaluation.index("Mossick Works")
    assert found.worth.payback_month[0, k] == np.inf
    assert chance.shortfall[k] == 1
    assert np.isfinite(found.worth.low_point).all()


def test_a_low_point_below_cash_and_credit_rules_out():
    """9 000 on hand, 10 000 to pay, half a year without work: 500 a month more."""
    # 6 months of fixed costs at 100 each: 10 600 in the red at month 6, then 1 900 a
    # month come in. With 10 600 of cash it is ranked, with 10 599 it is not.
    fixed = ("fixed_costs: 0 EUR/year", "fixed_costs: 1200 EUR/year")
    late = PLAIN + NOW.replace("delivery_months: 0", "delivery_months: 6")
    rich = evaluate(asked(more=late, cash=10600, edits=[fixed]), [machine()])
    assert rich.is_ranked[0]
    poor = evaluate(asked(more=late, cash=10599, edits=[fixed]), [machine()])
    assert not poor.is_ranked[0]
    (reason,) = reasons(poor, 0)
    assert "10 600 EUR more than it has brought by month 6" in reason.replace(
        GROUP, " "
    )
    assert "Smallest change: 1 EUR more" in reason


def test_without_terms_or_trade_the_low_point_is_named_not_ruled_out():
    """Where the brief tells neither payment nor trade, only the price must be there."""
    evaluation = evaluate(brief(cash=10000), [machine()])
    assert evaluation.is_ranked[0]
    found = years(evaluation)
    assert -found.worth.low_point[0, 0] >= 10000
    assert found.funds_gap[0] == pytest.approx(-found.worth.low_point[0, 0] - 10000)


def test_a_lease_needs_the_deposit_not_the_price():
    """1 000 of cash carry a lease of a machine of 10 000, and 999 do not."""
    lease = (
        "payment: {way: lease, deposit: 10 %, lease_per_month: 300 EUR, "
        "loan_months: 24, delivery_months: 0}\n"
    )
    for cash, is_ranked in ((1000, True), (999, False)):
        found = evaluate(asked(more=PLAIN + lease, cash=cash), [machine()])
        assert found.is_ranked[0] == is_ranked


def test_a_loan_leaves_the_rest_of_the_credit():
    """Of 8 000 of credit 6 000 are borrowed: 2 000 and the cash carry the deposit."""
    # 10 000 to pay: 4 000 at signing, 6 000 by the loan; low point 4 000 in month 0.
    loan = (
        "payment: {way: loan, deposit: 40 %, borrowed: 6000 EUR, loan_rate: 0 %, "
        "loan_months: 12, delivery_months: 0}\n"
    )
    credit = ("cash: 2000 EUR", "cash: 2000 EUR, loan: 8000 EUR")
    evaluation = evaluate(
        asked(more=PLAIN + loan, cash=2000, edits=[credit]), [machine()]
    )
    assert evaluation.is_ranked[0]
    assert years(evaluation).funds_gap[0] == 0
    found = evaluate(asked(more=PLAIN + loan, cash=2000), [machine()])
    assert years(found).funds_gap[0] == pytest.approx(2000)


def test_a_loan_says_how_much():
    """Way loan without a sum to borrow and without credit is a fault of the brief."""
    with pytest.raises(InputFaults) as found:
        asked(more="payment: {way: loan}\n")
    (fault,) = found.value.faults
    assert fault.key == "payment.borrowed"
    assert "is missing" in str(fault)


def test_import_tax_that_comes_back_is_lent_until_then():
    """20 % of 10 000 at delivery in month 1, given back two months later."""
    taxed = machine(("import_tax: 0 %", "import_tax: 20 %"))
    late = "payment: {way: cash, delivery_months: 1, tax_back_months: 2}\n"
    found = years(evaluate(asked(more=PLAIN + late), [taxed]))
    machine_line = found.cash.lines.machine[0, 0]
    assert machine_line[:5].tolist() == pytest.approx([-10000, -2000, 0, 2000, 0])
    kept = (
        "fixed_costs: 0 EUR/year",
        "fixed_costs: 0 EUR/year, import_tax_recovered: false",
    )
    found = years(evaluate(asked(more=PLAIN + late, edits=[kept]), [taxed]))
    assert found.cash.lines.machine[0, 0, :3].tolist() == pytest.approx([-12000, 0, 0])


def test_training_and_first_jobs_cost_the_first_months():
    """Two days of training and two jobs at half price: 1 000 less in month 1."""
    # 10 days there are in a month, 4 jobs of a day: training takes none of them.
    taught = PLAIN.replace("training_days: 0 day", "training_days: 2 day")
    taught = taught.replace(
        "first_discount: 0 %", "first_jobs: 2, first_discount: 50 %"
    )
    found = years(evaluate(asked(more=taught + NOW), [machine()]))
    assert found.cash.flows[0, 0, 1:4].tolist() == pytest.approx([1500, 2000, 2000])
    assert found.cash.days[0, 0, 1:3].tolist() == pytest.approx([6, 4])


def test_the_crew_is_paid_for_its_training():
    """Two days of 8 h at 20 for the one who helps to carry 30 kg: 320 in month 1."""
    taught = PLAIN.replace("training_days: 0 day", "training_days: 2 day") + NOW
    two = {"people": 2, "crew": ", wage: 20 EUR/h"}
    plain = years(evaluate(asked(**two), [machine(lift=30)]))
    found = years(evaluate(asked(more=taught, **two), [machine(lift=30)]))
    fewer = plain.cash.flows[0, 0] - found.cash.flows[0, 0]
    assert fewer[:3].tolist() == pytest.approx([0, 320, 0])


def test_a_full_diary_stays_full_in_a_low_season():
    """60 jobs wanted, days for 10: half of the demand still fills every month."""
    factors = "[0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 2, 2, 2, 1, 1, 1]"
    seasons = PLAIN.replace("trade: {", f"trade: {{seasonality: {factors}, ")
    alike = "work_order: pro_rata\n"
    asks = asked(job(per_month=60), more=seasons + NOW + alike)
    found = years(evaluate(asks, [machine()]))
    assert found.cash.jobs[0, 0, 1:].tolist() == pytest.approx([10] * 60)
    # A rise over 12 months: 60/24 in the first month, 3 · 60/24 in the second, then 10.
    rising = PLAIN.replace("months_to_full: 0", "months_to_full: 12") + NOW + alike
    found = years(evaluate(asked(job(per_month=60), more=rising), [machine()]))
    assert found.cash.jobs[0, 0, 1:5].tolist() == pytest.approx([2.5, 7.5, 10, 10])


def test_heads_age_while_work_is_still_to_come():
    """Heads of 1 200 last 500 m² or a year: what is not worn off ages."""
    # 8 jobs of 8 m² a month wear 768 m² a year: no ageing at full work.
    aged = machine(
        (
            "head_price: 0 EUR, head_life: 100 m², head_months: 100",
            "head_price: 1200 EUR, head_life: 500 m², head_months: 12",
        )
    )
    rising = PLAIN.replace("months_to_full: 0", "months_to_full: 24") + NOW
    found = years(evaluate(asked(job(per_month=8), more=rising), [aged]))
    jobs = 8 / 48
    # At 8 jobs a month 153.6 a month are worn, nothing ages; the line between no work
    # (100) and full work (0) has 100 · (1 − 1/48) after the first month.
    assert found.cash.jobs[0, 0, 1] == pytest.approx(jobs)
    assert found.cash.lines.upkeep[0, 0, 1] == pytest.approx(-100 * (1 - 1 / 48))


def test_credit_that_is_not_borrowed_stays_there():
    """Of 12 000 asked for, 7 000 are to be paid at delivery: 5 000 are left."""
    loan = (
        "payment: {way: loan, deposit: 30 %, borrowed: 12000 EUR, loan_rate: 0 %, "
        "loan_months: 12, delivery_months: 4}\n"
    )
    credit = ("cash: 2000 EUR", "cash: 2000 EUR, loan: 12000 EUR")
    found = evaluate(asked(more=PLAIN + loan, cash=2000, edits=[credit]), [machine()])
    assert found.is_ranked[0]
    poor = ("cash: 2000 EUR", "cash: 2000 EUR, loan: 7999 EUR")
    # 3 000 at signing from 2 000 of cash and 999 that 7 000 of 7 999 leave: 1 short.
    part = loan.replace("12000", "7000")
    found = evaluate(asked(more=PLAIN + part, cash=2000, edits=[poor]), [machine()])
    assert not found.is_ranked[0]
    assert years(found).funds_gap[0] == pytest.approx(1)


def test_learning_costs_the_minutes_of_building_alone():
    """Built twice as slowly at first: 30 min more of the second person at 30/h."""
    # Building and priming take 30 min; the drive of 200 km is not learned. 15 of 495
    # left a job. One job a month, the excess halving with each.
    slow = PLAIN.replace("learning_start: 1", "learning_start: 2, learning_halving: 1")
    far = job(per_month=1, more="    distance: 100 km\n")
    two = {"people": 2, "crew": ", wage: 30 EUR/h"}
    plain = years(evaluate(asked(far, **two), [machine(lift=30)]))
    found = years(evaluate(asked(far, more=slow + NOW, **two), [machine(lift=30)]))
    less = plain.cash.flows[0, 0] - found.cash.flows[0, 0]
    assert less[1:4].tolist() == pytest.approx([15, 7.5, 3.75])


def test_learning_goes_by_builds_not_by_jobs():
    """A job built anew on each of its two days is two builds."""
    # 19.2 m² take 484 of 480 min (see test_evaluation): two days. Excess 1 and ½ of the
    # two builds in the first job, ¼ and ⅛ in the second: of 2 · 90 min building.
    slow = PLAIN.replace("learning_start: 1", "learning_start: 2, learning_halving: 1")
    wall = job(per_month=1, height=4.8, overnight="false")
    two = {"people": 2, "crew": ", wage: 30 EUR/h"}
    late = machine(rail="rail_length: 2 m\n", assembly=80, pack_down=60, lift=30)
    plain = years(evaluate(asked(wall, **two), [late]))
    found = years(evaluate(asked(wall, more=slow + NOW, **two), [late]))
    less = plain.cash.flows[0, 0] - found.cash.flows[0, 0]
    assert less[1:3].tolist() == pytest.approx([45 * 1.5, 45 * 0.375])


def test_a_loan_of_one_month_is_one_instalment_a_year():
    """6 000 over one month at 0 % are 6 000 in the year, not twelve times that."""
    loan = (
        "payment: {way: loan, deposit: 40 %, borrowed: 6000 EUR, loan_rate: 0 %, "
        "loan_months: 1, delivery_months: 0}\n"
    )
    found = years(evaluate(asked(more=PLAIN + loan), [machine()]))
    assert found.instalments_a_year[0] == pytest.approx(6000)


def test_what_goes_wrong_is_reckoned_anew():
    """Half the work, three months, two months late, all at once: each by hand."""
    # 60 months of 2 000 less 10 000; half of it; three months less; as much, but later;
    # 57 months of 1 000. Clients who pay 60 days late put off month 5 to month 7.
    told = if_wrong(years(evaluate(asked(), [machine()])))
    npv = [found.worth.npv.item() for found in told.values()]
    assert npv == pytest.approx([110000, 50000, 104000, 110000, 47000])
    back = [found.worth.payback_month.item() for found in [*told.values()][:4]]
    assert back == [5, 10, 8, 7]


def test_luck_and_ignorance_together_are_a_sum_of_both():
    """Two normal parts, of luck and of figures, fall short as their sum does.

    N(μ, σ₁) + N(0, σ₂) is N(μ, √(σ₁² + σ₂²)), by scipy; of 2,000 years and draws the
    share is known to about √(p/2000) of either part.
    """
    rng = np.random.default_rng(3)
    luck, figures = rng.normal(5000, 3000, (2000, 1)), rng.normal(4000, 4000, (2000, 1))
    owed = np.array([1000.0])
    found = short_of_both(luck, figures, owed)
    exact = stats.norm.cdf((1000 - 4000) / 5000)
    assert found == pytest.approx(exact, abs=0.03)


def test_years_that_lose_money_say_which_is_which():
    """Certain figures leave luck alone; both together are never less than a trifle.

    In the demo, the share by both is between what the larger part and the sum of both
    would be, up to the error of two thousand years.
    """
    evaluation = demo("new-entrant")
    found = chances(evaluation, 2000)
    parts = found.shortfall_by_luck + found.shortfall_by_figures
    assert ((found.shortfall >= 0) & (found.shortfall <= 1)).all()
    is_small = (parts > 0.01) & (parts < 0.4)
    assert (found.shortfall[is_small] > 0).all()
    certain = evaluate(asked(job(per_month=3)), [machine()])
    alone = chances(certain, 500)
    assert alone.shortfall == pytest.approx(alone.shortfall_by_luck, abs=0.06)
    assert set(alone.shortfall_by_figures.tolist()) <= {0.0, 1.0}
