"""What is compared, and the scale that turns a figure in its unit into a 0–1 score.

A scale holds [worst, best] anchors, shape (n_criteria, 2). It is set once for a loaded
brief and then kept, so that a weight keeps meaning the same swing.
"""

from dataclasses import dataclass

import numpy as np

# Figures that differ by less than this share of their size are the same figure.
ROUNDING = 1e-12


@dataclass(frozen=True)
class Criterion:
    """One thing that matters to the buyer.

    `unit` says "currency" where the brief's own stands. `derived_from` names the keys
    of the machine sheet or the brief that the figure rests on; `double_counts` the
    criteria through which the same facts already act. Figures above `flat_above` count
    as it.
    """

    id: str
    label: str
    term: str
    unit: str
    is_benefit: bool
    derived_from: tuple[str, ...]
    in_use: bool = True
    flat_above: float | None = None
    double_counts: tuple[str, ...] = ()


STANDARD = (
    Criterion(
        id="upfront",
        label="cost to your door",
        term="landed cost: price, freight, insurance, duty, tax, training, accessories",
        unit="currency",
        is_benefit=False,
        derived_from=(
            "price",
            "landed_cost",
            "crew.aids",
            "money.import_tax_recovered",
        ),
    ),
    Criterion(
        id="year_result",
        label="money left over in a year",
        term="yearly contribution less fixed costs, before tax and your own pay",
        unit="currency/year",
        is_benefit=True,
        derived_from=(
            *("work", "working_time", "travel", "crew", "money.fixed_costs"),
            *("speed", "print_tests", "carriage", "rail_length", "assembly_time"),
            *("pack_down_time", "prime_time", "move_time", "shift_time", "ink"),
            *("white", "wear", "upkeep", "spoilt_share", "reliability"),
            *("subscription_fees", "max_print_height", "lowest_print_height"),
            *("side_clearance", "head_gap", "surfaces", "features", "odour"),
        ),
    ),
    Criterion(
        id="ready_time",
        label="arrival to first print",
        term="carrying in, building, priming and checking nozzles, mean over your work",
        unit="min",
        is_benefit=False,
        derived_from=("assembly_time", "prime_time", "pieces", "work.carry"),
    ),
    Criterion(
        id="heaviest_lift",
        label="heaviest lift",
        term="mass of the heaviest piece that is carried",
        unit="kg",
        is_benefit=False,
        derived_from=("heaviest_lift",),
    ),
    Criterion(
        id="odour",
        label="smell of the ink",
        term="odour intensity after VDI 3882-1, the stronger of preparing and printing",
        unit="0–6",
        is_benefit=False,
        derived_from=("odour.preparing", "odour.printing"),
    ),
    Criterion(
        id="support",
        label="days until running again",
        term="the maker's response and the parts' lead time after a breakdown",
        unit="day",
        is_benefit=False,
        derived_from=("support.response", "support.parts_lead_time"),
    ),
    Criterion(
        id="print_quality",
        label="print quality",
        term="rating of the print as clients see it, 1–5",
        unit="1–5",
        is_benefit=True,
        derived_from=("ratings.print_quality",),
    ),
    Criterion(
        id="software_ease",
        label="ease of the software",
        term="rating of the software in daily use, 1–5",
        unit="1–5",
        is_benefit=True,
        derived_from=("ratings.software_ease",),
    ),
    Criterion(
        id="work_served",
        label="share of the work served",
        term="revenue served as a share of the revenue of the whole mix",
        unit="share",
        is_benefit=True,
        derived_from=("work", "working_time", "speed", "max_print_height", "odour"),
        in_use=False,
        double_counts=("year_result",),
    ),
    Criterion(
        id="site_hours",
        label="hours on site per 1000 earned",
        term="crew hours on site for each 1000 of revenue",
        unit="h per 1000 currency",
        is_benefit=False,
        derived_from=("work", "crew", "speed", "assembly_time", "pack_down_time"),
        in_use=False,
        double_counts=("year_result",),
    ),
    Criterion(
        id="days_lost",
        label="days lost to breakdowns a year",
        term="expected stoppages a year times the days that each takes",
        unit="day/year",
        is_benefit=False,
        derived_from=("reliability.jobs_between_stoppages", "reliability.days_down"),
        in_use=False,
        double_counts=("year_result",),
    ),
)


def default_scale(raw, is_benefit, flat_above=None):
    """Return anchors that hold the finite figures, rounded outward to a round step.

    The step is the power of ten at or below the spread. Without a spread the two
    anchors are equal, and 0 where no figure is finite. No anchor is above `flat_above`.

    Parameters
    ----------
    raw : shape (n_alternatives, n_criteria)
        Central figures, each column in its unit; not finite where not achievable.
    is_benefit : bool, shape (n_criteria,)
        True where more is better.
    flat_above : sequence of float or None, shape (n_criteria,), optional

    Returns
    -------
    shape (n_criteria, 2)
        [worst, best] in the unit of the column.

    Examples
    --------
    >>> default_scale([[12300, 3.2], [28900, 4.6]], [False, True]).tolist()
    [[30000.0, 10000.0], [3.0, 5.0]]
    """
    raw = np.asarray(raw, float)
    is_finite = np.isfinite(raw)
    capped = np.where(is_finite, np.minimum(raw, _caps(flat_above)), 0.0)
    low = capped.min(axis=0, where=is_finite, initial=np.inf)
    high = capped.max(axis=0, where=is_finite, initial=-np.inf)
    low, high = np.where(is_finite.any(axis=0), [low, high], 0.0)
    ends = np.minimum(_rounded_outward(low, high), _caps(flat_above))
    return np.stack(np.where(is_benefit, ends, ends[::-1]), axis=-1)


def _caps(flat_above):
    """Return the figures from which more counts no more; inf where there is none."""
    caps = np.asarray(np.nan if flat_above is None else flat_above, float)
    return np.where(np.isnan(caps), np.inf, caps)


def _rounded_outward(low, high):
    """Return (2, n_criteria): low and high on the step, as they are if the same."""
    spread = high - low
    is_same = spread <= ROUNDING * np.maximum(abs(low), abs(high))
    power = np.floor(np.log10(np.where(is_same, 1.0, spread)) + ROUNDING)
    below, above = 10.0 ** np.maximum(-power, 0), 10.0 ** np.maximum(power, 0)
    # One of the two is 1: 3/10 is nearer to 0.3 than 3·0.1 is.
    slack = 1e-9  # so that 0.3/0.1 = 2.9999999999999996 is 3 steps
    first = np.floor(low * below / above + slack) * above / below
    last = np.ceil(high * below / above - slack) * above / below
    return np.where(is_same, low, [first, last])


def scores(raw, scale, flat_above=None):
    """Return 0–1 scores: 0 at the worst anchor or beyond it, 1 at the best.

    Parameters
    ----------
    raw : shape (..., n_alternatives, n_criteria)
        Figures in their units; one that is not finite is not achievable and scores 0.
    scale : shape (n_criteria, 2)
        [worst, best]; where they are equal, every finite figure scores 1.
    flat_above : sequence of float or None, shape (n_criteria,), optional
        Figures and anchors above it count as it.

    Returns
    -------
    shape (..., n_alternatives, n_criteria)

    Examples
    --------
    >>> scores([[25, 3], [5, float("inf")]], [[30, 10], [2, 6]], [None, 4]).tolist()
    [[0.25, 0.5], [1.0, 0.0]]
    """
    raw, caps = np.asarray(raw, float), _caps(flat_above)
    worst, best = np.minimum(np.moveaxis(np.asarray(scale, float), -1, 0), caps)
    capped = np.minimum(np.where(np.isfinite(raw), raw, worst), caps)
    span = best - worst
    share = (capped - worst) / np.where(span == 0, 1.0, span)
    share = np.where(span == 0, 1.0, np.clip(share, 0.0, 1.0))
    return np.where(np.isfinite(raw), share, 0.0)


def separates(scale):
    """Return which criteria tell achievable alternatives apart: bool (n_criteria,).

    Examples
    --------
    >>> separates([[30, 10], [4, 4]]).tolist()
    [True, False]
    """
    scale = np.asarray(scale, float)
    return scale[..., 0] != scale[..., 1]
