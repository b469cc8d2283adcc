"""Up to which price a machine is the best buy."""

from functools import cache

import numpy as np

from scoring.answer.limits import PRICED
from scoring.decision import ranking, stability
from scoring.questions.changed import Change, gist_changed, rate_of, sums_of
from scoring.questions.swings import leads

MOST_PRICE = 3.0  # times the present price: where no talk with a seller goes
WITHIN = 1e-6  # of the prices looked at: a few cents


def best_buy_prices(evaluation):
    """Return {name: `best_buy_price`} of the machines considered."""
    names = [name for name in evaluation.names if name not in evaluation.left_out]
    return {name: best_buy_price(evaluation, name) for name in names}


def best_buy_price(evaluation, name):
    """Return the highest quote at which a machine is the best buy, None if at none.

    In the brief's currency, everything else as it is: what a seller would have to ask,
    not what that is reckoned at. First place by weighted sum and within cash, credit
    and upfront limit; one that breaks another limit has none.
    """
    k = evaluation.index(name)
    if name in evaluation.left_out or _is_out_for_good(evaluation, k):
        return None
    most = _most_price(evaluation, name)
    rate = rate_of(evaluation, (name, "price"))

    @cache  # the ends are asked for more than once
    def lead(price):
        again = gist_changed(evaluation, [_asked(evaluation, name, price)])
        sums = sums_of(evaluation, again)
        is_out = np.isnan(sums[0, k])
        return -1.0 if is_out else float(leads(sums, k)[0]) + ranking.TIE

    if lead(0.0) < 0:
        return None
    if lead(most) >= 0:
        return float(most * rate)
    price = stability.draws_level(lead, 0.0, most, WITHIN)
    return None if price is None else float(price * rate)


def present_price(evaluation, name):
    """Return a machine's price as told, in the brief's currency; reckoned if untold."""
    told = evaluation.evidence[name, "price"]
    if told.is_unknown:
        return float(evaluation.drawn[name, "price"][0])
    key = (name, "price")
    return told.told * rate_of(evaluation, key)


def _asked(evaluation, name, price):
    """Return the Change to a price that is asked; exactly this where none was told."""
    is_untold = evaluation.evidence[name, "price"].is_unknown
    ask = {"known": price} if is_untold else {"likely": price}
    return Change((name, "price"), **ask)


def is_beyond_talk(evaluation, name, price):
    """Return whether a price is the highest that `best_buy_price` looks at."""
    most = _most_price(evaluation, name) * rate_of(evaluation, (name, "price"))
    return price >= most * (1 - 1e-9)


def _most_price(evaluation, name):
    """Return the highest price looked at, in its own currency; above 0."""
    told = evaluation.evidence[name, "price"]
    own = told.high if told.is_unknown else told.told
    dearest = max(
        float(evaluation.drawn[other, "price"][0]) for other in evaluation.names
    )
    fallback = dearest / rate_of(evaluation, (name, "price")) or 1.0
    return MOST_PRICE * (own or fallback)


def _is_out_for_good(evaluation, k):
    """Return whether a machine breaks a limit that no price mends."""
    return any(limit.kind not in PRICED for limit in evaluation.broken(k))
