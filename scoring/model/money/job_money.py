"""Money of a purchase and of one job: brief's currency, before tax, after own pay.

An estimate from the inputs; customs value and tax bases differ by country: ask an
accountant and a customs broker.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.job.crew import hired_help_cost
from scoring.model.job.site_time import loading_minutes, travel_minutes
from scoring.model.money.crew_pay import wage_by_hour
from scoring.model.money.landed import landed_cost


class Upfront(NamedTuple):
    """What is paid before the first job, line by line; (draw, machine, 1)."""

    price: np.ndarray
    export_clearance: np.ndarray
    freight: np.ndarray
    insurance: np.ndarray
    duty: np.ndarray
    import_tax: np.ndarray
    broker: np.ndarray
    inland_freight: np.ndarray
    training: np.ndarray
    accessories: np.ndarray
    vehicle_fitting: np.ndarray
    vehicle: np.ndarray
    aids: np.ndarray


class Contribution(NamedTuple):
    """One job's revenue (above 0) and costs (below 0); they sum to what is left."""

    revenue: np.ndarray
    ink: np.ndarray
    surface: np.ndarray  # primer and varnish
    purge: np.ndarray
    wear: np.ndarray
    travel: np.ndarray
    vehicle_hire: np.ndarray
    lodging: np.ndarray
    hired_help: np.ndarray
    wages: np.ndarray
    spoilt: np.ndarray
    own_pay: np.ndarray  # the owner's hours, 0 where no hour has a worth


def upfront(machines, business, carried, loaded):
    """Return the lines of the cost to the buyer's door, ready to work.

    By the terms of delivery: what the price holds already is 0 here. See
    `landed.landed_cost` for what duty and import tax are taken on.
    """
    landed = landed_lines(machines, business.is_import_tax_recovered)
    return Upfront(*landed, loaded.price, carried.aid_price)


def landed_lines(machines, is_recovered):
    """Return the Landed cost of each machine; (draw, machine, 1).

    `is_recovered`: whether the import tax is given back, and so is no cost.
    """
    return landed_cost(
        machines.price,
        machines.terms,
        export_clearance=machines.export_clearance,
        freight=machines.freight,
        insurance=machines.insurance,
        duty=machines.duty,
        import_tax=machines.import_tax,
        broker=machines.broker,
        inland_freight=machines.inland_freight,
        training=machines.training,
        accessories=machines.accessories,
        vehicle_fitting=machines.vehicle_fitting,
        is_recovered=is_recovered,
    )


def band_price(area_m2, up_to_m2, price_per_m2):
    """Return the price per m² of the first size band that holds the area: (...,).

    `up_to_m2` (band,) ascends and ends in inf; `price_per_m2` is (..., band).

    Examples
    --------
    >>> band_price(np.array([2.0, 5.0, 9.0]), [5.0, np.inf], [120.0, 90.0]).tolist()
    [120.0, 120.0, 90.0]
    """
    band = np.searchsorted(np.asarray(up_to_m2), area_m2 - 1e-9)
    prices = np.broadcast_to(price_per_m2, area_m2.shape + (len(up_to_m2),))
    return np.take_along_axis(prices, band[..., None], axis=-1)[..., 0]


def revenue(jobs):
    """Return what the client pays for a job: (draw, 1, job)."""
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    by_area = np.maximum(jobs.minimum, jobs.price_per_m2 * area_m2)
    return by_area + jobs.price_per_job + jobs.artwork_fee


def ink_cost(machines, jobs):
    """Return the ink on the wall, colour and white underneath: (draw, machine, job)."""
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    colour = machines.ink_colour_ml_per_m2 * jobs.ink_cover * machines.ink_price_per_ml
    white = machines.ink_white_ml_per_m2 * machines.white_price_per_ml
    return area_m2 * (colour + np.where(jobs.has_underbase, white, 0.0))


def wear_per_m2(machines):
    """Return heads and lamps used up by a square metre printed."""
    heads = machines.head_price / machines.head_life_m2
    return heads + machines.lamp_price / machines.lamp_life_m2


def contribution(machines, jobs, business, carried, loaded, site, booked):
    """Return the lines of what one job leaves: each (draw, machine, job).

    `booked` are its days in the diary: jobs that share a day share a hired vehicle. A
    print done again costs its ink, the wages of its minutes, and of what a further day
    on site costs the share that it prints: so a quicker build does not make it dearer.
    """
    area_m2 = jobs.walls * jobs.width_m * jobs.height_m
    ink = ink_cost(machines, jobs)
    purge = machines.purge_ml * machines.ink_price_per_ml * site.days
    per_drive = 2 * jobs.distance_km * business.cost_per_km
    beds = carried.own * business.lodging_per_night
    lodging = np.where(site.nights > 0, site.nights * beds, 0.0)
    helped = hired_help_cost(business, carried, site)
    wage_per_min = (carried.own - 1) * wage_by_hour(business) / 60
    road_min = travel_minutes(jobs, business)
    wages = wage_per_min * (site.on_site_min + site.drives * road_min)
    travel = site.drives * per_drive
    hire = loaded.hire_per_day * booked
    a_day = machines.purge_ml * machines.ink_price_per_ml + loaded.hire_per_day
    a_day = a_day + helped / site.builds
    a_day = a_day + np.where(site.is_lodged, beds, per_drive + wage_per_min * road_min)
    days_again = site.print_min / np.where(site.window_min > 0, site.window_min, np.nan)
    again = ink + wage_per_min * site.print_min + a_day * days_again
    none = 0 * site.days  # NaN in every line where it cannot be done: means add up
    return Contribution(
        revenue(jobs) + none,
        none - ink,
        none - machines.surface_cost_per_m2 * area_m2,
        -purge,
        none - wear_per_m2(machines) * area_m2,
        -(travel + jobs.survey_visits * per_drive),
        -hire,
        none - lodging,
        none - helped,
        -wages,
        none - machines.spoilt_share * again,
        -own_pay(machines, jobs, business, site),
    )


def own_pay(machines, jobs, business, site):
    """Return what the owner's hours of a job are worth: (draw, machine, job).

    On site, on the road with the drive to survey the wall, loading at either end of a
    day, and off site.
    """
    road = (site.drives + jobs.survey_visits) * travel_minutes(jobs, business)
    loading = site.drives * loading_minutes(machines, business)
    minutes = site.on_site_min + jobs.off_site_min + road + loading
    return np.nan_to_num(business.own_hour) * minutes / 60
