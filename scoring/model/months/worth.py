"""What months of cash are worth: low point, payback, present value, rates.

Months are on the last axis: 0 is the signing, month t the end of the t-th month.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.money.finance import (
    SLACK,
    equivalent_annual,
    net_present_value,
    sign_changes,
)
from scoring.model.months.learning import per

NONE, ONE, SEVERAL = "none", "one", "several"


class Worth(NamedTuple):
    """What the months come to; (draw, machine) but for the curve."""

    curve: np.ndarray  # (draw, machine, month): cash so far
    low_point: np.ndarray  # lowest of the curve with the owner's living, 0 or less
    low_month: np.ndarray
    payback_month: np.ndarray  # inf: never
    discounted_payback_month: np.ndarray
    npv: np.ndarray
    equivalent_annual_cost: np.ndarray  # of all that is paid, less resale
    cost_per_m2: np.ndarray  # NaN where nothing is printed
    cost_per_job: np.ndarray
    cash_per_day: np.ndarray  # left for a day worked


class Returns(NamedTuple):
    """Yearly rates at which flows are worth 0 now; shape (...)."""

    kind: np.ndarray  # "none", "one" or "several"
    rate: np.ndarray  # the one nearest 0; NaN where none
    n_rates: np.ndarray
    sign_changes: np.ndarray  # of the flows: there are no more rates than this


def monthly_rate(rate_per_year):
    """Return the rate a month that twelve times over makes the yearly rate.

    Examples
    --------
    >>> float(monthly_rate(2.0**12 - 1))
    1.0
    """
    rate = np.asarray(rate_per_year, dtype=float)
    if not (np.isfinite(rate) & (rate > -1)).all():
        raise ScoringError(f"rate a year: {rate.min():g}; more than -1 (-100 %)")
    return (1 + rate) ** (1 / 12) - 1


def low_point(flows):
    """Return (lowest cash so far, the month it first is so low), shape (...).

    Of the curve that starts at 0 before the signing: a purchase that never needs money
    has its low point, 0, in month 0. Below 0 it is the cash and credit needed.

    Examples
    --------
    >>> [each.item() for each in low_point([-100.0, -20.0, 50.0, -30.0, 200.0])]
    [-120.0, 1]
    """
    curve = np.minimum(np.cumsum(flows, axis=-1), 0.0)
    return curve.min(axis=-1), curve.argmin(axis=-1)


def funds_gap(flows, funds):
    """Return the money that cash and credit lack at the low point, 0 or more."""
    return np.maximum(-low_point(flows)[0] - funds, 0.0)


def payback_month(flows, rate_per_year=0.0):
    """Return the first month from which the cash so far stays at 0 or above; inf never.

    Discounted by the month where a rate is given. A later dip puts payback off.

    Parameters
    ----------
    flows : shape (..., month)
    rate_per_year : scalar or shape (...)

    Examples
    --------
    >>> payback_month([[-100, 60, 50, -30, 40], [-100, 60, 0, 0, 0]]).tolist()
    [4.0, inf]
    """
    flows = np.asarray(flows, dtype=float)
    growth = 1 + monthly_rate(rate_per_year)[..., None]
    worth = flows / growth ** np.arange(flows.shape[-1])
    slack = SLACK * abs(worth).max(axis=-1, keepdims=True)
    is_back = worth.cumsum(axis=-1) >= -slack
    stays = np.logical_and.accumulate(is_back[..., ::-1], axis=-1)[..., ::-1]
    return np.where(stays.any(axis=-1), stays.argmax(axis=-1), np.inf)


def worth(cash, rate_per_year):
    """Return the Worth of these months.

    Costs of a square metre and of a job are all that is paid over the horizon less
    resale, undiscounted, which spreads the machine evenly over its use down to resale;
    interest is in them, other value of time is not.

    Parameters
    ----------
    cash : Cash
    rate_per_year : scalar or shape (draw, machine)
    """
    lowest, lowest_at = low_point(cash.flows + cash.living)
    costs = cash.flows - cash.lines.receipts
    cost, kept = -costs.sum(axis=-1), cash.flows.sum(axis=-1)
    n_jobs = cash.jobs.sum(axis=-1)
    days = np.where(n_jobs > 0, cash.days.sum(axis=-1), 0.0)
    return Worth(
        cash.flows.cumsum(axis=-1),
        lowest,
        lowest_at,
        payback_month(cash.flows),
        payback_month(cash.flows, rate_per_year),
        net_present_value(cash.flows, monthly_rate(rate_per_year)),
        equivalent_annual_cost(costs, rate_per_year),
        per(cost, cash.area_m2.sum(axis=-1)),
        per(cost, n_jobs),
        per(kept, days),
    )


def equivalent_annual_cost(flows, rate_per_year):
    """Return the level sum at each year's end that costs what the flows do: (...).

    Above 0 where the flows cost money.

    Parameters
    ----------
    flows : shape (..., month); whole years of months after month 0
    rate_per_year : scalar or shape (...)
    """
    n_years = (np.shape(flows)[-1] - 1) / 12
    value = net_present_value(flows, monthly_rate(rate_per_year))
    return -equivalent_annual(value, rate_per_year, n_years)


def rates_of_return(flows):
    """Return the Returns of flows by the month: none, one or several, said so.

    Flows that change sign once have one rate. With more changes the present value is
    looked at between losing 99.99 % and growing 10²⁴-fold in a month; two rates
    within a fiftieth of each other, or one at which the present value touches 0
    without crossing it, may be missed. A row takes some 10 ms: meant for central
    figures, not for every draw.

    Parameters
    ----------
    flows : shape (..., month)

    Raises
    ------
    ScoringError
        If a flow is not finite.

    Source
    ------
    No more rates than sign changes: Descartes' rule of signs, on the polynomial in
    1/(1 + rate). Roots by Brent's method, as scipy has it.

    Examples
    --------
    >>> flows = np.zeros(25)
    >>> flows[[0, 12, 24]] = -1600, 10000, -10000
    >>> found = rates_of_return(flows)
    >>> found.kind.item(), round(found.rate.item(), 6), found.sign_changes.item()
    ('several', 0.25, 2)
    """
    flows = np.asarray(flows, dtype=float)
    changes = sign_changes(flows)
    rates = np.full(changes.shape, np.nan)
    n_rates = np.zeros(changes.shape, dtype=int)
    for place in np.ndindex(changes.shape):
        if changes[place]:
            found = _roots(flows[place])
            n_rates[place] = len(found)
            rates[place] = min(found, key=abs, default=np.nan)
    kind = np.where(n_rates == 0, NONE, np.where(n_rates == 1, ONE, SEVERAL))
    return Returns(kind, rates, n_rates, changes)


def _roots(flows):
    """Return the yearly rates at which one row of flows is worth 0."""
    from scipy.optimize import brentq

    month = np.arange(len(flows))
    flows = flows / abs(flows).max()

    def value(growth):  # the month's growth as a logarithm
        # measured at the end where growth is below 0, so that no power overflows
        growth = np.asarray(growth)[..., None]
        when = np.where(growth >= 0, month, month - month[-1])
        return np.exp(-growth * when) @ flows

    # dense about 0, where rates lie; to −9.2 and 56, the logs of 1/10 000 and 10²⁴
    growths = 0.01 * np.sinh(np.linspace(-np.arcsinh(920), np.arcsinh(5600), 951))
    values = value(growths)
    at = np.flatnonzero(values)
    turns = np.flatnonzero(np.sign(values[at[1:]]) != np.sign(values[at[:-1]]))
    found = [brentq(value, growths[at[i]], growths[at[i + 1]]) for i in turns]
    return [float(np.expm1(12 * growth)) for growth in found]
