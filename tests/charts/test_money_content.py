"""Charts of money show what a hand works out: the rows, and what is on which axis."""

import numpy as np
import pytest

from scoring import evaluate
from scoring.charts.build_up import build_up_rows, build_up_spec
from scoring.charts.cash import curve_rows, curve_spec
from scoring.charts.change import change_rows, change_spec
from scoring.charts.years import year_rows, years_spec
from scoring.questions.fleet.break_even import BreakEven
from scoring.questions.years import YearChances, years
from tests.cases import machine
from tests.questions.test_years import asked


def channels(layer):
    """Return {channel: field} of a layer's encoding."""
    found = layer.get("encoding", {})
    return {name: each["field"] for name, each in found.items() if "field" in each}


def test_each_bar_of_a_build_up_starts_where_the_last_ended():
    """500 paid, 120 and 30.5 taken: 0–500, 500–380, 380–349.5; the sum from 0."""
    lines = [("the client pays", 500.0), ("ink", -120.0), ("travel", -30.5)]
    rows = build_up_rows(lines, "left", "EUR")
    found = rows[["what", "from", "to", "kind"]].to_numpy().tolist()
    assert found == [
        ["the client pays", 0.0, 500.0, "adds"],
        ["ink", 500.0, 380.0, "takes"],
        ["travel", 380.0, 349.5, "takes"],
        ["left", 0.0, 349.5, "sum"],
    ]
    assert rows["said"].tolist() == ["500 EUR", "−120 EUR", "−30 EUR", "350 EUR"]


def test_a_build_up_runs_from_its_start_to_its_end():
    """A bar lies between two columns, a line a row, in the order of the lines."""
    spec = build_up_spec()
    assert channels(spec)["x"] == "from" and channels(spec)["x2"] == "to"
    assert spec["encoding"]["y"]["sort"] == {"field": "place", "op": "min"}


def test_the_cash_curve_falls_by_the_price_and_is_back_in_month_five():
    """10 000 paid, then 2 000 a month: −10 000, −8 000 … 0 in month 5, marked there."""
    rows = curve_rows(years(evaluate(asked(), [machine()])), ["Alder"])
    assert rows["cash"].tolist()[:7] == pytest.approx(
        [-10000, -8000, -6000, -4000, -2000, 0, 2000]
    )
    assert rows["month"].tolist() == list(range(61))
    assert rows.loc[rows["is_back"], "month"].tolist() == [5]
    assert rows["said"][0] == "−10\u202f000 EUR"


def test_the_cash_curve_has_a_line_at_zero_and_a_mark_at_payback():
    """Months run to the right, cash upwards; a mark stands only where it is back."""
    zero, lines, marks = curve_spec("EUR")["layer"]
    assert zero["encoding"]["y"] == {"datum": 0}
    for layer in (lines, marks):
        assert channels(layer)["x"] == "month" and channels(layer)["y"] == "cash"
    assert marks["transform"] == [{"filter": "datum.is_back"}]


def test_years_run_from_the_bad_to_the_good():
    """P10, P50 and P90 of each machine stand in its own row, low to high."""
    evaluation = evaluate(asked(), [machine(), machine(name="Birch")])
    results = np.array([[100.0, -900.0], [250.0, 40.0], [900.0, 60.0]])
    none = np.zeros(2)
    chance = YearChances(
        100, 1, results, none, none, np.zeros((3, 2)), none, none, none
    )
    rows = year_rows(evaluation, chance, ["Birch", "Alder"])
    found = rows[["machine", "low", "middle", "high"]].to_numpy().tolist()
    assert found == [["Birch", -900, 40, 60], ["Alder", 100, 250, 900]]
    assert rows["said"][0] == "−900 EUR to 40 EUR to 60 EUR"
    bars, dots = years_spec("EUR")["layer"]
    assert (channels(bars)["x"], channels(bars)["x2"]) == ("low", "high")
    assert channels(dots)["x"] == "middle"


class Found:
    """Choices of rigs, as far as the chart looks at them."""

    def __init__(self, evaluation):
        self.evaluation = evaluation


def test_a_changes_worth_stands_over_jobs_a_month():
    """At 0, 1 and 2 times today's 4 jobs: 0, 4 and 8 jobs, each with its worth."""
    found = Found(evaluate(asked(), [machine()]))
    at, npv = np.array([0.0, 1.0, 2.0]), np.array([-500.0, 100.0, 700.0])
    even = BreakEven(at, np.array([-50.0, 10.0, 70.0]), npv, 0.8, None, None)
    rows = change_rows(found, even)
    assert rows["jobs"].tolist() == [0.0, 4.0, 8.0]
    assert rows["npv"].tolist() == [-500.0, 100.0, 700.0]
    assert set(rows["today"]) == {4.0}
    zero, now, line = change_spec("EUR")["layer"]
    assert zero["encoding"]["y"] == {"datum": 0}
    assert channels(now)["x"] == "today"
    assert (channels(line)["x"], channels(line)["y"]) == ("jobs", "npv")
