"""Days and money of small cases, worked by hand where a small slip is hardly seen."""

import pytest

from scoring import evaluate
from scoring.questions.years import years
from tests.cases import brief, job, machine
from tests.questions.test_years import asked

# Alder at work: build 20, prime 10, pack down 15, closing 10, measuring 30: 85 min,
# and a square metre takes 15 min.


def lines_of(evaluation):
    """Return {line: money} of the only job of the only machine."""
    lines = evaluation.outcome.contribution_lines._asdict()
    return {name: float(line[0, 0, 0]) for name, line in lines.items()}


def test_jobs_that_share_a_day_drive_within_its_margin():
    """1 m²: a visit of 100 min, a drive of 120; two fit 8 h less 10 % kept free."""
    # The margin is kept free of the drive too: 2 · (100 + 0.9 · 120) = 416 ≤ 432 min,
    # where 2 · (100 + 120) = 440 would not fit.
    near = job(width=1, height=1, more="    distance: 60 km\n")
    margin = ("day_margin: 0 %", "day_margin: 10 %, jobs_per_day_max: 2")
    found = evaluate(brief(near, edits=[margin]), [machine()])
    assert found.outcome.site.visit_min.item() == pytest.approx(100)
    assert found.outcome.booked_days.item() == pytest.approx(0.5)


def test_a_spoilt_print_costs_the_hired_vehicle_again():
    """80 a day for a van, 120 of 205 min printing, a tenth spoilt: 80 · 12/205."""
    long = machine(
        ("spoilt_share: 0 %", "spoilt_share: 10 %"),
        more="vehicle: {longest_piece: 3 m, volume: 0.1 m³, mass: 10 kg}\n",
    )
    hired = brief(more="vehicle: {length: 2 m, hire: 80 EUR}\n")
    lines = lines_of(evaluate(hired, [long]))
    assert lines["vehicle_hire"] == pytest.approx(-80)
    assert lines["spoilt"] == pytest.approx(-80 * 0.1 * 120 / 205)


def test_a_survey_visit_is_a_drive_more():
    """30 km away at 0.5 a km: 30 there and back, twice with a survey visit."""
    cost = ("cost_per_km: 0 EUR/km", "cost_per_km: 0.5 EUR/km")
    far = "    distance: 30 km\n    survey_visit: {}\n"
    for visit, travel in (("false", -30), ("true", -60)):
        asks = brief(job(more=far.format(visit)), edits=[cost])
        assert lines_of(evaluate(asks, [machine()]))["travel"] == pytest.approx(travel)


def test_a_lodged_crew_drives_there_and_back_once():
    """48 m² on two days, 300 km away: 825 min on site and one drive of 600 min."""
    # Visit 85 + 720 = 805; the second day's prime and closing 20 more. 48 jobs a year.
    far = job(width=12, height=4, price=2000, more="    distance: 300 km\n")
    lodged = ("cost_per_km: 0 EUR/km", "cost_per_km: 0 EUR/km, lodging: 50 EUR")
    hour = ("discount_rate: 0 %", "discount_rate: 0 %, own_hour: 10 EUR/h")
    found = evaluate(brief(far, edits=[lodged, hour]), [machine()])
    site, year = found.outcome.site, found.outcome.year
    assert site.is_lodged.item() and site.days.item() == 2
    assert site.on_site_min.item() == pytest.approx(825)
    hours = 48 * (825 + 600) / 60
    assert year.result.item() == pytest.approx(48 * (2000 - 2 * 50))
    assert year.paid_self.item() == pytest.approx(year.result.item() - 10 * hours)


def test_days_of_breakdown_are_not_worked():
    """Four jobs of a day, a stop of 2 days every 10 jobs: 4 days worked, not 4.8."""
    weak = machine(("stoppages: 100, days_down: 0", "stoppages: 10, days_down: 2"))
    found = years(evaluate(asked(), [weak]))
    assert found.cash.days[0, 0, 1:].tolist() == pytest.approx([4.0] * 60)
