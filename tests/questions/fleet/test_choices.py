"""Keep, add or replace a rig: small cases worked by hand, and the demo."""

import pytest

from scoring import evaluate
from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.choices import KEEP, choices
from scoring.questions.from_jobs import jobs_to_earn_back, jobs_today
from scoring.records.money import money_records
from scoring.words.fleet import not_chosen, which_choice
from tests.cases import brief, demo, job, machine

OWNED = "owned: [{machine: Alder, age: 2, resale: 3000 EUR}]\n"
WAGE = ", wage: 20 EUR/h"
# Delivered and paid on the day of signing, and all work there from the first month on.
AT_ONCE = "trade: {months_to_full: 0}\npayment: {way: cash, delivery_months: 0}\n"


def by_name(machines, **more):
    """Return {choice: Choice} for an operator who owns an Alder."""
    asked = brief(job(per_month=15), more=OWNED + AT_ONCE, **more)
    return {
        choice.name: choice for choice in choices(evaluate(asked, machines)).choices
    }


def birch(**figures):
    """Return a machine like Alder under another name."""
    return machine(name="Birch", **figures)


def test_one_person_cannot_run_two_rigs_on_two_sites():
    """Alone, a second rig adds nothing: the ten days of the one crew are full."""
    # 10 bookable days a month, 15 jobs of a day wanted: 10 · 12 · 500 = 60 000 with one
    # rig or two.
    found = by_name([machine(), birch()])
    assert found[KEEP].year_result == pytest.approx(60000)
    assert found["add Birch"].added_result == pytest.approx(0)
    assert found["add Birch"].payback_months == float("inf")
    assert found["add Birch"].npv == pytest.approx(-10000)


def test_a_second_crew_is_paid_and_does_the_rest():
    """Two people run two rigs: five more jobs a month, less the second one's wages."""
    # Kept, one goes out with the one rig: 10 · 12 · 500 = 60 000.
    # 15 · 12 · 500 = 90 000, less 5 days · 12 · 8 h · 20 = 9 600: 80 400. Added 20 400
    # for 10 000: after 6 months of 1 700; 5 · 20 400 − 10 000 = 92 000 at 0 %.
    found = by_name([machine(), birch()], people=2, crew=WAGE)
    added = found["add Birch"]
    assert found[KEEP].year_result == pytest.approx(60000)
    assert added.plan.n_crews == 2
    assert added.year_result == pytest.approx(80400)
    assert added.added_result == pytest.approx(20400)
    assert added.added_upfront == pytest.approx(10000)
    assert added.payback_months == 6
    assert added.npv == pytest.approx(92000)
    assert sum(added.assignment["wall"].values()) == pytest.approx(15)


def test_a_replaced_rig_brings_its_resale():
    """Replacing Alder by Birch costs its price less what Alder brings."""
    found = by_name([machine(), birch(price=12000)])
    assert found["replace Alder by Birch"].added_upfront == pytest.approx(9000)
    assert [rig.name for rig in found["replace Alder by Birch"].rigs] == ["Birch"]


def test_a_second_of_the_same_saves_some_upkeep():
    """The rig that needs one day for what takes the other two gets that work."""
    # Upkeep 1 000 each: 1 000 + 850. With one crew nothing else changes.
    text = ("upkeep: 0 EUR/year", "upkeep: 1000 EUR/year")
    found = by_name([machine(text), birch()])
    alike = found["add Alder"]
    assert alike.year_result == pytest.approx(60000 - 1850)
    assert [rig.name for rig in alike.rigs] == ["Alder", "Alder (2)"]


def test_a_second_of_the_same_shares_kit_and_skills():
    """Of 400 of accessories 15 % are saved, and all of 300 for training."""
    kit = ("accessories: 0 EUR", "accessories: 400 EUR")
    taught = ("training: 0 EUR", "training: 300 EUR")
    found = by_name([machine(kit, taught), birch()])
    assert found["add Alder"].added_upfront == pytest.approx(10000 + 340)


def test_each_rig_does_what_it_is_better_at():
    """The rig that prints in a day what takes the other two gets that work."""
    # 24 m² tall: at 4 m²/h 360 + 85 = 445, one day; at 2 m²/h 720 + 85, two days.
    big = job(name="big", per_month=4, width=6, height=4, price=900)
    small = job(name="small", per_month=6)
    asked = brief(big, small, more=OWNED, people=2, crew=WAGE)
    slow, fast = machine(speed="4: 2 m²/h"), birch()
    found = {c.name: c for c in choices(evaluate(asked, [slow, fast])).choices}
    plan = found["add Birch"].assignment
    assert plan["big"] == pytest.approx({"Birch": 4})
    assert sum(plan["small"].values()) == pytest.approx(6)


def test_without_a_rig_the_choices_are_what_to_buy():
    """A buyer without a rig chooses among machines, against buying nothing."""
    asked = brief(job(per_month=4))
    found = choices(evaluate(asked, [machine(), birch(price=20000)]))
    assert [c.name for c in found.choices] == ["buy Alder", "buy Birch"]
    assert which_choice(found).startswith(
        "Buying Alder comes first: 24\u202f000 EUR/year more than"
    )


@pytest.mark.parametrize("name", ["new-entrant", "workshop"])
def test_a_first_machine_is_worth_the_same_as_by_itself(name):
    """Without a rig, each choice has the year, worth and payback that `money` tells."""
    evaluation = demo(name)
    for choice in choices(evaluation).choices:
        name = choice.deed.new
        (told,) = money_records(evaluation, {name: []}, [name])
        assert choice.npv == pytest.approx(told.npv)
        assert choice.payback_months == (told.payback_months or float("inf"))
        assert choice.year_result == pytest.approx(told.year_result)


def test_from_how_much_work_a_first_machine_pays():
    """Without a rig that is what `money` tells: the same jobs a month."""
    evaluation = demo("new-entrant")
    found = choices(evaluation)
    first = found.choices[found.order[0]]
    needed = jobs_to_earn_back(evaluation, evaluation.index(first.deed.new))
    today = jobs_today(evaluation)
    work = break_even(found, first).work * today
    assert work == pytest.approx(needed, rel=0.02)  # both read off straight lines


def test_choices_of_the_demo():
    """A change beats keeping, which earns what the rig does; no choice stands twice."""
    found = choices(demo("second-rig"))
    names = [choice.name for choice in found.choices]
    assert len(set(names)) == len(names) and KEEP in names
    best = found.choices[found.order[0]]
    assert best.added_result > 0
    kept = found.choices[names.index(KEEP)]
    k = found.evaluation.index("Lindqvar Plain")
    alone = found.evaluation.outcome.year.result[0, k, 0]
    assert kept.year_result == pytest.approx(alone)
    for choice in found.choices:
        for wanted in found.evaluation.brief.work:
            done = sum(choice.assignment[wanted.name].values())
            assert done <= wanted.per_month.likely + 1e-6
    assert set(found.ruled_out) == {
        "Corrandale Frame",
        "Lindqvar Plain",
        "Pellimar Dovetail",
        "Quillow Sprint",
        "Thrumble Lite",
        "Varnholt Column",
    }


def test_a_rig_without_a_price_is_worth_its_age():
    """Bought for 10 000, 4 000 after 5 years: 6 400 at the age of 3, 400 at 8."""
    # 6 000 in 5 years are 1 200 a year: 10 000 − 3 · 1 200, 10 000 − 8 · 1 200. Birch
    # costs 10 000 and is worth 0 in the end, so at 0 % the NPV of the change is
    # −10 000 + 6 400 − 400 with the same work done.
    worth = ("resale: 0 EUR", "resale: 4000 EUR")
    owned = "owned: [{machine: Alder, age: 3}]\n"
    asked = brief(job(per_month=4), more=owned)
    found = {
        c.name: c for c in choices(evaluate(asked, [machine(worth), birch()])).choices
    }
    change = found["replace Alder by Birch"]
    assert change.added_upfront == pytest.approx(3600)
    assert change.added_result == pytest.approx(0)
    assert change.npv == pytest.approx(-4000)


def test_what_the_old_rig_brings_falls_on_in_proportion():
    """Sold for 3 200 now, half of its 6 400 by age: 200 instead of 400 in the end."""
    worth = ("resale: 0 EUR", "resale: 4000 EUR")
    owned = "owned: [{machine: Alder, age: 3, resale: 3200 EUR}]\n"
    asked = brief(job(per_month=4), more=owned)
    found = {
        c.name: c for c in choices(evaluate(asked, [machine(worth), birch()])).choices
    }
    assert found["replace Alder by Birch"].npv == pytest.approx(-10000 + 3200 - 200)


def test_a_change_must_be_within_cash_and_credit():
    """8 000 of cash: adding for 10 000 lacks 2 000; 3 000 for the old rig help."""
    found = choices(
        evaluate(brief(job(per_month=15), more=OWNED, cash=8000), [machine(), birch()])
    )
    names = [choice.name for choice in found.choices]
    assert names == [KEEP, "replace Alder by Birch"]
    assert found.too_dear == pytest.approx({"add Alder": 2000, "add Birch": 2000})
    assert "Not possible to add Birch: cash and credit lack 2\u202f000 EUR." in (
        not_chosen(found)
    )


def test_a_loan_on_the_old_rig_is_settled_when_it_is_sold():
    """With 1 500 still owed on it, 8 000 do not carry 10 000 less 3 000."""
    owned = OWNED.replace("3000 EUR}", "3000 EUR, remaining_loan: 1500 EUR}")
    found = choices(
        evaluate(brief(job(per_month=15), more=owned, cash=8000), [machine(), birch()])
    )
    assert [choice.name for choice in found.choices] == [KEEP]
    assert found.too_dear["replace Alder by Birch"] == pytest.approx(500)


def test_alike_rigs_of_another_age_are_told_apart():
    """Of two Alders of different resale either may go; equal ones are one choice."""
    rig = "{machine: Alder, age: 2, resale: 3000 EUR}"
    other = "{machine: Alder, age: 4, resale: 1000 EUR}"
    for owned, expected in (
        ((rig, rig), {"replace Alder by Birch": 7000}),
        (
            (rig, other),
            {"replace Alder by Birch": 7000, "replace Alder (2) by Birch": 9000},
        ),
    ):
        asked = brief(job(per_month=15), more=f"owned: [{', '.join(owned)}]\n")
        found = choices(evaluate(asked, [machine(), birch()])).choices
        paid = {c.name: c.added_upfront for c in found if c.name.startswith("replace")}
        assert paid == pytest.approx(expected)


def test_the_cash_of_a_change_by_the_month():
    """4 000 at signing, 6 000 at delivery in month 3, then 1 700 a month come in."""
    # 20 400 a year are added (see above), all from the first month after delivery.
    terms = (
        "trade: {months_to_full: 0}\n"
        "payment: {way: deposit, deposit: 40 %, delivery_months: 3}\n"
    )
    asked = brief(job(per_month=15), more=OWNED + terms, people=2, crew=WAGE)
    found = choices(evaluate(asked, [machine(), birch()]))
    (added,) = [c for c in found.choices if c.name == "add Birch"]
    month = 20400 / 12
    assert added.flows[:6].tolist() == pytest.approx([-4000, 0, 0, -6000, month, month])
    assert (added.low_point, added.low_month) == pytest.approx((-10000, 3))


def test_from_how_much_work_a_change_pays():
    """A second crew's rig of 10 000 pays over 5 years from 10.49 jobs a month."""
    # Up to 10 jobs one person does with one rig what one does with two: nothing added.
    # Each further one leaves 500 − 8 · 20 = 340, 20 400 in 5 years at 0 %: 10 000 at
    # 0.49 jobs more. At 12 jobs 40 800 − 10 000.
    more = OWNED + AT_ONCE
    asked = brief(job(per_month=15), more=more, people=2, crew=WAGE)
    found = choices(evaluate(asked, [machine(), birch()]))
    (added,) = [c for c in found.choices if c.name == "add Birch"]
    even = break_even(found, added)
    assert even.npv[3:5].tolist() == pytest.approx([-10000, 30800])
    assert even.work == pytest.approx((10 + 10000 / 20400) / 15)
    # Nothing hangs on the price but the price: 10 000 + 92 000.
    assert even.price == pytest.approx(102000)
    assert even.resale is None


def test_what_the_old_rig_must_bring():
    """Replacing like by like pays if the old rig brings what the new one costs."""
    found = choices(
        evaluate(brief(job(per_month=4), more=OWNED), [machine(), birch(price=12000)])
    )
    (change,) = [c for c in found.choices if c.deed.sold is not None]
    even = break_even(found, change)
    assert even.resale == pytest.approx(12000)
    assert even.price == pytest.approx(3000)
    assert even.work == float("inf")


def test_the_old_loan_is_no_cost_of_the_change():
    """1 500 are settled at delivery, and its three instalments saved afterwards."""
    # Sold for 3 000 at delivery in month 2; the same work is done, so that nothing is
    # added: −10 000, +3 000 − 1 500, then +500 three times.
    owned = OWNED.replace(
        "3000 EUR}", "3000 EUR, remaining_loan: 1500 EUR, loan_months: 3}"
    )
    terms = "payment: {delivery_months: 2}\n"
    found = choices(
        evaluate(brief(job(per_month=4), more=owned + terms), [machine(), birch()])
    )
    (change,) = [c for c in found.choices if c.deed.sold is not None]
    expected = [-10000, 0, 1500, 500, 500, 500, 0]
    assert change.flows[:7].tolist() == pytest.approx(expected)
    assert change.npv == pytest.approx(-7000)


def test_costs_start_at_delivery_while_work_rises():
    """A fee of 1 200 a year is 100 a month from delivery; work rises over 4 months."""
    # One more rig for a second crew adds 20 400 a year, of which the first month brings
    # an eighth of a month's.
    fee = ("{name: No plan, fee: 0 EUR/year}", "{name: All, fee: 1200 EUR/year}")
    terms = "trade: {months_to_full: 4}\npayment: {delivery_months: 1}\n"
    asked = brief(job(per_month=15), more=OWNED + terms, people=2, crew=WAGE)
    new = machine(fee, name="Birch")
    found = choices(evaluate(asked, [machine(), new]))
    (added,) = [c for c in found.choices if c.name == "add Birch"]
    assert added.added_result == pytest.approx(20400 - 1200)
    month = 20400 / 12
    by_hand = [-10000, 0, month / 8 - 100, 3 * month / 8 - 100]
    assert added.flows[:4].tolist() == pytest.approx(by_hand)


def test_a_change_that_loses_money_is_a_choice_where_there_is_cash():
    """Paid at signing, the old rig sold later: 10 000 will do, whatever it loses."""
    dear = machine(("upkeep: 0 EUR/year", "upkeep: 6000 EUR/year"), name="Birch")
    terms = "trade: {months_to_full: 0}\n"
    asked = brief(job(per_month=4), more=OWNED + terms, cash=10000)
    found = choices(evaluate(asked, [machine(), dear]))
    (change,) = [c for c in found.choices if c.deed.sold is not None]
    assert change.added_result == pytest.approx(-6000)
    assert change.low_point == pytest.approx(-7000 - 5 * 6000, rel=0.1)


def test_a_second_crew_does_not_work_for_less_than_its_wage():
    """15 good jobs and 10 that leave 150 a day: 200 of wages a day leave those be."""
    # 10 days free, the second crew's days cost 8 · 25 = 200. 15 · 900 − 5 · 200 =
    # 12 500 a month; five poor jobs more would lose 5 · 50.
    good = job(name="good", per_month=15, price=900)
    poor = job(name="poor", per_month=10, price=150)
    owned = "owned: [{machine: Alder, age: 2}, {machine: Birch, age: 2}]\n"
    asked = brief(good, poor, more=owned, people=2, crew=", wage: 25 EUR/h")
    found = choices(evaluate(asked, [machine(), birch()])).choices
    (kept,) = [c for c in found if c.name == KEEP]
    assert kept.year_result == pytest.approx(12 * 12500)
    assert sum(kept.assignment["good"].values()) == pytest.approx(15)
    assert sum(kept.assignment["poor"].values()) == pytest.approx(0)


def test_a_sale_that_pays_for_the_new_rig_has_nothing_to_earn_back():
    """An old rig that brings 10 000 against a new one of 3 000: payback 0."""
    owned = "owned: [{machine: Alder, age: 0}]\n"
    asked = brief(job(per_month=4), more=owned + AT_ONCE)
    found = choices(evaluate(asked, [machine(), birch(price=3000)])).choices
    (change,) = [c for c in found if c.deed.sold is not None]
    assert change.added_upfront == pytest.approx(-7000)
    assert change.payback_months == 0


@pytest.mark.parametrize("brings", [0, 1, 3000])
def test_what_the_old_rig_must_bring_does_not_hang_on_what_it_would(brings):
    """The break-even sale is the same whatever the brief says it brings now."""
    # At age 1 Alder is worth 9 200 by its line, and 5 200 after 5 years more.
    worth = ("resale: 0 EUR", "resale: 6000 EUR")
    owned = f"owned: [{{machine: Alder, age: 1, resale: {brings} EUR}}]\n"
    rate = ("discount_rate: 0 %", "discount_rate: 10 %")
    asked = brief(job(per_month=4), more=owned + AT_ONCE, edits=[rate])
    found = choices(evaluate(asked, [machine(worth), birch(price=20000)]))
    (change,) = [c for c in found.choices if c.deed.sold is not None]
    by_hand = 20000 / (1 - 5200 / 9200 / 1.1**5)
    assert break_even(found, change).resale == pytest.approx(by_hand)


def test_a_rig_that_keeps_its_worth_has_no_sale_that_decides():
    """At 0 % and without any fall in worth, selling now or later is the same."""
    worth = ("resale: 0 EUR", "resale: 10000 EUR")
    asked = brief(job(per_month=4), more="owned: [{machine: Alder, age: 2}]\n")
    found = choices(evaluate(asked, [machine(worth), birch()]))
    (change,) = [c for c in found.choices if c.deed.sold is not None]
    assert break_even(found, change).resale is None


def test_a_rig_without_its_licence_brings_nothing():
    """Where the licence ends with the first owner and no sum is told, 0."""
    ends = (
        "parts_lead_time: 1 day",
        "parts_lead_time: 1 day, licence_transfers: false",
    )
    worth = ("resale: 0 EUR", "resale: 6000 EUR")
    asked = brief(job(per_month=4), more="owned: [{machine: Alder, age: 1}]\n")
    found = choices(evaluate(asked, [machine(ends, worth), birch()])).choices
    (change,) = [c for c in found if c.deed.sold is not None]
    assert change.added_upfront == pytest.approx(10000)


def test_a_change_that_loses_money_is_never_earned_back():
    """A dear rig sold for a cheap one brings 7 000, but the cheap one leaves less."""
    poor = machine(
        ("upkeep: 0 EUR/year", "upkeep: 6000 EUR/year"), name="Birch", price=3000
    )
    asked = brief(job(per_month=4), more="owned: [{machine: Alder, age: 0}]\n")
    found = choices(evaluate(asked, [machine(), poor])).choices
    (change,) = [c for c in found if c.deed.sold is not None]
    assert change.added_upfront == pytest.approx(-7000)
    assert change.payback_months == float("inf")
