"""Whether the machine goes into the buyer's vehicle, and what it costs if not."""

from typing import NamedTuple

import numpy as np

from scoring.model.numbers import over_jobs

OWN, HIRED, BOUGHT, NONE_FITS = range(4)


class Loading(NamedTuple):
    """How the machine gets to the client; each (draw, machine, 1)."""

    way: np.ndarray  # OWN .. NONE_FITS
    price: np.ndarray  # of a larger vehicle, 0 unless it is bought
    hire_per_day: np.ndarray  # 0 unless one is hired


class Excess(NamedTuple):
    """By how much the machine is too large, 0 or less where it fits."""

    length_m: np.ndarray
    volume_m3: np.ndarray
    mass_kg: np.ndarray


def excess(machines, business):
    """Return the Excess over the buyer's own vehicle, each (draw, machine, 1).

    What the sheet or the brief does not state is not checked.
    """
    return Excess(
        machines.longest_piece_m - business.vehicle_length_m,
        machines.loaded_m3 - business.vehicle_m3,
        machines.loaded_kg - business.payload_kg,
    )


def loading(machines, jobs, business, days):
    """Return the Loading; of hiring and buying the cheaper, where both are offered.

    Hire counts for every day booked for all work that is wanted and can be done, as
    far as there are days for it, over the years looked ahead; a bought vehicle as if it
    were worth nothing in the end.

    Parameters
    ----------
    days : shape (draw, machine, job); booked for a job, NaN where it cannot be done
    """
    is_too_large = np.any([each > 0 for each in excess(machines, business)], axis=0)
    month = business.days_per_week * business.weeks_per_year / 12
    wanted = over_jobs(jobs.per_month, np.nan_to_num(days))
    booked = np.minimum(wanted, month * business.bookable_share)
    hire, price = np.broadcast_arrays(business.hire_per_day, business.vehicle_price)
    hired_over_years = 12 * business.horizon_years * booked * hire
    is_bought = np.isfinite(price) & ~(hired_over_years <= price)
    way = np.where(is_bought, BOUGHT, np.where(np.isfinite(hire), HIRED, NONE_FITS))
    way = np.where(is_too_large, way, OWN)
    return Loading(
        way,
        np.where(way == BOUGHT, price, 0.0),
        np.where(way == HIRED, hire, 0.0),
    )
