"""What a lender looks at: the loan by the month, cover of its sums, break-even.

Months are on the last axis: 0 is the signing, month t the end of the t-th month. Before
tax advice; an estimate from its inputs.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.money.finance import annuity_payment
from scoring.model.months.payment import still_owed

MONTHS_A_YEAR = 12


class Schedule(NamedTuple):
    """A level loan, month after month from its first instalment; (..., month)."""

    paid: np.ndarray
    interest: np.ndarray
    principal: np.ndarray
    balance: np.ndarray  # after the month's instalment


class Service(NamedTuple):
    """What a loan or lease asks for by the month after signing; (..., month)."""

    interest: np.ndarray
    principal: np.ndarray  # of a lease all it asks for
    balance: np.ndarray  # at the month's end; 0 before it is paid out


def loan_schedule(principal, rate_per_month, n_months):
    """Return the Schedule of a loan paid back in level sums at each month's end.

    Parameters
    ----------
    principal : currency, 0 or more
    rate_per_month : decimal
    n_months : whole number, 1 or more

    Source
    ------
    OpenStax, Principles of Finance (Dahlquist & Knight 2022), loan amortization.

    Examples
    --------
    >>> loan_schedule(1_200.0, 0.0, 3).balance.tolist()
    [800.0, 400.0, 0.0]
    """
    level = float(annuity_payment(principal, rate_per_month, n_months))
    balance, rows = float(principal), []
    for _ in range(int(n_months)):
        interest = balance * rate_per_month
        balance = balance - (level - interest)
        rows.append((level, interest, level - interest, balance))
    paid, of_interest, back, left = np.array(rows).T
    left[-1] = 0.0 if abs(left[-1]) < 1e-6 * max(principal, 1.0) else left[-1]
    return Schedule(paid, of_interest, back, left)


def debt_service(payment, n_months):
    """Return the Service of a Payment over so many months after signing.

    A lease has no rate, so that all it asks for is principal: its sums are what has to
    be covered, whatever they are called.
    """
    month = np.arange(n_months + 1)
    since = month - np.ceil(payment.delivery_months)
    due = (since > 0) & (since <= payment.n_instalments)
    last = (since == payment.n_instalments) & (since > 0)
    paid = payment.instalment * due + payment.residual * last
    before = still_owed(payment, np.maximum(since - 1, 0))
    interest = payment.rate_per_month * before * due
    balance = still_owed(payment, np.maximum(since, 0)) * (since >= 0)
    return Service(interest, paid - interest, balance)


def by_year(figures):
    """Return the sums of each twelve months; what is paid at signing is in the first.

    Examples
    --------
    >>> by_year(np.ones(25)).tolist()
    [13.0, 12.0]
    """
    figures = np.asarray(figures, dtype=float)
    n_years, rest = divmod(figures.shape[-1] - 1, MONTHS_A_YEAR)
    if rest or n_years < 1:
        raise ScoringError("months: whole years of them after the signing")
    months = figures[..., 1:].reshape(*figures.shape[:-1], n_years, MONTHS_A_YEAR)
    sums = months.sum(axis=-1)
    sums[..., 0] += figures[..., 0]
    return sums


def tax_set_aside(earned, interest, tax_share):
    """Return what is put aside for tax in each twelve months, 0 or more; (..., year).

    A share of what the work leaves after interest. What the owner draws is no cost of a
    trade of one's own, and drawn as pay it is taxed as pay. Writing off the machine,
    which would lower it, is left out: on the careful side.

    Examples
    --------
    >>> tax_set_aside(np.array([1000.0, -50.0]), np.array([200.0, 0.0]), 0.25).tolist()
    [200.0, 0.0]
    """
    return tax_share * np.maximum(earned - interest, 0.0)


def largest_loan(available, others, rate_per_month, n_months, aim):
    """Return the most that can be lent with cover of `aim` in each twelve months.

    Interest would lower the tax in `available`; that is left out: on the careful side.

    Parameters
    ----------
    available : shape (year,); what the work leaves after drawings and tax, currency
    others : shape (year,); what other debts ask for, 0 or more
    rate_per_month : decimal
    n_months : level instalments, 1 or more
    aim : above 0

    Examples
    --------
    >>> largest_loan(np.array([1500.0]), np.array([50.0]), 0.0, 12, 1.2)
    1200.0
    """
    n_years = min(-(-int(n_months) // MONTHS_A_YEAR), len(available))
    lean = (np.asarray(available) / aim - np.asarray(others))[:n_years].min()
    level = max(0.0, float(lean)) / min(MONTHS_A_YEAR, int(n_months))
    return level / float(annuity_payment(1.0, rate_per_month, n_months))


def cover_ratio(available, service):
    """Return the debt service cover ratio; NaN where nothing falls due.

    Parameters
    ----------
    available : currency, what the work leaves after drawings and tax
    service : currency, interest and principal, 0 or more

    Examples
    --------
    >>> cover_ratio([1300.0, 500.0], [1000.0, 0.0]).tolist()
    [1.3, nan]
    """
    available, service = np.broadcast_arrays(
        np.asarray(available, dtype=float), np.asarray(service, dtype=float)
    )
    none = np.full(available.shape, np.nan)
    return np.divide(available, service, out=none, where=service > 1e-9)


def lowest_ratio(ratios):
    """Return the lowest of the ratios on the last axis; inf where none is told."""
    return np.where(np.isnan(ratios), np.inf, ratios).min(axis=-1)


def break_even_jobs(left_per_job, own_pay_per_job, costs_per_month, living=0.0):
    """Return from how many jobs a month all is paid; inf where a job leaves nothing.

    Parameters
    ----------
    left_per_job : currency, after the job's costs and the owner's hours in it
    own_pay_per_job : currency, what the owner's hours in it are paid, 0 or more
    costs_per_month : currency, paid whatever the work, instalment too
    living : currency a month that the owner draws at least; own pay counts towards it

    Notes
    -----
    What is left, n·left − costs − max(living − n·own_pay, 0), is the lower of two
    rising lines, so that it is 0 at the later of their two roots.

    Examples
    --------
    >>> [break_even_jobs(250.0, 50.0, 1000.0, living) for living in (0.0, 800.0)]
    [4.0, 6.0]
    """
    if left_per_job <= 0:
        return np.inf
    plain = costs_per_month / left_per_job
    drawn = (costs_per_month + living) / (left_per_job + own_pay_per_job)
    return float(max(plain, drawn, 0.0))
