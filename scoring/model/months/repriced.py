"""The months of a purchase at another price, the work in them being the same.

What is served, learned and received hangs on no price; what is paid for the machine,
its insurance and its upkeep do. So the months are run once, and their trail (cash so
far but for the machine) carries each price that is tried. When each sum is due hangs on
no price either.
"""

from typing import NamedTuple

import numpy as np

from scoring.model.months.average_year import payment_of
from scoring.model.months.learning import demand_share
from scoring.model.months.payment import Payment, machine_cash

SUMS = ("deposit", "balance", "instalment", "residual", "tax_lent")


class DueDates(NamedTuple):
    """Cash so far for one unit of each sum; (draw, 1, month), below 0 where paid."""

    deposit: np.ndarray
    balance: np.ndarray
    instalment: np.ndarray  # with what is still owed at the end
    residual: np.ndarray
    tax_lent: np.ndarray
    is_open: np.ndarray  # months at work so far


def due_dates(business):
    """Return the DueDates of a buyer's way to pay, (1, 1, month) where all draws agree.

    They mostly do: when a machine comes and how it is paid for are the buyer's to say.
    """
    plan, n_months = _once(business.payment), 12 * business.horizon_years
    months, zero = np.arange(n_months + 1), 0.0 * business.cash
    like = payment_of(business._replace(payment=plan), zero, zero)
    like = _once(like._replace(**dict.fromkeys(SUMS, np.zeros((1, 1, 1)))))
    found = []
    for name in SUMS:
        one = like._replace(**{name: np.ones((1, 1, 1))})
        found.append(np.cumsum(sum(machine_cash(one, months, n_months)), axis=-1))
    at_work = demand_share(months, 0.0, plan.delivery_months)
    return DueDates(*found, np.cumsum(at_work, axis=-1))


def _once(record):
    """Return a record with one row of each array whose draws are all alike."""

    def one(array):
        is_alike = np.ndim(array) == 3 and (array == array[:1]).all()
        return array[:1] if is_alike else array

    return record._replace(**{k: one(x) for k, x in record._asdict().items()})


def lowest_cash(trail, dates, payment: Payment, dearer_a_year):
    """Return the lowest cash so far, 0 or less, at another price: (...).

    Parameters
    ----------
    trail : shape (month, ...), of `cash_of_draws`
    dates : DueDates, each (month, ...)
    payment : Payment at the price tried; sums (...)
    dearer_a_year : shape (...)
        By how much upkeep and insurance are more than in the trail, below 0 for less.
        An upkeep that work already spares whole is taken to rise all the same.
    """
    sums = [getattr(payment, name) for name in SUMS]
    due = [(each, dates[n]) for n, each in enumerate(sums) if np.any(each)]
    a_month, lowest = dearer_a_year / 12, np.zeros(trail.shape[1:])
    for month, so_far in enumerate(trail):
        cash = so_far - a_month * dates.is_open[month]
        for each, paid in due:
            cash += each * paid[month]
        np.minimum(lowest, cash, out=lowest)
    return lowest
