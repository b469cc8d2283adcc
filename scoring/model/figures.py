"""What the model is given: three records of arrays, in internal units.

Money is in the brief's currency, time in minutes, length in metres, mass in kilograms,
ink in millilitres, shares as decimals. Every array broadcasts over
(draw, machine, job): a machine's figure has shape (draw, machine, 1), a job type's
(draw, 1, job), the buyer's own (draw, 1, 1). NaN means that there is no such thing.
"""

from typing import NamedTuple

import numpy as np


class MachineFigures(NamedTuple):
    """The machines, each under one plan; shape (draw, machine, 1) unless stated."""

    price: np.ndarray
    terms: np.ndarray  # of delivery, text, (1, machine, 1)
    export_clearance: np.ndarray
    freight: np.ndarray
    insurance: np.ndarray
    duty: np.ndarray
    import_tax: np.ndarray
    broker: np.ndarray
    inland_freight: np.ndarray
    vehicle_fitting: np.ndarray
    training: np.ndarray
    accessories: np.ndarray
    resale: np.ndarray
    plan_fee: np.ndarray
    upkeep: np.ndarray

    pass_modes: np.ndarray  # (mode,)
    speed_m2_per_h: np.ndarray  # (draw, machine, 1, mode), NaN where not offered
    strip_width_m: np.ndarray  # NaN without a carriage model
    head_speed_m_per_min: np.ndarray
    turnaround_min: np.ndarray
    skips_blank: np.ndarray  # bool
    prints_white: np.ndarray  # bool
    white_time_factor: np.ndarray

    assembly_min: np.ndarray
    pack_down_min: np.ndarray
    prime_min: np.ndarray
    move_min: np.ndarray
    shift_min: np.ndarray
    rail_length_m: np.ndarray  # inf: no limit

    heaviest_lift_kg: np.ndarray
    piece_kg: np.ndarray  # (draw, machine, piece), NaN where there is no such piece
    piece_rolls: np.ndarray  # bool, (1, machine, piece)
    aid_bought: np.ndarray  # bool, (1, machine, aid), cheapest first
    crew_level: np.ndarray  # people that go out at least, (1, machine, 1)
    crew_stairs: np.ndarray  # the same, where there are stairs
    hires_first: np.ndarray  # bool: who is needed besides the owner is hired
    may_hire: np.ndarray  # bool: people from outside may help to carry
    longest_piece_m: np.ndarray  # 0: not stated, not checked
    loaded_m3: np.ndarray
    loaded_kg: np.ndarray

    odour_preparing: np.ndarray
    odour_printing: np.ndarray
    max_print_height_m: np.ndarray  # inf: no limit stated
    lowest_print_height_m: np.ndarray  # 0: no limit stated
    side_clearance_m: np.ndarray
    head_gap_m: np.ndarray  # inf: no limit stated
    prints_surface: np.ndarray  # bool, (1, machine, job)
    prints_curved: np.ndarray  # bool

    ink_colour_ml_per_m2: np.ndarray
    ink_white_ml_per_m2: np.ndarray
    ink_price_per_ml: np.ndarray
    white_price_per_ml: np.ndarray
    purge_ml: np.ndarray
    idle_care_ml: np.ndarray
    idle_every_days: np.ndarray
    smallest_order_ml: np.ndarray
    shelf_life_months: np.ndarray  # inf: keeps
    head_price: np.ndarray
    head_life_m2: np.ndarray
    head_life_months: np.ndarray  # inf: does not age
    lamp_price: np.ndarray
    lamp_life_m2: np.ndarray
    lamp_life_months: np.ndarray
    spoilt_share: np.ndarray
    jobs_between_stoppages: np.ndarray
    days_down: np.ndarray
    response_days: np.ndarray
    parts_days: np.ndarray
    # What the job's surface needs besides the print; (draw, machine, job).
    surface_min_per_m2: np.ndarray = 0.0  # primer and varnish
    drying_min: np.ndarray = 0.0
    surface_cost_per_m2: np.ndarray = 0.0


class JobFigures(NamedTuple):
    """The job types; shape (draw, 1, job)."""

    per_month: np.ndarray
    walls: np.ndarray
    width_m: np.ndarray
    height_m: np.ndarray
    passes: np.ndarray  # (job,): the fewest accepted
    blank_share: np.ndarray
    has_underbase: np.ndarray  # bool
    is_curved: np.ndarray  # bool
    relief_m: np.ndarray
    ink_cover: np.ndarray
    odour_limit: np.ndarray
    price_per_m2: np.ndarray  # 0 where the job has one price
    minimum: np.ndarray
    price_per_job: np.ndarray
    artwork_fee: np.ndarray
    carry_min: np.ndarray  # one way, one trip, ground level
    stairs: np.ndarray  # flights
    measure_mask_min: np.ndarray
    closing_min: np.ndarray
    distance_km: np.ndarray  # one way
    stays_built: np.ndarray  # bool
    access_min: np.ndarray  # inf: no window
    lowest_edge_m: np.ndarray  # NaN: not stated, not checked
    side_gap_m: np.ndarray  # NaN: not stated, not checked
    survey_visits: np.ndarray
    is_must: np.ndarray  # bool: must-serve
    arrival_min: np.ndarray = 0.0  # parking and talk with the client, each day
    off_site_min: np.ndarray = 0.0  # selling, drawing, ordering, a job
    plain_edge_m: np.ndarray = 0.0  # strip the client accepts unprinted


class Trade(NamedTuple):
    """How work comes, is learned and is paid; as it stands, all at once.

    Figures are (draw, 1, 1) or broadcast to it.
    """

    months_to_full: np.ndarray = 0.0  # from delivery, in an even rise
    seasonality: np.ndarray = (1.0,) * 12  # (..., 12), mean 1, January first
    first_month: int = 0  # month 1 in the calendar, 0 January to 11 December
    learning_start: np.ndarray = 1.0  # 2: the first build takes twice its time
    learning_halving: np.ndarray = 5.0  # builds that halve the excess (own estimate)
    spoilt_start: np.ndarray = 1.0  # 2: twice as many prints spoilt at first
    training_days: np.ndarray = 0.0  # of the diary, after delivery
    first_jobs: np.ndarray = 0.0  # at a lower price
    first_discount: np.ndarray = 0.0  # share off their price
    deposit_share: np.ndarray = 0.0  # of a job's price, paid with the job
    days_to_pay: np.ndarray = 0.0  # the rest, after the job
    unpaid_share: np.ndarray = 0.0  # of the rest, never paid


class PaymentTerms(NamedTuple):
    """How the buyer pays for a machine, whichever it is; (draw, 1, 1)."""

    way: str = "cash"  # or deposit, loan, lease
    deposit_share: np.ndarray = 0.0  # of the cost to the door, at signing
    delivery_months: np.ndarray = 0.0
    borrowed: np.ndarray = np.nan  # NaN: what is lacking in cash
    loan_rate: np.ndarray = 0.0  # a year
    n_instalments: int = 12
    lease_per_month: np.ndarray = 0.0
    residual: np.ndarray = 0.0  # with the last of the lease, to own the machine
    tax_back_months: np.ndarray = 3.0  # import tax given back, after delivery


class BusinessFigures(NamedTuple):
    """The buyer; shape (draw, 1, 1) unless stated."""

    people: int
    lift_limit_kg: np.ndarray
    wage_per_h: np.ndarray
    aid_capacity_kg: np.ndarray  # (draw, 1, aid), cheapest first
    aid_price: np.ndarray  # (draw, 1, aid)
    aid_min_per_job: np.ndarray  # (draw, 1, aid)
    aid_needs_wheels: np.ndarray  # bool, (1, 1, aid)
    aid_climbs: np.ndarray  # bool, (1, 1, aid): up stairs too
    help_rate_per_h: np.ndarray
    help_minimum_min: np.ndarray
    day_min: np.ndarray
    days_per_week: np.ndarray
    weeks_per_year: np.ndarray
    bookable_share: np.ndarray
    jobs_per_day_max: int
    day_margin: np.ndarray
    travel_km_per_h: np.ndarray
    cost_per_km: np.ndarray
    lodging_per_night: np.ndarray  # NaN: no lodging
    vehicle_length_m: np.ndarray  # inf: not stated, not checked
    vehicle_m3: np.ndarray
    payload_kg: np.ndarray
    hire_per_day: np.ndarray  # of a larger vehicle; NaN: none to be had
    vehicle_price: np.ndarray
    cash: np.ndarray
    credit: np.ndarray
    highest_upfront: np.ndarray  # NaN: no such limit
    fixed_costs: np.ndarray
    insurance_share: np.ndarray  # of the machine's price, a year
    own_hour: np.ndarray  # NaN: not stated
    discount_rate: np.ndarray
    horizon_years: int
    is_import_tax_recovered: bool
    is_best_first: bool
    payment: PaymentTerms = PaymentTerms()
    trade: Trade = Trade()
    loading_min: np.ndarray = 0.0  # of the van, at either end of a day
    loading_min_per_kg: np.ndarray = 0.0
    is_paid_by_month: bool = False  # the others than the owner
    on_costs: np.ndarray = 0.0  # share of their wage on top, paid by the month
    living: np.ndarray = 0.0  # what the owner draws a month


class Figures(NamedTuple):
    """All that the model is given."""

    machines: MachineFigures
    jobs: JobFigures
    buyer: BusinessFigures
