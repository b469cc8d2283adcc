"""How a machine is paid for: own money, deposit, loan, lease.

Sums above 0; records broadcast over (draw, machine, 1). Nominal, before tax.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.money.finance import SLACK, annuity_payment
from scoring.model.numbers import amount


class Payment(NamedTuple):
    """How the machine is paid for; sums above 0; (draw, machine, 1)."""

    deposit: np.ndarray  # at signing
    balance: np.ndarray  # own money at delivery
    delivery_months: np.ndarray = 0.0  # after signing; work starts here
    instalment: np.ndarray = 0.0  # at each month's end after delivery
    n_instalments: np.ndarray = 0
    residual: np.ndarray = 0.0  # with the last instalment, to own the machine
    rate_per_month: np.ndarray = 0.0  # a loan's; 0 for a lease
    tax_lent: np.ndarray = 0.0  # import tax paid at delivery and given back
    tax_back_months: np.ndarray = 3  # after delivery


def own_cash(upfront, delivery_months=0.0):
    """Return the Payment of all of it at signing."""
    return Payment(amount("upfront", upfront), 0.0, delivery_months)


def deposit_and_balance(upfront, deposit, delivery_months):
    """Return the Payment of a deposit at signing and the rest at delivery."""
    return Payment(*_shared(upfront, deposit, 0.0), delivery_months)


def loan(upfront, borrowed, rate_per_year, n_months, deposit=0.0, delivery_months=0.0):
    """Return the Payment of a loan paid out at delivery, in level monthly sums.

    Parameters
    ----------
    upfront, borrowed, deposit : currency, 0 or more; deposit and loan are no more
        than upfront, the rest is own money at delivery
    rate_per_year : decimal; a month's rate is its twelfth, as loans are quoted
    n_months : whole number, 1 or more

    Raises
    ------
    ScoringError
        If a figure is out of its range.

    Examples
    --------
    >>> float(loan(12_000.0, 6_000.0, 0.0, 12, deposit=2_000.0).instalment)
    500.0
    """
    n_months = _term(n_months)
    rate = np.asarray(rate_per_year, dtype=float) / 12
    deposit, balance = _shared(upfront, deposit, borrowed)
    instalment = annuity_payment(amount("borrowed", borrowed), rate, n_months)
    return Payment(
        deposit,
        balance,
        delivery_months,
        instalment,
        n_months,
        rate_per_month=rate,
    )


def lease(
    upfront,
    leased,
    per_month,
    n_months,
    residual=0.0,
    deposit=0.0,
    delivery_months=0.0,
):
    """Return the Payment of a lease: so much a month, then the residual to own it.

    `leased` is the part of upfront that the lessor pays; the others as in `loan`. The
    monthly sum falls due at each month's end; contracts differ.
    """
    return Payment(
        *_shared(upfront, deposit, leased),
        delivery_months,
        amount("lease a month", per_month),
        _term(n_months),
        amount("residual", residual),
    )


def still_owed(payment, n_paid):
    """Return what a loan or lease asks for after n instalments, to be rid of it.

    A loan's balance; of a lease every sum to come, undiscounted (contracts differ).

    Examples
    --------
    >>> after = np.array([0, 6, 12])
    >>> still_owed(loan(1_200.0, 1_200.0, 0.0, 12), after).tolist()
    [1200.0, 600.0, 0.0]
    """
    left = payment.n_instalments - np.asarray(n_paid)
    left, is_owed = np.maximum(left, 1), left > 0
    level = payment.instalment / annuity_payment(1.0, payment.rate_per_month, left)
    last = payment.residual / (1 + np.asarray(payment.rate_per_month)) ** left
    return np.where(is_owed, level + last, 0.0)


def machine_cash(payment, month, n_months):
    """Return (cash for the machine, cash to settle what is open at the end).

    Parameters
    ----------
    payment : Payment
    month : int, shape (month,); 0 is the signing
    n_months : int, of the horizon: its last month settles

    Examples
    --------
    >>> month, on_credit = np.arange(4), loan(900.0, 900.0, 0.0, 9)
    >>> [each.tolist() for each in machine_cash(on_credit, month, 3)]
    [[0.0, -100.0, -100.0, -100.0], [0.0, 0.0, 0.0, -600.0]]
    """
    due = _due(payment, month, n_months)
    settled = _settled(payment, n_months) if due.settled.any() else 0.0
    return 0.0 - _paid(payment, due), 0.0 - _when(due.settled, settled)


def machine_cash_by_month(payment, n_months):
    """Yield what `machine_cash` returns for each month, from the signing to the last.

    When sums are due is found once for all months; in most months nothing is.
    """
    due = _due(payment, np.arange(n_months + 1), n_months)
    is_any = [each.any(axis=tuple(range(each.ndim - 1))) for each in due]
    is_any = np.array(is_any).T.tolist()
    nothing = np.zeros(np.broadcast_shapes(*(np.shape(each) for each in due))[:-1])
    nothing = nothing[..., None]
    for month, is_due in enumerate(is_any):
        if not any(is_due):
            yield nothing, nothing
            continue
        now = _Due(
            *(
                each[..., month : month + 1] if is_some else NEVER
                for each, is_some in zip(due, is_due, strict=True)
            )
        )
        settled = _settled(payment, n_months) if is_due[-1] else 0.0
        yield 0.0 - _paid(payment, now), 0.0 - _when(now.settled, settled)


NEVER = False  # due for nobody


class _Due(NamedTuple):
    """In which months which sums are due: bool, (…, month)."""

    deposit: np.ndarray
    balance: np.ndarray
    instalment: np.ndarray
    residual: np.ndarray
    tax_back: np.ndarray
    settled: np.ndarray


def _due(payment, month, n_months):
    delivered = np.ceil(payment.delivery_months)
    since, in_all = month - delivered, n_months - delivered
    back = np.minimum(np.ceil(payment.tax_back_months), in_all)
    n_due = payment.n_instalments
    return _Due(
        deposit=month == 0,
        balance=since == 0,
        instalment=(since > 0) & (since <= n_due),
        residual=(since == n_due) & (since > 0),
        tax_back=since == back,
        settled=month == n_months,
    )


def _settled(payment, n_months):
    return still_owed(payment, n_months - np.ceil(payment.delivery_months))


def _paid(payment, due):
    return (
        _when(due.deposit, payment.deposit)
        + _when(due.balance, payment.balance + payment.tax_lent)
        + _when(due.instalment, payment.instalment)
        + _when(due.residual, payment.residual)
        - _when(due.tax_back, payment.tax_lent)
    )


def _when(is_due, sum_):
    """Return the sum where it is due, 0 elsewhere; most months most sums are not."""
    if is_due is NEVER:
        return 0.0
    return sum_ * is_due if is_due.any() else 0.0 * is_due


def _shared(upfront, deposit, financed):
    """Return (deposit, own money left to pay at delivery)."""
    deposit = amount("deposit", deposit)
    balance = amount("upfront", upfront) - deposit - amount("financed", financed)
    if (balance < -SLACK * np.asarray(upfront)).any():
        raise ScoringError(
            f"deposit and financed sum: {-balance.min():g} above upfront; at most it"
        )
    return deposit, np.maximum(balance, 0.0)


def _term(n_months):
    term = np.asarray(n_months)
    wrong = term[~((term >= 1) & (term == np.floor(term)))]
    if wrong.size:
        raise ScoringError(f"months: {wrong[0]:g}; a whole number, 1 or more")
    return term
