"""What the weights say in money: one step of each criterion in money a year."""

from dataclasses import dataclass

import numpy as np

from scoring.decision.weights import (
    exchange_rates,
    from_exchange_rates,
    rank_order_centroid,
    worth_of_point,
)
from scoring.errors import ScoringError
from scoring.model.money.finance import annuity_payment

YEAR, UPFRONT = "year_result", "upfront"
# A step that people talk of, in the criterion's unit; 1 where none stands here.
STEPS = {UPFRONT: 1000.0, "ready_time": 10.0, "work_served": 0.1}
STEPS |= {"cash_out": 0.1, "room_to_grow": 0.1, "resale": 1000.0}
OUT_OF_LINE = 2.0  # times what finance says, or less than 1 in so many; own estimate


@dataclass(frozen=True)
class WeightInMoney:
    """What one step of a criterion is worth to the buyer."""

    criterion: int  # its place
    step: float  # in the criterion's unit
    worth: float  # currency a year
    is_too_much: bool  # more than the best machine's year


@dataclass(frozen=True)
class PriceOfPrice:
    """What one unit of price weighs, against what money over the years says."""

    weighed: float  # currency a year for one unit of currency at your door
    by_finance: float  # of a loan over the horizon at the interest asked

    @property
    def is_out_of_line(self):
        """Whether the two differ by more than a factor of two."""
        ratio = self.weighed / self.by_finance
        return not 1 / OUT_OF_LINE <= ratio <= OUT_OF_LINE


def weights_in_money(evaluation):
    """Return the WeightInMoney of each weighted criterion but the money itself.

    () where money a year weighs nothing: then there is nothing to compare with.
    """
    place = _place(evaluation, YEAR)
    if place is None or not evaluation.weights[place] > 0:
        return ()
    rates = exchange_rates(evaluation.weights, evaluation.scale, place)
    best = _best_year(evaluation, place)
    found = []
    for c, criterion in enumerate(evaluation.criteria):
        if c == place or not rates[c] > 0:
            continue
        step = step_of(criterion)
        worth = float(rates[c] * step)
        is_too_much = criterion.id != UPFRONT and 0 < best < worth
        found.append(WeightInMoney(c, step, worth, is_too_much))
    return tuple(found)


def step_of(criterion):
    """Return a step of a criterion that people talk of, in its unit."""
    return STEPS.get(criterion.id, 1.0)


def weights_of_worths(evaluation, worths):
    """Return {criterion id: weight} where a step of each is worth so much a year.

    Parameters
    ----------
    worths : {criterion id: what its step is worth, currency a year, 0 or more}
        Those not named are worth nothing; money a year is worth itself.

    Raises
    ------
    ScoringError
        If no money a year is among the criteria, or a worth is no finite number of 0
        or more.
    """
    if _place(evaluation, YEAR) is None:
        raise ScoringError("money left in a year is not among what matters")
    ids = [criterion.id for criterion in evaluation.criteria]
    rates = [
        1.0 if c.id == YEAR else worths.get(c.id, 0.0) / step_of(c)
        for c in evaluation.criteria
    ]
    weights = from_exchange_rates(rates, evaluation.scale)
    return dict(zip(ids, weights.tolist(), strict=True))


def weights_of_order(evaluation, picked):
    """Return {criterion id: weight} of an order, the most important first.

    The rank order centroid; criteria that are not in it weigh nothing.
    """
    weights = rank_order_centroid(range(1, len(picked) + 1))
    nothing = dict.fromkeys((c.id for c in evaluation.criteria), 0.0)
    return nothing | dict(zip(picked, weights.tolist(), strict=True))


def point_in_money(evaluation):
    """Return what a whole point of the score is worth, currency a year; None if open.

    It is open where money a year weighs nothing.
    """
    place = _place(evaluation, YEAR)
    if place is None or not evaluation.weights[place] > 0:
        return None
    return float(worth_of_point(evaluation.weights, evaluation.scale, place))


def price_of_price(evaluation):
    """Return the PriceOfPrice, None where money a year or the price weighs nothing."""
    by_place = {one.criterion: one for one in weights_in_money(evaluation)}
    own = by_place.get(_place(evaluation, UPFRONT))
    if own is None:
        return None
    buyer = evaluation.figures.buyer
    rate = float(np.ravel(buyer.discount_rate)[0])
    by_finance = annuity_payment(1.0, rate, buyer.horizon_years)
    return PriceOfPrice(own.worth / own.step, float(by_finance))


def _place(evaluation, name):
    ids = [criterion.id for criterion in evaluation.criteria]
    return ids.index(name) if name in ids else None


def _best_year(evaluation, place):
    """Return the best year to expect of a machine that is ranked, 0 without any."""
    years = evaluation.raw[evaluation.is_ranked, place]
    return float(years.max(initial=0.0))
