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
    """80 a day for a van, 120 of a day's 480 min printing, a tenth spoilt: 2."""
    long = machine(
        ("spoilt_share: 0 %", "spoilt_share: 10 %"),
        more="vehicle: {longest_piece: 3 m, volume: 0.1 m³, mass: 10 kg}\n",
    )
    hired = brief(more="vehicle: {length: 2 m, hire: 80 EUR}\n")
    lines = lines_of(evaluate(hired, [long]))
    assert lines["vehicle_hire"] == pytest.approx(-80)
    assert lines["spoilt"] == pytest.approx(-2)


def test_a_survey_visit_is_a_drive_more():
    """30 km away at 0.5 a km: 30 there and back, twice with a survey visit."""
    cost = ("cost_per_km: 0 EUR/km", "cost_per_km: 0.5 EUR/km")
    far = "    distance: 30 km\n    survey_visit: {}\n"
    for visit, travel in (("false", -30), ("true", -60)):
        asks = brief(job(more=far.format(visit)), edits=[cost])
        assert lines_of(evaluate(asks, [machine()]))["travel"] == pytest.approx(travel)


def test_a_lodged_crew_drives_there_and_back_once():
    """48 m² on two days, 300 km away: 825 min on site and one drive of 600 min."""
    # Visit 85 + 720 = 805; the second day's prime and closing 20 more. The drive there
    # and back is longer than a day of 480 min, so each way takes a day of its own: 4
    # days, 3 nights. 10 days a month hold 2.5 jobs, 30 a year.
    far = job(width=12, height=4, price=2000, more="    distance: 300 km\n")
    lodged = ("cost_per_km: 0 EUR/km", "cost_per_km: 0 EUR/km, lodging: 50 EUR")
    hour = ("discount_rate: 0 %", "discount_rate: 0 %, own_hour: 10 EUR/h")
    found = evaluate(brief(far, edits=[lodged, hour]), [machine()])
    site, year = found.outcome.site, found.outcome.year
    assert site.is_lodged.item() and site.days.item() == 2
    assert site.on_site_min.item() == pytest.approx(825)
    assert found.outcome.booked_days.item() == 4
    hours = 30 * (825 + 600) / 60
    assert year.before_pay.item() == pytest.approx(30 * (2000 - 3 * 50))
    assert year.result.item() == pytest.approx(year.before_pay.item() - 10 * hours)


def test_own_pay_counts_loading_arrival_and_off_site_hours():
    """10 an hour for 205 + 15 min on site, 60 on the road, 26 loading, 3 h off site."""
    # 20 kg at 15 min for 100 kg are 3 min; with 10, 13 at either end of the day.
    work = job(more="    distance: 30 km\n").replace(
        "arrival_time: 0", "arrival_time: 15"
    )
    work = work.replace("off_site_time: 0 h", "off_site_time: 3 h")
    asks = brief(
        work,
        edits=[
            ("discount_rate: 0 %", "discount_rate: 0 %, own_hour: 10 EUR/h"),
            ("loading: 0 min", "loading: 10 min"),
            ("loading_per_100kg: 0 min", "loading_per_100kg: 15..15 min"),
        ],
    )
    found = evaluate(asks, [machine()])
    pay = 10 * (205 + 15 + 60 + 26 + 180) / 60
    assert lines_of(found)["own_pay"] == pytest.approx(-pay)
    assert found.outcome.contribution.item() == pytest.approx(500 - pay)
    year = found.outcome.year
    assert year.before_pay.item() - year.result.item() == pytest.approx(48 * pay)


def test_work_that_does_not_pay_the_owner_is_declined():
    """50 for a job that takes 3.4 hours at 20 an hour loses 18: it is declined."""
    hour = ("discount_rate: 0 %", "discount_rate: 0 %, own_hour: 20 EUR/h")
    found = evaluate(brief(job(price=50), edits=[hour]), [machine()])
    assert found.outcome.year.is_declined.all()
    assert found.outcome.year.result.item() == 0


def test_a_plain_edge_is_reach_that_need_not_be():
    """A machine reaches 2 m of a wall of 2.3 m: with 30 cm left plain it can do it."""
    reach = ("max_print_height: 100 m", "max_print_height: 2 m")
    for edge, can in (("0 m", False), ("0.3 m", True)):
        work = job(height=2.3, more=f"    plain_edge: {edge}\n")
        found = evaluate(brief(work), [machine(reach)])
        assert found.outcome.can_do.item() is can


def test_days_of_breakdown_are_not_worked():
    """Four jobs of a day, a stop of 2 days every 10 jobs: 4 days worked, not 4.8."""
    weak = machine(("stoppages: 100, days_down: 0", "stoppages: 10, days_down: 2"))
    found = years(evaluate(asked(), [weak]))
    assert found.cash.days[0, 0, 1:].tolist() == pytest.approx([4.0] * 60)


def test_work_that_leaves_most_a_day_goes_first_unless_cut_alike():
    """Ten days: 8 one-day jobs at 900, 8 at 300. All of the first, 2 of the second."""
    work = [job(name="good", per_month=8, price=900), job(per_month=8, price=300)]
    served = evaluate(brief(*work), [machine()]).outcome.year.served_per_month
    assert served[0, 0].tolist() == pytest.approx([8, 2])
    alike = brief(*work, more="work_order: pro_rata\n")
    served = evaluate(alike, [machine()]).outcome.year.served_per_month
    assert served[0, 0].tolist() == pytest.approx([5, 5])


def test_glass_too_takes_no_day_from_better_work():
    """A full diary of 500 a day stays so where glass at 300 can be printed too."""
    # 10 days a month: 12 one-day walls wanted at 500, 4 of glass at 300. With 2 days
    # left over, 8 walls and 2 of glass: 12 · (8 · 500 + 2 · 300).
    both = machine(("name: Alder", "name: Birch"), more="surfaces: [painted, glass]\n")
    plain = machine(more="surfaces: [painted]\n")
    glass = job(name="glass", price=300, more="    surface: glass\n")
    for walls, results in ((12, [60000, 60000]), (8, [48000, 55200])):
        wall = job(per_month=walls, more="    surface: painted\n")
        found = evaluate(brief(wall, glass), [plain, both]).outcome.year.result
        assert found[0, :, 0].tolist() == pytest.approx(results)


def test_ten_more_jobs_that_leave_less_change_nothing():
    """Ten walls at 500 fill the ten days; none or ten at 300 beside them: 60 000."""
    for more in (0, 10):
        work = [job(per_month=10), job(name="small", price=300, per_month=more)]
        found = evaluate(brief(*work), [machine()]).outcome.year.result
        assert found.item() == pytest.approx(60000)


def test_a_nearer_job_leaves_more():
    """100 km is done in a day from home; 140 km is lodged, and leaves 100 less."""
    # 12 m² in 265 min: home by night 480 − 200 = 280 min at 100 km would do in a day:
    # 500 − 0.5 · 200 = 400. At 140 km 200 min are too few: lodged, a day, 500 − 140 −
    # 60 = 300. 20 wanted, 10 done.
    cost = ("cost_per_km: 0 EUR/km", "cost_per_km: 0.5 EUR/km, lodging: 60 EUR")
    for km, left, is_lodged in ((100, 400, False), (140, 300, True)):
        far = job(width=6, per_month=20, more=f"    distance: {km} km\n")
        found = evaluate(brief(far, edits=[cost]), [machine()]).outcome
        assert bool(found.site.is_lodged.item()) == is_lodged
        assert found.year.result.item() == pytest.approx(120 * left)


def test_a_breakdown_costs_the_share_of_its_days_that_was_bookable():
    """Nine calendar days every ten jobs: 9 · 240/365 worked, half of them bookable."""
    # 4 jobs a month are 48 a year, 4.8 breakdowns of 2.959 bookable days.
    weak = machine(("stoppages: 100, days_down: 0", "stoppages: 10, days_down: 9"))
    lost = evaluate(brief(), [weak]).outcome.year.days_lost.item()
    assert lost == pytest.approx(4.8 * 9 * 240 / 365 / 2)
