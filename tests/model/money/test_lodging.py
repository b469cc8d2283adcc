"""Whether a crew stays overnight: cases worked out by hand in the comments."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.model.outcome import outcome
from tests.model.builders import business, jobs, machines

# 6 × 6 = 36 m² at 6 m²/h = 360 min + shift 15 + carry 10, build 30, prime 10, pack down
# 20, closing 15 + mask 40 = 500 min on site; every further day 25 min more.
WALL = {"width_m": 6, "height_m": 6, "carry_min": 5}


def lived(job, crew=1, **buyer):
    return outcome(
        machines(crew=crew), jobs(WALL | job), business(is_best_first=True, **buyer)
    )


def test_where_no_day_is_saved_the_cheaper_is_taken():
    """Two days: driving twice costs 2 · 2 · 50 · 0.5 = 100; lodging 50 and 2 nights."""
    near = {"distance_km": 50}
    assert lived(near, lodging_per_night=20).site.is_lodged.item()
    found = lived(near, lodging_per_night=30)
    assert not found.site.is_lodged.item()
    assert found.site.days.item() == 2


def test_each_of_the_crew_needs_a_bed_and_is_paid_on_the_road():
    """Two people, 20 a bed, no wage: 50 + 2 · 2 · 20 = 130 is more than 100."""
    near = {"distance_km": 50}
    buyer = {"crew": 2, "people": 2, "lodging_per_night": 20}
    assert not lived(near, **buyer).site.is_lodged.item()
    # At 24 an hour the second drive of 100 min would cost 40 more: 130 < 140.
    found = lived(near, wage_per_h=24, **buyer)
    assert found.site.is_lodged.item()
    assert found.contribution_lines.lodging.item() == pytest.approx(-80)
    # on site 525 min and one drive of 100 min
    assert found.contribution_lines.wages.item() == pytest.approx(-24 * 625 / 60)


def test_a_saved_day_pays_for_the_beds_where_days_run_short():
    """Three days driving, two lodged: dearer by 140, more for each booked day."""
    # 120 km: 240 of 480 min on the road, window 240: (500 − 25)/(240 − 25) = 2.2, three
    # days, drives 3 · 120 = 360, left 3600 − 36 − 360 = 3204, 1068 a day. Lodged: two
    # days, 120 and two nights of 190, left 3064, 1532 a day.
    # 10 days a month: 20 wanted, 5 jobs of 2 days are done.
    far = {"distance_km": 120}
    found = lived(far | {"per_month": 20}, lodging_per_night=190)
    assert found.site.is_lodged.item()
    assert found.year.result.item() == pytest.approx(12 * 5 * 3064)


def test_days_that_nobody_asks_for_pay_for_no_bed():
    """The same job, two a month: 6 of 10 days driving home leave 140 a job more."""
    found = lived({"distance_km": 120}, lodging_per_night=190)
    assert not found.site.is_lodged.item()
    assert found.year.result.item() == pytest.approx(12 * 2 * 3204)


def test_a_saved_day_pays_where_other_work_waits_for_it():
    """Two such jobs beside a full diary of days that leave 594 each: lodged."""
    # A day saved is worth 600 − 6 = 594 to the other work, a bed more costs 140.
    far = WALL | {"distance_km": 120}
    work = jobs(far, {"per_month": 20})
    buyer = business(is_best_first=True, lodging_per_night=190)
    found = outcome(machines(), work, buyer)
    assert found.site.is_lodged[0, 0].tolist() == [True, False]
    assert found.year.result.item() == pytest.approx(12 * (2 * 3064 + 6 * 594))


@given(
    distance=st.floats(0, 900),
    nearer=st.floats(0, 1),
    per_month=st.floats(0, 8),
    bed=st.floats(0, 300),
    other=st.floats(0, 20),
    stays=st.booleans(),
    people=st.integers(1, 2),
)
def test_a_nearer_job_or_a_bed_to_be_had_never_costs(
    distance, nearer, per_month, bed, other, stays, people
):
    """The year leaves no less with a shorter way, or where a bed is offered."""
    kind = WALL | {"stays_built": stays, "per_month": per_month}
    pair = [
        jobs(kind | {"distance_km": km}, {"per_month": other})
        for km in (distance, distance * nearer)
    ]
    hired = {"people": people, "wage_per_h": 15, "is_best_first": True}
    buyer = business(lodging_per_night=bed, **hired)
    far, near = (outcome(machines(), work, buyer).year.result for work in pair)
    assert near.item() >= far.item() - 1e-6
    no_bed = business(lodging_per_night=np.nan, **hired)
    homely = outcome(machines(), pair[0], no_bed).year.result
    assert far.item() >= homely.item() - 1e-6
