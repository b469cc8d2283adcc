"""A machine that does not go into the buyer's vehicle, worked out by hand."""

import pytest

from scoring.model.job.vehicle import BOUGHT, HIRED, NONE_FITS, OWN
from scoring.model.outcome import outcome
from tests.model.builders import business, jobs, machines

LONG = {"longest_piece_m": 2.2, "loaded_m3": 0.8, "loaded_kg": 90}
VAN = {"vehicle_length_m": 2.0, "vehicle_m3": 1.2, "payload_kg": 120}


def way(machine, **buyer):
    return outcome(machines(machine), jobs(), business(**buyer)).loaded.way.item()


def test_what_fits_or_is_not_stated_goes_in_ones_own():
    """A piece as long as the vehicle fits; without a size nothing is checked."""
    assert way(LONG | {"longest_piece_m": 2.0}, **VAN) == OWN
    assert way(LONG) == OWN
    assert way({}, **VAN) == OWN


@pytest.mark.parametrize(
    "large", [{"longest_piece_m": 2.01}, {"loaded_m3": 1.3}, {"loaded_kg": 121}]
)
def test_each_measure_alone_keeps_it_out(large):
    """Too long, too bulky or too heavy: without a price for a larger one, out."""
    fits = LONG | {"longest_piece_m": 2.0}
    assert way(fits | large, **VAN) == NONE_FITS


def test_hire_costs_every_day_on_site():
    """Two one-day jobs a month at 80 a day: each job leaves 80 less."""
    plain = outcome(machines(), jobs(), business())
    found = outcome(machines(LONG), jobs(), business(**VAN, hire_per_day=80))
    assert found.loaded.way.item() == HIRED
    assert found.contribution_lines.vehicle_hire.item() == -80
    assert found.contribution.item() == plain.contribution.item() - 80
    assert found.upfront.item() == plain.upfront.item()


def test_of_hire_and_buying_the_cheaper_over_the_years():
    """2 days a month over 5 years at 80 are 9 600: buying pays below that."""
    dear, cheap = (VAN | {"hire_per_day": 80, "vehicle_price": p} for p in (9601, 9599))
    assert way(LONG, **dear) == HIRED
    assert way(LONG, **cheap) == BOUGHT
    found = outcome(machines(LONG), jobs(), business(**cheap))
    assert found.upfront_lines.vehicle.item() == 9599
    assert found.contribution_lines.vehicle_hire.item() == 0


def test_hire_counts_the_days_there_are():
    """Of 30 days wanted 10 can be booked: 10 · 60 months · 80 = 48 000."""
    buyer = VAN | {"hire_per_day": 80, "vehicle_price": 47999}
    found = outcome(machines(LONG), jobs({"per_month": 30}), business(**buyer))
    assert found.loaded.way.item() == BOUGHT


def test_work_that_cannot_be_done_buys_no_vehicle():
    """Of 9 jobs a month one can be done: 60 days of hire, not 540."""
    buyer = VAN | {"hire_per_day": 80, "vehicle_price": 20000}
    done, not_done = {"per_month": 1}, {"per_month": 8, "odour_limit": 1}
    found = outcome(machines(LONG), jobs(done, not_done), business(**buyer))
    assert found.can_do[0, 0].tolist() == [True, False]
    assert found.loaded.way.item() == HIRED


def test_two_jobs_in_one_day_share_the_hire():
    """Two short jobs a day pay half a day's hire each."""
    short = {"per_month": 4, "width_m": 1, "height_m": 1}
    buyer = business(**VAN, hire_per_day=80, jobs_per_day_max=2)
    found = outcome(machines(LONG), jobs(short), buyer)
    assert found.booked_days.item() == 0.5
    assert found.contribution_lines.vehicle_hire.item() == -40
