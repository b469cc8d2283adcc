"""Upfront cost, a job's contribution and an average year, worked out by hand."""

from types import SimpleNamespace as Record

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.model.money import job_money
from scoring.model.money.served import best_first, pro_rata
from scoring.model.outcome import outcome
from tests.model.builders import business, jobs, machines


def lines(machine, job, **buyer):
    found = outcome(machine, job, business(**buyer))
    return {k: v.item() for k, v in found.contribution_lines._asdict().items()}


def test_landed_cost_build_up():
    """Price 20 000, freight 1 800, insurance 109, duty 2 %, import tax 20 %.

    Source: the usual customs build-up (customs value, duty on it, import tax on both)
    after HMRC and EU Directive 2006/112 art. 85–86, read in secondary pages; example
    rates. Customs value 21 909, duty 438.18, tax base 22 347.18, tax 4 469.44.
    """
    imported = {"freight": 1800, "insurance": 109, "duty": 0.02, "import_tax": 0.2}
    machine, buyer = machines(imported), business(is_import_tax_recovered=False)
    found = outcome(machine, jobs(), buyer).upfront_lines
    assert found.duty.item() == pytest.approx(438.18)
    assert found.import_tax.item() == pytest.approx(4469.436)
    assert sum(found).item() == pytest.approx(21909 + 438.18 + 4469.436)
    buyer = business()
    found = outcome(machine, jobs(), buyer).upfront_lines
    assert sum(found).item() == pytest.approx(22347.18)


def test_contribution_of_one_job():
    """A 6 m² job line by line."""
    # revenue 6 × 100 = 600; ink 6 × 10 ml × 0.1 = 6; purge 20 ml × 0.1 × 1 day = 2
    # wear 6 × (2000/1000 + 500/1000) = 15; travel 2 × 30 km × 0.5 = 30
    # wages: (185 min + 60 min drive)/60 × 12 = 49; spoilt 10 % of the ink again, of
    # the 60 min printed at 12 an hour, and of 60/420 of a further day on site (purge,
    # drive, wages on the road): 0.1 × (6 + 12 + (2 + 30 + 12)/7) = 2.43
    machine = machines(
        {"purge_ml": 20, "head_price": 2000, "lamp_price": 500, "spoilt_share": 0.1},
        crew=2,
    )
    found = lines(machine, jobs({"distance_km": 30}), people=2, wage_per_h=12)
    spoilt = 0.1 * (6 + 12 + 44 / 7)
    assert found == pytest.approx(
        {
            "revenue": 600,
            "ink": -6,
            "surface": 0,
            "purge": -2,
            "wear": -15,
            "travel": -30,
            "vehicle_hire": 0,
            "lodging": 0,
            "hired_help": 0,
            "wages": -49,
            "spoilt": -spoilt,
            "own_pay": 0,
        }
    )


def test_minimum_price_job_price_fee_and_white_ink():
    """The minimum binds below it; a job price stands alone; the artwork is added."""
    small = {"minimum": 800, "artwork_fee": 50}
    assert lines(machines(), jobs(small))["revenue"] == 850
    flat = {"price_per_m2": 0, "price_per_job": 480}
    assert lines(machines(), jobs(flat))["revenue"] == 480
    # 6 m² × (10 ml × 0.5 cover × 0.1 + 15 ml × 0.2) = 3 + 18
    dark = {"has_underbase": True, "ink_cover": 0.5}
    assert lines(machines(), jobs(dark))["ink"] == pytest.approx(-21)


def test_size_bands_take_the_first_that_holds_the_area():
    """6 m² falls into a band up to 6 m², 6.1 m² into the next."""
    prices = np.array([[120.0, 90.0], [100.0, 80.0]])
    area = np.array([6.0, 6.1])
    assert job_money.band_price(area, [6, np.inf], prices).tolist() == [120, 80]


def test_an_average_year():
    """Two jobs a month, 10 days there are: what a year leaves."""
    # 5 × 48 / 12 × 0.5 = 10 days; 2 jobs × 1 day = 2 booked
    # left per job 600 − 6 = 594; year 12 × 2 × 594 = 14 256; less fee 500, upkeep 300
    # idle: 365 − 24 = 341 days / 3 = 113.67 × 5 ml × 0.1 = 56.83; fixed 1 000
    machine = machines({"plan_fee": 500, "upkeep": 300, "idle_care_ml": 5})
    found = outcome(machine, jobs(), business(fixed_costs=1000))
    result = 14256 - 500 - 300 - 341 / 3 * 0.5 - 1000
    assert found.year.days_available.item() == 10
    assert found.year.booked_days.item() == 2
    assert found.year.result.item() == pytest.approx(result)


def test_ink_that_grows_too_old_is_bought_in_vain():
    """A litre at least, good for 6 months: two litres a year, 560 ml of them unused."""
    # 24 jobs × 6 m² × 10 ml = 1 440 ml used; 2 000 − 1 440 = 560 ml × 0.1 = 56.
    # Of white nothing is used, so nothing is bought.
    machine = machines({"smallest_order_ml": 1000, "shelf_life_months": 6})
    lines = outcome(machine, jobs(), business()).year.lines
    assert lines.expired_ink.item() == pytest.approx(-56)
    # Dark walls: 24 × 6 × 15 = 2 160 ml of white, more than two litres: none is lost.
    lines = outcome(machine, jobs({"has_underbase": True}), business()).year.lines
    assert lines.expired_ink.item() == pytest.approx(-56)


def test_spoilt_prints_purge_and_idle_care_use_ink_too():
    """1 440 ml on walls, a tenth again for spoilt ones, 24 purges, 341/3 cares."""
    # 1 440 · 1.1 + 24 · 5 + 341/3 · 2 = 1 931.33 of 2 000 ml: 68.67 ml × 0.1 too old.
    machine = machines(
        {"smallest_order_ml": 1000, "shelf_life_months": 6, "spoilt_share": 0.1}
        | {"purge_ml": 5, "idle_care_ml": 2}
    )
    lines = outcome(machine, jobs(), business()).year.lines
    used = 1440 * 1.1 + 24 * 5 + 341 / 3 * 2
    assert lines.expired_ink.item() == pytest.approx(-(2000 - used) * 0.1)


def test_insurance_is_a_share_of_the_price_each_year():
    """3 % of 20 000 are 600 a year."""
    found = outcome(machines(), jobs(), business(insurance_share=0.03))
    assert found.year.lines.insurance.item() == pytest.approx(-600)
    plain = outcome(machines(), jobs(), business())
    assert found.year.result.item() == pytest.approx(plain.year.result.item() - 600)


def test_more_work_than_days_is_cut_alike():
    """30 one-day jobs wanted, 10 days: a third of each is served."""
    work = jobs({"per_month": 20}, {"per_month": 10})
    found = outcome(machines(), work, business())
    assert found.year.served_per_month[0, 0] == pytest.approx([20 / 3, 10 / 3])
    assert found.year.work_served.item() == pytest.approx(1 / 3)
    assert found.year.booked_days.item() == pytest.approx(10)


def test_must_serve_comes_first():
    """8 must-serve days leave 2 of 10 for the rest."""
    work = jobs({"per_month": 20}, {"per_month": 8, "is_must": True})
    found = outcome(machines(), work, business())
    assert found.year.served_per_month[0, 0] == pytest.approx([2, 8])


def test_best_first_serves_what_leaves_most_a_day():
    """The dearer job fills its 4 days, the cheaper the 6 that are left."""
    work = jobs({"per_month": 20}, {"per_month": 4, "price_per_m2": 200})
    found = outcome(machines(), work, business(is_best_first=True))
    assert found.year.served_per_month[0, 0] == pytest.approx([6, 4])


def test_work_that_loses_money_is_declined_unless_it_must_be_served():
    """A job priced below its travel is declined; as a must it is done at a loss."""
    poor = {"price_per_m2": 1, "distance_km": 30}
    found = outcome(machines(), jobs(poor), business())
    assert found.year.is_declined.item()
    assert found.year.result.item() == 0
    found = outcome(machines(), jobs(poor | {"is_must": True}), business())
    assert found.year.result.item() < 0


def test_breakdowns_take_days_out_of_the_same_diary():
    """A stop of 36.5 calendar days every 10 jobs: each job costs 2.2 days of 10."""
    # Of 365 calendar days 5 · 48 = 240 are worked, so 24 of 36.5; half of them, 12, are
    # bookable: 1.2 a job. 20 wanted; 10 / 2.2 = 4.545 served and booked; 5.4545 lost a
    # month, 65.4545 a year
    machine = machines({"jobs_between_stoppages": 10, "days_down": 36.5})
    found = outcome(machine, jobs({"per_month": 20}), business())
    assert found.year.booked_days.item() == pytest.approx(10 / 2.2)
    assert found.year.days_available.item() == pytest.approx(10 / 2.2)
    assert found.year.days_lost.item() == pytest.approx(12 * 1.2 * 10 / 2.2)


def test_heads_that_age_before_they_wear_out_cost_the_difference():
    """144 m² a year; a head of 1 000 m², 12 months, 2 000 costs 2 000 yearly."""
    worn = {"head_price": 2000, "head_life_m2": 1000, "head_life_months": 12}
    found = outcome(machines(worn), jobs(), business())
    wear = -24 * found.contribution_lines.wear.item()
    assert wear == pytest.approx(288)
    assert wear - found.year.lines.ageing.item() == pytest.approx(2000)


def test_a_machine_that_serves_nothing_earns_nothing():
    """No mode for the job: days are not a number, the year is its fixed costs."""
    found = outcome(machines(), jobs(passes=[8]), business(fixed_costs=900))
    assert not found.can_do.any()
    assert np.isnan(found.site.days).all()
    assert found.year.result.item() == -900
    assert np.isnan(found.year.site_hours_per_1000).all()


def test_twice_as_fast_earns_the_same_on_a_day_that_holds_one_job():
    """Speed that frees no day earns nothing: common practice, no source."""
    pair = machines({}, {}, speeds=[(3.0,), (6.0,)])
    found = outcome(pair, jobs(), business())
    assert found.year.result[0, 0, 0] == found.year.result[0, 1, 0]


@pytest.mark.parametrize(
    ("machine", "job", "missed", "by"),
    [
        ({"max_print_height_m": 2.2}, {"lowest_edge_m": 0.5}, "too_high", 0.3),
        ({"lowest_print_height_m": 0.3}, {"lowest_edge_m": 0.1}, "too_low", 0.2),
        ({"side_clearance_m": 0.3}, {"side_gap_m": 0.1}, "corner", 0.2),
        ({"head_gap_m": 0.004}, {"relief_m": 0.006}, "relief", 0.002),
        ({"odour_preparing": 4}, {"odour_limit": 3}, "odour", 1),
        ({"prints_white": False}, {"has_underbase": True}, "white", 1),
        ({"prints_surface": False}, {}, "surface", 1),
        ({}, {"is_curved": True}, "curved", 1),
        ({}, {"distance_km": 300}, "too_far", 1),
        ({"assembly_min": 460}, {"stays_built": False}, "too_long", 1),
    ],
)
def test_what_a_machine_misses_and_by_how_much(machine, job, missed, by):
    """Each limit is missed alone, by the difference worked out in the case."""
    found = outcome(machines(machine), jobs(job), business())
    amounts = {k: v.item() for k, v in found.misses._asdict().items() if v.item()}
    assert amounts == pytest.approx({missed: by})


@given(
    wanted=st.lists(st.floats(0, 20), min_size=3, max_size=3),
    load=st.lists(st.floats(0.1, 5), min_size=3, max_size=3),
    days=st.floats(0, 60),
)
def test_served_work_fits_the_days(wanted, load, days):
    """Neither order serves more than is wanted or than the days hold."""
    wanted, load, days = map(np.array, (wanted, load, [days]))
    for found in (
        pro_rata(wanted, load, days),
        best_first(wanted, load, days, np.array([3.0, 1.0, 2.0])),
    ):
        assert (found >= 0).all() and (found <= wanted + 1e-9).all()
        assert (found * load).sum() <= days.item() + 1e-6
        full = min((wanted * load).sum(), days.item())
        assert (found * load).sum() == pytest.approx(full, abs=1e-6)


@given(jobs_a_month=st.floats(0, 15), more=st.floats(0, 10))
def test_more_jobs_never_lower_the_result(jobs_a_month, more):
    """Work that leaves money never lowers the year, however full the diary is."""
    few = outcome(machines(), jobs({"per_month": jobs_a_month}), business())
    many = outcome(machines(), jobs({"per_month": jobs_a_month + more}), business())
    assert many.year.result.item() >= few.year.result.item() - 1e-6


def test_draws_are_one_call():
    """Three draws of a price give what three calls give."""
    machine, buyer = machines(), business()
    prices = np.array([18000.0, 20000.0, 25000.0])
    together = outcome(
        machine._replace(price=prices[:, None, None]), jobs(), buyer
    ).upfront[:, 0, 0]
    apart = [
        outcome(machine._replace(price=np.array([[[p]]])), jobs(), buyer).upfront.item()
        for p in prices
    ]
    assert together.tolist() == apart


def test_own_hours_of_a_job_of_two_days_with_a_survey():
    """Site, road with the survey's drive, loading at each drive, and hours off site."""
    # 30 km each way at 60 km/h: 60 min there and back; two days and the survey: 3 × 60
    # loading: 10 + 0.15 · 100 kg = 25 min at either end, two days: 2 × 50
    # site 700 min, off site 240 min: 700 + 180 + 100 + 240 = 1 220 min at 30 an hour
    site = Record(on_site_min=700.0, drives=2.0, days=2.0)
    job = Record(survey_visits=1.0, distance_km=30.0, off_site_min=240.0)
    buyer = Record(
        own_hour=30.0, travel_km_per_h=60.0, loading_min=10.0, loading_min_per_kg=0.15
    )
    rig = Record(piece_kg=np.array([[[60.0, 40.0, np.nan]]]))
    pay = job_money.own_pay(rig, job, buyer, site)
    assert pay.item() == pytest.approx(1220 / 60 * 30)


def test_a_crew_that_stays_drives_once():
    """Two days on site, one drive: 2 × 60 less on the road, one loading less."""
    site = Record(on_site_min=700.0, drives=1.0, days=2.0)
    job = Record(survey_visits=0.0, distance_km=30.0, off_site_min=0.0)
    buyer = Record(
        own_hour=60.0, travel_km_per_h=60.0, loading_min=10.0, loading_min_per_kg=0.0
    )
    rig = Record(piece_kg=np.array([[[60.0]]]))
    # 700 + 60 + 2 · 10 = 780 min at 1 a minute
    assert job_money.own_pay(rig, job, buyer, site).item() == pytest.approx(780)


def test_where_a_job_cannot_be_done_no_line_of_it_is_told():
    """Else means of lines would be of other draws than the mean of their sum."""
    far = jobs({"distance_km": 3000, "stays_built": False})  # beyond a day's drive
    found = outcome(machines(), far, business(travel_km_per_h=50.0))
    assert np.isnan(found.site.days).all()
    for line in found.contribution_lines:
        assert np.isnan(np.broadcast_to(line, (1, 1, 1))).all()
