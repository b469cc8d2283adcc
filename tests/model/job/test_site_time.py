"""Minutes and days on site against cases worked out by hand in the comments."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.model.job.site_time import booked_days, fastest_mode, scans, site_time
from tests.model.builders import business, jobs, machines


def on_site(machine, job, buyer=None, carry=5.0, **ways):
    return site_time(machine, job, buyer or business(), np.array([[[carry]]]), **ways)


def only(array):
    assert array.shape == (1, 1, 1)
    return array.item()


def test_one_job_that_fits_the_day():
    """A small wall: parts, visit, one day and the minutes to spare."""
    # area 3 × 2 = 6 m² at 6 m²/h = 60 min
    # carry 2 × 5 = 10, build 30, prime 10, pack down 20, closing 15 → 85; mask 40
    # visit = 85 + 40 + 60 = 185; window 480 → 295 to spare
    site = on_site(machines(), jobs())
    assert only(site.print_min) == 60
    assert only(site.visit_min) == 185
    assert only(site.days) == 1
    assert only(site.spare_min) == 295
    assert only(sum(site.parts)) == only(site.on_site_min) == 185


def test_same_area_at_eight_passes_takes_twice_the_time_of_four():
    """Twice the passes, twice the printing time: common practice, no source."""
    machine = machines(speeds=[(6.0, 3.0)], pass_modes=(4, 8))
    four = on_site(machine, jobs(passes=[4]))
    eight = on_site(machine, jobs(passes=[8]))
    assert only(eight.print_min) == 2 * only(four.print_min)


def test_three_foot_square_prints():
    """3 ft × 3 ft in 33 and 75 min: 1.52 and 0.67 m²/h (common practice, no source)."""
    area = (3 * 0.3048) ** 2
    speed = [area / (33 / 60), area / (75 / 60)]
    assert np.round(speed, 2).tolist() == [1.52, 0.67]
    assert speed[0] / speed[1] == pytest.approx(2.27, abs=0.005)
    side = {"width_m": 0.9144, "height_m": 0.9144}
    machine = machines({}, {}, speeds=[(speed[0],), (speed[1],)])
    site = site_time(machine, jobs(side), business(), np.zeros((1, 1, 1)))
    assert site.print_min[0, :, 0] == pytest.approx([33, 75])


def test_short_rail_on_a_long_wall_costs_shifts():
    """An 8 m wall takes three positions of a 3 m rail: two shifts of 15 min."""
    # 8/3 → 3 stands, 2 shifts × 15 = 30; on a 8 m rail none
    site = on_site(machines({}, {"rail_length_m": 8}), jobs({"width_m": 8}))
    assert site.stands[0, :, 0].tolist() == [3, 1]
    assert np.broadcast_to(site.parts.moves, (1, 2, 1))[0, :, 0].tolist() == [30, 0]


def test_several_walls_cost_moves():
    """Two walls of two positions each: 2 shifts of 15 and 1 move of 25 min."""
    site = on_site(machines(), jobs({"walls": 2, "width_m": 5}))
    assert only(site.stands) == 4
    assert only(site.parts.moves) == 2 * 15 + 25


def test_slow_build_costs_a_two_stand_wall_a_second_day():
    """The same wall: quick build one day, slow build two."""
    # 6 × 2.5 = 15 m² at 6 m²/h = 150 min, one shift 15
    # quick: carry 10 + 30 + 10 + 20 + 15 = 85, mask 40 → visit 290 ≤ 300
    # slow: build 55 instead of 30 → 315 > 300; again = 10 + 15 = 25
    #   days = ceil((315 − 25)/(300 − 25)) = ceil(1.05) = 2
    #   on site 315 + 25 = 340, to spare 2 × 300 − 340 = 260
    machine = machines({}, {"assembly_min": 55})
    wall = jobs({"width_m": 6, "height_m": 2.5})
    site = on_site(machine, wall, business(day_min=300))
    assert site.days[0, :, 0].tolist() == [1, 2]
    assert site.on_site_min[0, 1, 0] == 340
    assert site.spare_min[0, :, 0].tolist() == [10, 260]


def test_machine_that_may_not_stay_built_prints_whole_stands():
    """Four stands of 75 min, built anew each day: 3 days, where left standing 2."""
    # 12 × 2.5 = 30 m² at 6 m²/h = 300 min, 3 shifts × 15 = 45 → 345 / 4 stands = 86.25
    # build day 85, mask 40, window 300
    # first day floor((300 − 125)/86.25) = floor(2.03) = 2
    # later days floor((300 − 85)/86.25) = floor(2.49) = 2
    # → 1 + ceil((4 − 2)/2) = 2 days. With a 280 min window:
    # first floor(155/86.25) = 1, later floor(195/86.25) = 2 → 1 + ceil(3/2) = 3 days
    # standing built: visit 85 + 40 + 345 = 470, (470 − 25)/(280 − 25) = 1.75 → 2 days
    wall = {"width_m": 12, "height_m": 2.5}
    anew = jobs(wall | {"stays_built": False})
    assert only(on_site(machines(), anew, business(day_min=300)).days) == 2
    site = on_site(machines(), anew, business(day_min=280))
    assert only(site.days) == 3
    # on site: visit 470 + 2 × build day 85 = 640
    # last day: 4 − 1 − 2 = 1 stand: 280 − 85 − 86.25 = 108.75 to spare
    assert only(site.on_site_min) == 640
    assert only(sum(site.parts)) == 640
    assert only(site.spare_min) == pytest.approx(108.75)
    assert only(on_site(machines(), jobs(wall), business(day_min=280)).days) == 2


def test_a_stand_longer_than_a_day_is_cut():
    """300 min never fit the 215 min left of a rebuilding day; two halves fit two."""
    # 3 × 10 = 30 m² = 300 min > 300 − 85. In two: 300 + a shift of 15 = 2 · 157.5;
    # the first day has 300 − 85 − 40 = 175 min for one, the second 215.
    wall = jobs({"height_m": 10, "stays_built": False})
    site = on_site(machines(), wall, business(day_min=300))
    assert (only(site.stands), only(site.days)) == (2, 2)
    # 85 + 40 + 315 and the second build day
    assert only(site.on_site_min) == 440 + 85
    assert only(site.spare_min) == pytest.approx(215 - 157.5)


def test_a_day_that_building_fills_is_impossible_anew_each_day():
    """85 min to build and pack down of a day of 85: nothing is ever printed."""
    wall = jobs({"stays_built": False})
    site = on_site(machines(), wall, business(day_min=85))
    assert np.isnan(only(site.days))
    assert np.isnan(only(site.on_site_min))


def test_a_few_minutes_a_day_for_a_year_are_no_way_to_do_a_job():
    """A day of which a fifth of a minute is left for printing never ends a job."""
    # visit 185, prime and closing 25 of each further day: (185 − 25)/(window − 25)
    # window 25.8: 160/0.8 = 200 days; 25.2: 160/0.2 = 800 days, beyond a year's 250
    assert only(on_site(machines(), jobs(), business(day_min=25.8)).days) == 200
    assert np.isnan(only(on_site(machines(), jobs(), business(day_min=25.2)).days))


def test_speed_that_frees_no_day_frees_no_day():
    """Twice as fast, the same one day: common practice, no source."""
    site = on_site(machines({}, {}, speeds=[(3.0,), (6.0,)]), jobs())
    assert site.days[0, :, 0].tolist() == [1, 1]
    assert booked_days(site, machines(), jobs(), business())[0, :, 0].tolist() == [1, 1]


def test_two_jobs_share_a_day_only_if_both_fit_with_their_drives():
    """k jobs in a day: limited by the clock, by the crew's own rule, by the month."""
    # visit 185, drive 2 × 20 km at 60 km/h = 40 min → (185 + 40) × 2 = 450 ≤ 480
    near = jobs({"distance_km": 20})
    site = on_site(machines(), near)
    assert (
        only(booked_days(site, machines(), near, business(jobs_per_day_max=3))) == 0.5
    )
    assert only(booked_days(site, machines(), near, business(jobs_per_day_max=1))) == 1
    # drive 2 × 30 km = 60 min → 245 × 2 = 490 > 480
    far = jobs({"distance_km": 30})
    assert (
        only(
            booked_days(
                on_site(machines(), far), machines(), far, business(jobs_per_day_max=3)
            )
        )
        == 1
    )
    rare = jobs({"distance_km": 20, "per_month": 1})
    assert (
        only(
            booked_days(
                on_site(machines(), rare),
                machines(),
                rare,
                business(jobs_per_day_max=3),
            )
        )
        == 1
    )


def test_a_day_that_is_shared_loads_the_van_once():
    """What the van takes at either end of the day leaves less for both jobs."""
    # (185 + 40) × 2 = 450 of 480 min; 2 × 15 min of loading leave 450, 2 × 16 do not
    near = jobs({"distance_km": 20})
    for loading_min, booked in ((15, 0.5), (16, 1)):
        buyer = business(jobs_per_day_max=3)._replace(loading_min=loading_min)
        site = on_site(machines(), near, buyer)
        assert only(booked_days(site, machines(), near, buyer)) == booked


def test_drive_access_and_margin_shorten_the_window():
    """The day on site: hours less the drive, at most the client's hours, less 10 %."""
    # 480 − 2 × 60 km at 60 km/h = 360; × 0.9 = 324
    site = on_site(machines(), jobs({"distance_km": 60}), business(day_margin=0.1))
    assert only(site.window_min) == pytest.approx(324)
    # the client lets us in for 300 min: × 0.9 = 270
    site = on_site(
        machines(),
        jobs({"distance_km": 60, "access_min": 300}),
        business(day_margin=0.1),
    )
    assert only(site.window_min) == pytest.approx(270)


def test_too_far_for_a_day_unless_lodged():
    """A drive of nine hours leaves nothing of eight; a night nearby does."""
    far = jobs({"distance_km": 270})
    assert np.isnan(only(on_site(machines(), far).days))
    site = on_site(machines(), far, is_lodged=True)
    assert only(site.days) == 1
    assert only(site.spare_min) == 295
    # 4.5 h each way: a day there, a night, a day on site, a night, a day back
    assert only(site.nights) == 2
    assert only(booked_days(site, machines(), far, business())) == 3


def test_a_drive_of_more_than_a_day_books_two_each_way():
    """800 km at 55 km/h are 14.5 h: two days of 8 h there, one on site, two back."""
    far, buyer = jobs({"distance_km": 800}), business(travel_km_per_h=55)
    site = on_site(machines(), far, buyer, is_lodged=True)
    assert only(booked_days(site, machines(), far, buyer)) == 5
    assert only(site.nights) == 4
    assert only(site.drives) == 1


def test_a_short_drive_falls_in_the_evenings_of_a_lodged_crew():
    """200 km at 60 km/h, 6 h 40 of 8 h: no day of its own, one night a day on site."""
    # 6 × 6 = 36 m² at 6 m²/h = 360 + shift 15 + 85 + 40 = 500 min: two days
    wall = jobs({"width_m": 6, "height_m": 6, "distance_km": 200})
    site = on_site(machines(), wall, is_lodged=True)
    assert (
        only(booked_days(site, machines(), wall, business())) == only(site.nights) == 2
    )


def test_fewest_passes_that_are_enough_and_fastest():
    """A job that accepts 4 passes takes the fastest mode with 4 or more."""
    speed = np.array([[[[9.0, 5.0, 6.0]], [[9.0, np.nan, np.nan]]]])
    passes, rate = fastest_mode(speed, np.array([2, 4, 8]), np.array([4, 2]))
    assert passes[0].tolist() == [[8, 2], [0, 2]]
    assert rate[0].tolist() == [[6, 9], [0, 9]]


def test_white_underneath_and_skipped_blanks_change_the_print_alone():
    """60 min × 2 for white in a run of its own; × 0.7 where 30 % is skipped."""
    machine = machines({"white_time_factor": 2, "skips_blank": True})
    dark = on_site(machine, jobs({"has_underbase": True}))
    assert only(dark.print_min) == 120
    airy = on_site(machine, jobs({"blank_share": 0.3}))
    assert only(airy.print_min) == pytest.approx(42)
    whole = on_site(machines(), jobs({"blank_share": 0.3}))
    assert only(whole.print_min) == 60


def test_carriage_throughput():
    """A 50 mm swath, 4 passes, 2.4 m stroke at 0.5 m/s, 1.5 s turn: 6 m take 0.845 h.

    Source: multi-pass geometry after Torpey & Sengun, NIP14 (1998), read in abstract;
    the figures are computed from it: 483 strokes of 6.3 s, 17.1 m²/h.
    """
    assert scans(np.array(6.0), 4, 0.05) == 483
    carriage = {
        "strip_width_m": 0.05,
        "head_speed_m_per_min": 30,
        "turnaround_min": 1.5 / 60,
        "rail_length_m": 6,
    }
    site = on_site(machines(carriage), jobs({"width_m": 6, "height_m": 2.4}))
    assert only(site.print_min) / 60 == pytest.approx(0.845, abs=0.0005)
    # 14.4 m² in 483 × 6.3 s; the 3 strokes that run out make it a little less than 17.1
    assert 14.4 / (only(site.print_min) / 60) == pytest.approx(17.1, abs=0.11)


@given(
    width=st.floats(0.5, 30),
    height=st.floats(0.5, 5),
    speed=st.floats(0.5, 20),
    stays_built=st.booleans(),
)
def test_days_hold_the_work(width, height, speed, stays_built):
    """The windows of the booked days hold the minutes on site, with none to lose."""
    wall = jobs({"width_m": width, "height_m": height, "stays_built": stays_built})
    site = on_site(machines(speeds=[(speed,)]), wall)
    if np.isnan(only(site.days)):
        return
    room = only(site.days) * only(site.window_min)
    assert only(site.on_site_min) <= room + 1e-6
    assert only(sum(site.parts)) == pytest.approx(only(site.on_site_min))
    assert only(site.spare_min) >= -1e-6


@given(
    width=st.floats(0.5, 20),
    height=st.floats(0.5, 5),
    rail=st.floats(0.5, 8),
    longer=st.floats(1, 4),
    stays_built=st.booleans(),
    has_carriage=st.booleans(),
    passes=st.integers(1, 4),
)
def test_a_longer_rail_never_takes_more_days(
    width, height, rail, longer, stays_built, has_carriage, passes
):
    """Whatever a shorter rail can do, a longer one can do, cut into the same stands."""
    carriage = {"head_speed_m_per_min": 6, "turnaround_min": 0.05}
    carriage["strip_width_m"] = 0.3 if has_carriage else np.nan
    rails = [carriage | {"rail_length_m": metres} for metres in (rail, rail * longer)]
    wall = {"width_m": width, "height_m": height, "stays_built": stays_built}
    found = on_site(machines(*rails), jobs(wall, passes=[passes]))
    short, long = np.nan_to_num(found.days[0, :, 0], nan=np.inf)
    assert long <= short
    if long == short and np.isfinite(long):
        assert found.on_site_min[0, 1, 0] <= found.on_site_min[0, 0, 0] + 1e-6


@given(speed=st.floats(0.5, 10), factor=st.floats(1, 5))
def test_faster_never_takes_more_days(speed, factor):
    """A machine that prints faster never needs more days on site."""
    both = machines({}, {}, speeds=[(speed,), (speed * factor,)])
    site = on_site(both, jobs({"width_m": 9, "height_m": 2.4}))
    assert site.days[0, 1, 0] <= site.days[0, 0, 0]
