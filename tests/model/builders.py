"""Model figures for hand-worked cases: round invented numbers, changed by keyword."""

import numpy as np

from scoring.model.figures import BusinessFigures, JobFigures, MachineFigures

MACHINE = {
    "price": 20000,
    "terms": "EXW",
    "export_clearance": 0,
    "freight": 0,
    "insurance": 0,
    "duty": 0,
    "import_tax": 0,
    "broker": 0,
    "inland_freight": 0,
    "vehicle_fitting": 0,
    "training": 0,
    "accessories": 0,
    "resale": 0,
    "plan_fee": 0,
    "upkeep": 0,
    "strip_width_m": np.nan,
    "head_speed_m_per_min": np.nan,
    "turnaround_min": np.nan,
    "skips_blank": False,
    "prints_white": True,
    "white_time_factor": 1,
    "assembly_min": 30,
    "pack_down_min": 20,
    "prime_min": 10,
    "move_min": 25,
    "shift_min": 15,
    "rail_length_m": 3,
    "heaviest_lift_kg": 20,
    "longest_piece_m": 0,
    "loaded_m3": 0,
    "loaded_kg": 0,
    "odour_preparing": 1,
    "odour_printing": 2,
    "max_print_height_m": np.inf,
    "lowest_print_height_m": 0,
    "side_clearance_m": 0,
    "head_gap_m": np.inf,
    "prints_surface": True,
    "prints_curved": False,
    "ink_colour_ml_per_m2": 10,
    "ink_white_ml_per_m2": 15,
    "ink_price_per_ml": 0.1,
    "white_price_per_ml": 0.2,
    "purge_ml": 0,
    "idle_care_ml": 0,
    "idle_every_days": 3,
    "smallest_order_ml": 0,
    "shelf_life_months": np.inf,
    "head_price": 0,
    "head_life_m2": 1000,
    "head_life_months": np.inf,
    "lamp_price": 0,
    "lamp_life_m2": 1000,
    "lamp_life_months": np.inf,
    "spoilt_share": 0,
    "jobs_between_stoppages": np.inf,
    "days_down": 0,
    "response_days": 1,
    "parts_days": 2,
}
JOB = {
    "per_month": 2,
    "walls": 1,
    "width_m": 3,
    "height_m": 2,
    "blank_share": 0,
    "has_underbase": False,
    "is_curved": False,
    "relief_m": 0,
    "ink_cover": 1,
    "odour_limit": 6,
    "price_per_m2": 100,
    "minimum": 0,
    "price_per_job": 0,
    "artwork_fee": 0,
    "carry_min": 5,
    "stairs": 0,
    "measure_mask_min": 40,
    "closing_min": 15,
    "distance_km": 0,
    "stays_built": True,
    "access_min": np.inf,
    "lowest_edge_m": np.nan,
    "side_gap_m": np.nan,
    "survey_visits": 0,
    "is_must": False,
}
BUSINESS = {
    "lift_limit_kg": 25,
    "wage_per_h": 0,
    "help_rate_per_h": 20,
    "help_minimum_min": 120,
    "day_min": 480,
    "days_per_week": 5,
    "weeks_per_year": 48,
    "bookable_share": 0.5,
    "day_margin": 0,
    "travel_km_per_h": 60,
    "cost_per_km": 0.5,
    "lodging_per_night": np.nan,
    "vehicle_length_m": np.inf,
    "vehicle_m3": np.inf,
    "payload_kg": np.inf,
    "hire_per_day": np.nan,
    "vehicle_price": np.nan,
    "cash": 20000,
    "credit": 10000,
    "highest_upfront": np.nan,
    "fixed_costs": 0,
    "insurance_share": 0,
    "own_hour": np.nan,
    "discount_rate": 0.1,
}


def machines(
    *changed,
    speeds=None,
    pass_modes=(4,),
    pieces=(),
    rolls=False,
    bought=(),
    crew=1,
    hires_first=False,
    may_hire=True,
):
    """Return the MachineFigures of one machine for each dict of changes.

    `speeds` is one tuple of m²/h by pass mode a machine; `pieces` masses in kg, by
    default the heaviest lift alone, and whether all of them `rolls`; `bought` whether
    each aid is; `crew` the people that go out at least, (level, stairs) or one number.
    """
    changed = changed or ({},)
    speeds = speeds or [(6.0,)] * len(changed)
    rows = [MACHINE | change for change in changed]
    mass = [list(pieces) or [row["heaviest_lift_kg"]] for row in rows]
    mass = np.array([mass], float)
    level, stairs = crew if isinstance(crew, tuple) else (crew, crew)
    shape = (1, len(rows), 1)
    return MachineFigures(
        pass_modes=np.array(pass_modes),
        speed_m2_per_h=np.array(speeds, float)[None, :, None, :],
        piece_kg=mass,
        piece_rolls=np.full(mass.shape, rolls),
        aid_bought=np.array([[list(bought)] * len(rows)], bool),
        crew_level=np.full(shape, level),
        crew_stairs=np.full(shape, stairs),
        hires_first=np.full(shape, hires_first),
        may_hire=np.full(shape, may_hire),
        **{key: np.array([[[row[key]] for row in rows]]) for key in MACHINE},
    )


def jobs(*changed, passes=None):
    """Return the JobFigures of one job type for each dict of changes."""
    changed = changed or ({},)
    rows = [JOB | change for change in changed]
    return JobFigures(
        passes=np.array(passes or [4] * len(rows)),
        **{key: np.array([[[row[key] for row in rows]]]) for key in JOB},
    )


def business(
    people=1, aids=(), jobs_per_day_max=1, is_best_first=False, horizon=5, **changes
):
    """Return the BusinessFigures; `aids` are (capacity, price, minutes, on wheels,
    up stairs)."""
    columns = [
        np.array([[[aid[k] for aid in aids]]], bool if k > 2 else float)
        for k in range(5)
    ]
    return BusinessFigures(
        people=people,
        aid_capacity_kg=columns[0],
        aid_price=columns[1],
        aid_min_per_job=columns[2],
        aid_needs_wheels=columns[3],
        aid_climbs=columns[4],
        jobs_per_day_max=jobs_per_day_max,
        horizon_years=horizon,
        is_import_tax_recovered=changes.pop("is_import_tax_recovered", True),
        is_best_first=is_best_first,
        **{key: np.array([[[float((BUSINESS | changes)[key])]]]) for key in BUSINESS},
    )
