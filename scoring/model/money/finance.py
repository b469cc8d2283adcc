"""Worth of a purchase over time: present value, rate of return, payback, annuity.

Money in one currency, nominal, unlevered, before tax. Flows have time on their last
axis, the first of them now and one period between each and the next; what is paid is
below 0, what is received above. Rates are decimals (not per cent) per period. An
estimate from its inputs: ask an accountant.
"""

import numpy as np

from scoring.errors import ScoringError

SLACK = 1e-9  # of the largest flow; a sum computed to be at 0 counts as at it


def cash_flows(upfront, year_result, n_years, resale=0.0):
    """Return the flows of a purchase with level years, shape (..., n_years + 1).

    Parameters
    ----------
    upfront, year_result, resale : arrays that broadcast; currency
        `upfront` is what is paid now (above 0); `resale` comes in with the last year.
    n_years : whole number, 1 or more

    Raises
    ------
    ScoringError
        If a figure is not finite or n_years is not a whole number of 1 or more.

    Examples
    --------
    >>> cash_flows(1000, [400, 500], 3, 100).tolist()
    [[-1000.0, 400.0, 400.0, 500.0], [-1000.0, 500.0, 500.0, 600.0]]
    """
    if not (np.isfinite(n_years) and n_years >= 1 and n_years == int(n_years)):
        raise ScoringError(f"years: {n_years!r}; a whole number, 1 or more")
    upfront, result, resale = np.broadcast_arrays(
        _finite("upfront", upfront),
        _finite("year's result", year_result),
        _finite("resale", resale),
    )
    flows = np.empty((*upfront.shape, int(n_years) + 1))
    flows[..., 0] = -upfront
    flows[..., 1:] = result[..., None]
    flows[..., -1] += resale
    return flows


def net_present_value(flows, rate):
    """Return what the flows are worth now, shape (...).

    The first flow is not discounted. The NPV function of spreadsheets discounts it by
    one period: there, add the first flow outside the function.

    Parameters
    ----------
    flows : shape (..., n_periods + 1)
    rate : scalar or shape (...); above −1

    Raises
    ------
    ScoringError
        If a figure is not finite or a rate is −1 or less.

    Source
    ------
    Dahlquist & Knight (2022), Principles of Finance, OpenStax, ch. 16; the convention
    of numpy-financial's npv, here for whole arrays.

    Examples
    --------
    >>> net_present_value([-100, 0, 484], [0.1, 1.0]).round(9).tolist()
    [300.0, 21.0]
    """
    return _discounted(flows, rate).sum(axis=-1)


def internal_rate_of_return(flows):
    """Return the rate at which the flows are worth 0 now, shape (...); NaN where none.

    Flows that change sign once have one such rate, flows that never change sign have
    none. With several changes (`sign_changes`) there may be several: this is the one
    nearest 0, and a rate at which the present value touches 0 without crossing it may
    be missed.

    Raises
    ------
    ScoringError
        If a flow is not finite.

    Source
    ------
    numpy-financial's irr: roots of the polynomial in 1/(1 + rate), after Gitman (2003),
    Principles of Managerial Finance, Brief, 3rd ed., p. 348, as its documentation says.

    Examples
    --------
    >>> internal_rate_of_return([[-100, 110], [-100, 0], [100, 110]]).round(9).tolist()
    [0.1, nan, nan]
    """
    from numpy_financial import irr

    flows = np.asarray(flows, dtype=float)
    changes = sign_changes(flows)
    rates = np.full(changes.shape, np.nan)
    for place in np.ndindex(changes.shape):
        if changes[place]:
            rates[place] = irr(flows[place])
    return rates


def sign_changes(flows):
    """Return how often the flows change sign, zeros left out, shape (...).

    No more rates of return than this exist (Descartes' rule of signs).

    Raises
    ------
    ScoringError
        If a flow is not finite.

    Examples
    --------
    >>> sign_changes([[-5, 0, 3, 4], [-5, 9, 0, -4], [0, 1, 2, 3]]).tolist()
    [1, 2, 0]
    """
    signs = np.sign(_finite("flow", flows))
    last = np.where(signs != 0, np.arange(signs.shape[-1]), 0)
    last = np.maximum.accumulate(last, axis=-1)  # where the latest non-zero is
    signs = np.take_along_axis(signs, last, axis=-1)
    return (signs[..., 1:] * signs[..., :-1] < 0).sum(axis=-1)


def payback_months(upfront, year_result):
    """Return the months to earn back what was paid; inf where the year leaves nothing.

    Undiscounted, and as if the year's result came in evenly.

    Raises
    ------
    ScoringError
        If a figure is not finite.

    Examples
    --------
    >>> payback_months(24000, [12000, 0, -500]).tolist()
    [24.0, inf, inf]
    """
    paid, result = np.broadcast_arrays(
        12 * _finite("upfront", upfront), _finite("year's result", year_result)
    )
    never = np.full(paid.shape, np.inf)
    with np.errstate(over="ignore"):  # a result of next to nothing takes for ever too
        return np.divide(paid, result, out=never, where=result > 0)


def discounted_payback(flows, rate):
    """Return the periods until the discounted flows first add up to 0; inf if never.

    Within a period its discounted flow is taken to come in evenly. 0 where there is
    nothing to earn back. A rate of 0 gives the plain payback.

    Parameters
    ----------
    flows : shape (..., n_periods + 1)
    rate : scalar or shape (...); above −1

    Raises
    ------
    ScoringError
        If a figure is not finite or a rate is −1 or less.

    Source
    ------
    Dahlquist & Knight (2022), Principles of Finance, OpenStax, section 16.1.

    Examples
    --------
    >>> discounted_payback([-150, 100, 100], [0.0, 0.9]).tolist()
    [1.5, inf]
    """
    worth = _discounted(flows, rate)
    total = worth.cumsum(axis=-1)
    is_back = total >= -SLACK * abs(worth).max(axis=-1, keepdims=True)
    back = is_back.argmax(axis=-1)[..., None]  # 0 also where it never is
    before = np.take_along_axis(total, np.maximum(back - 1, 0), axis=-1)
    gain = np.take_along_axis(worth, back, axis=-1)
    part = np.divide(-before, gain, out=np.ones(gain.shape), where=back > 0)
    periods = np.maximum(back - 1 + np.clip(part, 0, 1), 0)[..., 0]
    return np.where(is_back.any(axis=-1), periods, np.inf)


def equivalent_annual(value, rate, n_years):
    """Return the level sum at each year's end that is worth as much as `value` now.

    Makes machines of unequal lives comparable; the sign of `value` is kept.

    Parameters
    ----------
    value, rate, n_years : arrays that broadcast; rate above −1, n_years above 0

    Raises
    ------
    ScoringError
        If a figure is not finite, a rate is −1 or less or a life is not above 0.

    Examples
    --------
    >>> equivalent_annual(1200, [0.0, 1.0], [4, 1]).round(9).tolist()
    [300.0, 2400.0]
    """
    return annuity_payment(value, rate, n_years)


def straight_line_worth(price, salvage, n_years, age):
    """Return what a thing is worth at an age: a straight line, and on down to 0.

    Parameters
    ----------
    price, salvage : currency; worth when new and after n_years
    n_years, age : years, 0 or more; n_years above 0

    Raises
    ------
    ScoringError
        If a figure is not finite, or n_years is not above 0.

    Source
    ------
    Straight-line depreciation, as in any textbook of accounting; that the line goes on
    beyond n_years is our own.

    Examples
    --------
    >>> straight_line_worth(58_000, 10_000, 5, np.array([0, 1, 5, 6, 9])).tolist()
    [58000.0, 48400.0, 10000.0, 400.0, 0.0]
    """
    n_years = _finite("years", n_years)
    if (n_years <= 0).any():
        raise ScoringError(f"years: {n_years.min():g}; more than 0")
    fall = (_finite("price", price) - _finite("salvage", salvage)) / n_years
    return np.maximum(price - np.maximum(fall, 0.0) * age, 0.0)


def annuity_payment(principal, rate, n_periods):
    """Return the level payment at each period's end that pays back a loan, above 0.

    Parameters
    ----------
    principal, rate, n_periods : arrays that broadcast; rate above −1, n_periods above 0

    Raises
    ------
    ScoringError
        If a figure is not finite, a rate is −1 or less or a term is not above 0.

    Source
    ------
    Dahlquist & Knight (2022), Principles of Finance, OpenStax, on amortised loans;
    equals −pmt of numpy-financial, whose form fails for rates below about 1e-16.

    Examples
    --------
    >>> annuity_payment(1200, 0, 12).item()
    100.0
    """
    rate = _checked_rate(rate)
    n_periods = _finite("periods", n_periods)
    if (n_periods <= 0).any():
        raise ScoringError(f"periods: {n_periods.min():g}; more than 0")
    # (1 − (1 + r)^−n) / r, and n at r = 0
    factor = np.where(rate == 0, n_periods, -np.expm1(-n_periods * np.log1p(rate)))
    return _finite("principal", principal) * np.where(rate == 0, 1.0, rate) / factor


def _discounted(flows, rate):
    """Return each flow's worth now."""
    flows = _finite("flow", flows)
    growth = 1 + _checked_rate(rate)[..., None]
    return flows / growth ** np.arange(flows.shape[-1])


def _checked_rate(rate):
    rate = _finite("rate", rate)
    if (rate <= -1).any():
        raise ScoringError(f"rate: {rate.min():g} a period; more than -1 (-100 %)")
    return rate


def _finite(name, figure):
    """Return the figures as an array; each must be finite."""
    figure = np.asarray(figure, dtype=float)
    wrong = figure[~np.isfinite(figure)]
    if wrong.size:
        raise ScoringError(f"{name}: {wrong[0]:g} is not a figure; a finite number")
    return figure
