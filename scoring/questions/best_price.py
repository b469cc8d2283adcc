"""Up to which price a machine is the best buy."""

import numpy as np

from scoring.decision import ranking, stability
from scoring.inputs.quantity import pert_mean
from scoring.questions.swings import leads, totals

MOST_PRICE = 3.0  # times the present price: where no talk with a seller goes
MENDED = ("cash", "low_point", "highest_upfront")  # limits that a lower price mends


def best_buy_price(evaluation, name):
    """Return the highest quote at which a machine is the best buy, None if at none.

    In the brief's currency, everything else as it is: what a seller would have to ask,
    not what that is reckoned at (`quoted_share`). First place by weighted sum and
    within cash, credit and upfront limit; one that breaks another limit has none.
    """
    k = evaluation.index(name)
    if name in evaluation.left_out or _is_out_for_good(evaluation, k):
        return None
    most = _most_price(evaluation, name)
    quoted = _rate(evaluation, name) * quoted_share(evaluation, name)

    def is_best(price):
        sums, _ = totals(evaluation, [{(name, "price"): price}])
        return np.isfinite(sums[0, k]) and leads(sums, k)[0] >= -ranking.TIE

    def lead(price):
        sums, _ = totals(evaluation, [{(name, "price"): price}])
        own = sums[0, k]
        return -1.0 if np.isnan(own) else float(leads(sums, k)[0]) + ranking.TIE

    if not is_best(0.0):
        return None
    if is_best(most):
        return float(most * quoted)
    price = stability.draws_level(lead, 0.0, most)
    return None if price is None else float(price * quoted)


def present_price(evaluation, name):
    """Return a machine's price as told, in the brief's currency; reckoned if untold."""
    return float(evaluation.drawn[name, "price"][0]) * quoted_share(evaluation, name)


def quoted_share(evaluation, name):
    """Return what a seller asks for each unit that a price is reckoned at.

    A quote is reckoned above itself, as it may rise until it is paid; a range moves in
    proportion. 1 where nobody tells the price, or where it is 0.
    """
    price = evaluation.machines[evaluation.index(name)].price
    told = evaluation.evidence[name, "price"]
    mean = pert_mean(told.low, told.likely, told.high)
    return 1.0 if price.is_unknown or not mean else price.likely / mean


def is_beyond_talk(evaluation, name, price):
    """Return whether a price is the highest that `best_buy_price` looks at."""
    most = _most_price(evaluation, name) * _rate(evaluation, name)
    most *= quoted_share(evaluation, name)
    return price >= most * (1 - 1e-9)


def _rate(evaluation, name):
    """Return what one unit of a price's currency is in the brief's."""
    currency = evaluation.evidence[name, "price"].currency
    if currency in (None, evaluation.brief.currency):
        return 1.0
    return float(evaluation.drawn["brief", f"exchange.{currency}"][0])


def _most_price(evaluation, name):
    """Return the highest price looked at, in its own currency; above 0."""
    own = evaluation.evidence[name, "price"].high
    dearest = max(
        float(evaluation.drawn[other, "price"][0]) for other in evaluation.names
    )
    fallback = dearest / _rate(evaluation, name) or 1.0
    return MOST_PRICE * (own or fallback)


def _is_out_for_good(evaluation, k):
    """Return whether a machine breaks a limit that no price mends."""
    return any(limit.name not in MENDED for limit in evaluation.broken(k))
