"""Pay by the month, and what the owner lives on: worked out by hand."""

import pytest

from scoring import evaluate
from scoring.errors import InputFaults
from scoring.questions.fleet.choices import KEEP, choices
from scoring.questions.years import years
from scoring.words.money import low_point
from scoring.words.workings.criteria import working
from tests.cases import brief, machine
from tests.questions.test_years import asked

BY_MONTH = ", wage: 20 EUR/h, paid: by_month, on_costs: 25 %"


def test_pay_by_the_month_is_a_fixed_line_of_the_year():
    """8 h · 5 · 48 = 1 920 h at 20 and a quarter on top: 48 000, whoever goes out."""
    for lift in (20, 30):  # 30 kg take both
        found = evaluate(brief(people=2, crew=BY_MONTH), [machine(lift=lift)])
        year = found.outcome.year
        assert year.lines.crew_pay.item() == pytest.approx(-48000)
        assert found.outcome.contribution_lines.wages.item() == 0
        assert year.result.item() == pytest.approx(24000 - 48000)
        assert sum(year.lines).item() == pytest.approx(year.result.item())
    steps = {step.what: step.value for step in working(found, "Alder", "year_result")}
    assert steps["those of your crew paid by the month, work or not"] == -48000


def test_pay_by_the_month_in_the_months():
    """4 000 of 48 000 a year in each month from signing, work or not."""
    months = years(evaluate(asked(people=2, crew=BY_MONTH), [machine()]))
    assert months.cash.lines.crew_pay[0, 0, :3].tolist() == [0, -4000, -4000]
    assert months.cash.flows[0, 0, 1:4].tolist() == pytest.approx([-2000] * 3)


def test_untold_on_costs_are_a_guess_and_never_nothing():
    """28 % as guessed: 1 920 · 20 · 1.28 = 49 152; unknown, with a range."""
    untold = BY_MONTH.replace(", on_costs: 25 %", "")
    found = evaluate(brief(people=2, crew=untold), [machine()])
    assert found.told.outcome.year.lines.crew_pay.item() == pytest.approx(-49152)
    figure = found.evidence["brief", "crew.on_costs"]
    assert figure.is_unknown and 0 < figure.low < figure.likely < figure.high
    by_hour = evaluate(brief(people=2, crew=", wage: 20 EUR/h"), [machine()])
    assert ("brief", "crew.on_costs") not in by_hour.evidence


@pytest.mark.parametrize(
    ("crew", "key", "said"),
    [
        (", paid: by_month", "crew.wage", "is missing beside paid: by_month"),
        (", wage: 20 EUR/h, on_costs: 20 %", "crew.on_costs", "nothing asks for it"),
    ],
)
def test_pay_that_does_not_fit_together(crew, key, said):
    """By the month without a wage, and on-costs that nothing asks for, are faults."""
    with pytest.raises(InputFaults) as caught:
        brief(people=2, crew=crew)
    (fault,) = caught.value.faults
    assert (fault.key, fault.what) == (key, said)


def test_pay_by_the_month_counts_once_for_two_rigs():
    """Keeping one rig is what it does by itself; a second adds no pay."""
    owned = "owned: [{machine: Alder, age: 2, resale: 3000 EUR}]\n"
    found = choices(
        evaluate(
            brief(people=2, crew=BY_MONTH, more=owned),
            [machine(), machine(name="Birch")],
        )
    )
    of = {choice.name: choice for choice in found.choices}
    assert of[KEEP].year_result == pytest.approx(24000 - 48000)
    assert of["add Birch"].year_result == pytest.approx(24000 - 48000)


def test_living_empties_the_purse_and_changes_nothing_else():
    """2 000 a month come in and 2 500 are drawn: 500 deeper each of 60 months."""
    # −10 000 at signing, −40 000 after 60 months. With the owner's 205 min a job at 10
    # an hour counted already, only what is drawn beyond that is drawn besides.
    for hour, pay in (("", 0), (", own_hour: 10 EUR/h", 4 * 205 / 6)):
        draws = ("discount_rate: 0 %", f"discount_rate: 0 %, living: 2500 EUR{hour}")
        found = evaluate(asked(edits=[draws]), [machine()])
        months = years(found)
        assert months.worth.low_point[0, 0] == pytest.approx(-40000)
        assert months.worth.low_month[0, 0] == 60
        assert months.cash.living[0, 0, 1] == pytest.approx(-2500 + pay)
        assert months.worth.npv[0, 0] == pytest.approx(110000 - 60 * pay)
        assert found.outcome.year.result.item() == pytest.approx(24000 - 12 * pay)
        assert found.is_ranked[0]
        assert "2\u202f500 EUR a month to live on is in it" in low_point(months, 0)
        poor = evaluate(asked(edits=[draws], cash=39999), [machine()])
        assert not poor.is_ranked[0]
        assert years(poor).funds_gap[0] == pytest.approx(1)


def test_living_that_is_not_told_is_said():
    """Without a figure the months say that nobody's living is in them."""
    said = low_point(years(evaluate(asked(), [machine()])), 0)
    assert "your own living is not in these months" in said
