"""Hire, rent, wait and steps: by hand, and one value on every screen."""

import pytest

from scoring import evaluate
from scoring.decision.waiting import BUY, Owning, bought_later
from scoring.errors import InputFaults
from scoring.questions.other_ways import gamma_of, other_ways, steps
from scoring.records.ranking import ranking_record
from scoring.text.other_ways import steps_text
from scoring.text.ranking import ranking_rows, ranking_text
from tests import cases
from tests.cases import brief, job, machine

ALSO = (
    "also: {{hire: {{per_job: {hire} EUR}}, rent: {{per_day: {rent} EUR}}, "
    "wait: {{months: {months}, cheaper: 0 %}}}}\n"
)


def answered(hire=300, rent=150, months=3, per_month="3..3", more="", **figures):
    also = ALSO.format(hire=hire, rent=rent, months=months)
    work = job(per_month=per_month)
    return evaluate(brief(work, more=also + more), [machine(**figures)])


def test_ways_by_hand():
    """A job of 500 in a day: hired for 300 it leaves 200, rented at 150 350."""
    hire, rent, _ = other_ways(answered())
    assert (hire.left_per_job, hire.jobs) == pytest.approx((200, 3))
    assert hire.year_result == pytest.approx(12 * 3 * 200)
    assert rent.left_per_job == pytest.approx(350)
    assert rent.npv == pytest.approx(60 * 3 * 350)  # 0 % over five years


def test_a_way_that_loses_is_said():
    """A day's rent above what a job leaves is told as a loss, and does no jobs."""
    found = answered(rent=900)
    _, rent, _ = other_ways(found)
    assert (rent.jobs, rent.year_result) == (0, 0)
    assert "a job loses 400 EUR; no" in " ".join(ranking_text(found).split())


def test_no_ways_are_made_up():
    """A brief that tells no other way gets none, and no line of them."""
    found = evaluate(brief(), [machine()])
    assert other_ways(found) == ()
    assert "Besides buying" not in ranking_text(found)


def test_moments_by_hand():
    """Draws 1 and 3: mean 2, variance 1, so Gamma(4, 2)."""
    assert gamma_of([1, 3]) == (4, 2)


def test_buying_now_is_worth_what_every_screen_says():
    """The steps' worth of buying now is the present value of the months."""
    for evaluation in (answered(), cases.demo("new-entrant")):
        found = steps(evaluation)
        npv = evaluation.expected.npv[0, found.k]
        assert found.plan.buy_now == pytest.approx(npv, rel=1e-9)


def test_sure_demand_buys_at_once():
    """Work that is known and pays, beside a rent that loses: buy, do not wait."""
    found = steps(answered(hire=600, rent=900))
    assert found.plan.first == BUY
    assert found.plan.worth_of_waiting == pytest.approx(0, abs=1)


def test_unsure_demand_learns_first():
    """A dear machine and doubtful work: rent first, then by the jobs that came."""
    found = steps(
        answered(hire=600, rent=460, per_month="0..2..14", price=90_000, months=4)
    )
    assert found.plan.first == "rent by the day"
    assert found.plan.worth_of_waiting > 0
    text = " ".join(steps_text(found).split())
    assert "Rent by the day first, then see about Alder." in text
    assert "or more came." in text


USED = "also: {{used: [{{machine: Alder, price: {price} EUR, age: {age}}}]}}\n"


def used(price=4000, age=2, **figures):
    more = USED.format(price=price, age=age)
    found = evaluate(brief(job(), more=more), [machine(**figures)])
    (way,) = other_ways(found)
    return found, way


def test_a_used_machine_by_hand():
    """As the new one, but for what is paid and what it brings in the end.

    Both prices are paid today and nothing else depends on them at 0 % interest: the
    present value differs by the price that is not paid, less the resale that is not
    had. A line from price to resale at the horizon goes on to 0 with the age.
    """
    found, way = used(price=4000, age=2)
    figures, years = found.figures.machines, found.figures.buyer.horizon_years
    price, resale = float(figures.price[0, 0, 0]), float(figures.resale[0, 0, 0])
    left = max(0.0, price - (price - resale) * (years + 2) / years)
    npv = float(found.expected.npv[0, 0])
    assert way.name == "buy Alder used, 2 years old"
    # Stoppages half as often again, and what is a share of the price, cost or save the
    # rest, so a band and not a point.
    expected = npv + (price - 4000) - (resale - min(left, 4000))
    assert way.npv == pytest.approx(expected, abs=0.1 * price)


def test_dearer_or_older_is_worth_less():
    """A used machine is worth less the more it costs and the older it is."""
    worth = used()[1].npv
    assert used(price=6000)[1].npv < worth
    assert used(age=6)[1].npv <= worth


def test_a_used_machine_of_no_sheet_is_a_fault():
    """The name of a machine that is not there is told, with its line's key."""
    with pytest.raises(InputFaults, match=r"also\.used\.0\.machine: no machine sheet"):
        other = USED.format(price=1, age=1).replace("Alder", "Elder")
        evaluate(brief(job(), more=other), [machine()])


def test_waiting_by_hand():
    """No interest, no fall of prices: later by n months is n months' work less.

    Sure demand of 3 jobs that leave 100 each, nothing fixed, 12 months; a machine of
    1000 that is worth 400 after all 12, on a line: after 9 of them 550.
    """
    owning = Owning(cost=1000.0, left=100.0, fixed=0.0, resale=400.0)
    sure = (3e6, 1e6)
    assert bought_later(*sure, owning, 12, 0) == pytest.approx(3600 - 600, rel=1e-3)
    assert bought_later(*sure, owning, 12, 3) == pytest.approx(2700 - 450, rel=1e-3)


def test_waiting_no_months_is_buying_now():
    """Waiting is told beside buying, and a cheaper year makes it worth more."""
    cheap, dear = (
        other_ways(
            evaluate(brief(job(), more=f"also: {{wait: {text}}}\n"), [machine()])
        )
        for text in ("{months: 6, cheaper: 30 %}", "{months: 6, cheaper: 0 %}")
    )
    assert cheap[0].npv > dear[0].npv
    assert cheap[0].name == "wait 6 months, then buy Alder"


def test_ways_stand_beside_the_machines_in_every_form():
    """Text, JSON and CSV of `rank` tell the same ways, the best first."""
    found = answered()
    record = ranking_record(found)
    assert sorted(way.present_value for way in record.other_ways)[::-1] == [
        way.present_value for way in record.other_ways
    ]
    record_ways = other_ways(found)
    names = {way.name for way in record_ways}
    assert {way.name for way in record.other_ways} == names and len(names) == 3
    rows = ranking_rows(record)
    assert all(len(row) == len(rows[0]) for row in rows)
    column = rows[0].index(next(c for c in rows[0] if str(c).startswith("year_result")))
    told = {row[2]: row[column] for row in rows if row[3] == "other way"}
    assert told == {
        way.name: pytest.approx(way.year_result) for way in other_ways(found)
    }
    said = " ".join(ranking_text(found).split())
    assert all(name in said for name in names)
