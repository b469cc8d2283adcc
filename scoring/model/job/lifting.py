"""Screening figures for lifting: how many people, and a closer look at one lift.

Filters, not limits in law and no verdict on a lift: exceeding one asks for a manual
handling assessment. On stairs and slopes none of these figures apply; the lower person
bears most.
"""

import numpy as np

from scoring.errors import ScoringError

SLACK = 1e-9  # relative; a mass computed to be at the border counts as at it
TEAM_SHARE = {1: 1.0, 2: 2 / 3, 3: 1 / 2}  # of the sum of what each may lift alone
LARGEST_TEAM = max(TEAM_SHARE)
LOAD_CONSTANT_KG = 23.0
WAIST_CM = 75.0  # tables 5 and 7 change column at this height of the hands
LONGEST_H = 8.0
# Table 5: lifts a minute, then ≤ 1 h, ≤ 2 h, ≤ 8 h, each below and from 75 cm up
FREQUENCY = np.array(
    [
        [0.2, 1.00, 1.00, 0.95, 0.95, 0.85, 0.85],
        [0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81],
        [1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75],
        [2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65],
        [3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55],
        [4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45],
        [5, 0.80, 0.80, 0.60, 0.60, 0.35, 0.35],
        [6, 0.75, 0.75, 0.50, 0.50, 0.27, 0.27],
        [7, 0.70, 0.70, 0.42, 0.42, 0.22, 0.22],
        [8, 0.60, 0.60, 0.35, 0.35, 0.18, 0.18],
        [9, 0.52, 0.52, 0.30, 0.30, 0.00, 0.15],
        [10, 0.45, 0.45, 0.26, 0.26, 0.00, 0.13],
        [11, 0.41, 0.41, 0.00, 0.23, 0.00, 0.00],
        [12, 0.37, 0.37, 0.00, 0.21, 0.00, 0.00],
        [13, 0.00, 0.34, 0.00, 0.00, 0.00, 0.00],
        [14, 0.00, 0.31, 0.00, 0.00, 0.00, 0.00],
        [15, 0.00, 0.28, 0.00, 0.00, 0.00, 0.00],
    ]
)
# Table 7: how well the hands hold the load, below and from 75 cm up
COUPLING = {"good": (1.00, 1.00), "fair": (0.95, 1.00), "poor": (0.90, 0.90)}


def people_needed(mass_kg, limit_kg):
    """Return how many people the team-handling filter asks for: 1, 2, 3 or inf.

    Two lift two thirds of the sum of what each may lift alone, three half of it; larger
    teams are unlikely to work, so more than that is inf.

    Parameters
    ----------
    mass_kg, limit_kg : arrays that broadcast; kg; 0 or more
        The load, and what one person may lift alone by the filter in use.

    Raises
    ------
    ScoringError
        If a figure is not finite or is below 0.

    Source
    ------
    Health and Safety Executive (UK), L23 Manual handling, guidance on team handling;
    read as quoted in secondary pages. A filter: beyond it a full assessment is asked
    for, nothing is forbidden or cleared. It does not apply on steps or slopes.

    Examples
    --------
    >>> people_needed([25, 33, 37.5, 40], 25).tolist()
    [1.0, 2.0, 3.0, inf]
    """
    mass = _checked("mass", mass_kg, "kg")
    limit = _checked("lift limit", limit_kg, "kg") * (1 + SLACK)
    is_enough = [mass <= n * share * limit for n, share in TEAM_SHARE.items()]
    return np.select(is_enough, [float(n) for n in TEAM_SHARE], np.inf)


def team_limit_kg(people, limit_kg):
    """Return what so many people may lift together by the team-handling filter, kg.

    Parameters
    ----------
    people : array, 1 to 3
    limit_kg : array that broadcasts; what one may lift alone

    Source
    ------
    As `people_needed`, of which this is the border.

    Examples
    --------
    >>> team_limit_kg([1, 2, 3], 30).tolist()
    [30.0, 40.0, 45.0]
    """
    people = np.asarray(people, dtype=int)
    share = np.array([0.0, *TEAM_SHARE.values()])[people]
    return people * share * limit_kg


def recommended_weight_limit(
    horizontal_cm,
    vertical_cm,
    travel_cm,
    asymmetry_deg,
    lifts_per_min,
    duration_h,
    coupling,
):
    """Return the recommended weight limit of one vertical two-handed lift, in kg.

    Parameters
    ----------
    horizontal_cm : hands to the midpoint between the ankles; below 25 counts as 25,
        above 63 gives 0
    vertical_cm : hands above the floor; above 175 gives 0
    travel_cm : vertical travel; below 25 counts as 25, above 175 gives 0
    asymmetry_deg : twist from straight ahead; above 135 gives 0
    lifts_per_min : below 0.2 counts as 0.2, above 15 gives 0; between the rows of
        table 5 linear, also where the next row is 0
    duration_h : at most 8
    coupling : "good", "fair" or "poor"
        All are arrays that broadcast, 0 or more. Where the load must be placed with
        control, work out both ends of the lift and take the lower.

    Returns
    -------
    array, kg, 0 to 23
        0: the equation recommends no load in this posture or at this pace.

    Raises
    ------
    ScoringError
        If a figure is not finite or below 0, a duration is above 8 h or a coupling is
        not one of the three.

    Source
    ------
    Waters, Putz-Anderson & Garg (1994, rev. 2021), Applications Manual for the Revised
    NIOSH Lifting Equation, NIOSH 94-110, metric form, p. 7–18; read in a transcription.
    The manual's US form is not an exact conversion: 51 lb is 23.1 kg, 10 in is 25.4 cm.

    It does not apply (p. 6) to carrying, pushing or pulling; stairs and slopes; lifting
    with one hand, seated, kneeling or in a restricted space; an unstable or a wheeled
    load, wheelbarrow or shovel; more than 8 h; fast lifts (above about 76 cm/s); a
    slippery floor; or outside 19–26 °C and 35–50 % humidity.

    Examples
    --------
    >>> recommended_weight_limit([25, 50], 75, 25, 0, 0.2, 1, "good").tolist()
    [23.0, 11.5]
    """
    vertical = _checked("vertical distance", vertical_cm, "cm")
    is_low = vertical < WAIST_CM
    return (
        LOAD_CONSTANT_KG
        * _horizontal(_checked("horizontal distance", horizontal_cm, "cm"))
        * np.where(vertical <= 175, 1 - 0.003 * abs(vertical - WAIST_CM), 0.0)
        * _travel(_checked("travel", travel_cm, "cm"))
        * _asymmetry(_checked("asymmetry", asymmetry_deg, "°"))
        * _frequency(
            _checked("frequency", lifts_per_min, "lifts/min"),
            _checked_duration(duration_h),
            is_low,
        )
        * _coupling(coupling, is_low)
    )


def lifting_index(mass_kg, limit_kg):
    """Return the load over its recommended weight limit; inf where the limit is 0.

    The manual's design goal is 1 or less; above it some of the workforce, and by some
    experts' view above 3 nearly all, are at increased risk.

    Parameters
    ----------
    mass_kg, limit_kg : arrays that broadcast; kg; 0 or more

    Raises
    ------
    ScoringError
        If a figure is not finite or is below 0.

    Source
    ------
    NIOSH 94-110 (see `recommended_weight_limit`), p. 7 and 20; read in a transcription.
    For the one vertical lift of that limit only: not for carrying or stairs.

    Examples
    --------
    >>> lifting_index(23, [11.5, 0]).tolist()
    [2.0, inf]
    """
    mass = _checked("mass", mass_kg, "kg")
    mass, limit = np.broadcast_arrays(mass, _checked("weight limit", limit_kg, "kg"))
    return np.divide(mass, limit, out=np.full(mass.shape, np.inf), where=limit > 0)


def _horizontal(horizontal):
    return np.where(horizontal <= 63, 25 / np.maximum(horizontal, 25), 0.0)


def _travel(travel):
    return np.where(travel <= 175, 0.82 + 4.5 / np.maximum(travel, 25), 0.0)


def _asymmetry(asymmetry):
    return np.where(asymmetry <= 135, 1 - 0.0032 * asymmetry, 0.0)


def _frequency(frequency, duration, is_low):
    """Return table 5, interpolated in the column that duration and height choose."""
    column = 2 * np.searchsorted([1.0, 2.0], duration) + ~is_low
    rate, *columns = FREQUENCY.T
    by_column = [np.interp(frequency, rate, values, right=0.0) for values in columns]
    return np.choose(column, by_column)


def _coupling(coupling, is_low):
    """Return table 7."""
    held = np.asarray(coupling)
    for name in held.ravel().tolist():
        if name not in COUPLING:
            raise ScoringError(f"coupling: {name!r} is not known; good, fair or poor")
    row = np.argmax([held == name for name in COUPLING], axis=0)
    return np.array(list(COUPLING.values()))[row, np.where(is_low, 0, 1)]


def _checked_duration(duration_h):
    duration = _checked("duration", duration_h, "h")
    if (duration > LONGEST_H).any():
        raise ScoringError(
            f"duration: {duration.max():g} h is more than the lifting equation covers; "
            f"{LONGEST_H:g} h at most"
        )
    return duration


def _checked(name, figure, unit):
    """Return the figure as an array; each must be finite and 0 or more."""
    figure = np.asarray(figure, dtype=float)
    wrong = figure[~(np.isfinite(figure) & (figure >= 0))]
    if wrong.size:
        what = "is below 0" if wrong[0] < 0 else "is not a finite figure"
        raise ScoringError(f"{name}: {wrong[0]:g} {unit} {what}; 0 {unit} or more")
    return figure
