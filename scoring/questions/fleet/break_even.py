"""When a change of rigs pays: from how much work, up to which price, for which sale."""

from dataclasses import dataclass

import numpy as np

from scoring.model.money import finance
from scoring.questions.best_price import present_price
from scoring.questions.changed import Change, changed
from scoring.questions.fleet.change_money import kept_share, npv_of, worth_sold
from scoring.questions.fleet.choices import deeds_of, planned
from scoring.questions.fleet.rigs import crews
from scoring.questions.from_jobs import bracket, crossing

MULTIPLES = tuple(np.linspace(0.0, 2.0, 11))  # of today's work


@dataclass(frozen=True)
class BreakEven:
    """From when a change pays; `added` and `npv` for each multiple of today's work."""

    multiples: np.ndarray
    added: np.ndarray  # a year, against keeping
    npv: np.ndarray
    work: float  # multiple from which the NPV is 0 or more; inf within none
    price: float | None  # of the new rig, at which the NPV is 0; None below 0
    resale: float | None  # of the rig that is sold; None where none does, or is sold


def break_even(found, choice):
    """Return the BreakEven of a change, the work planned anew at each multiple of it.

    From how much work it pays is read off a straight line over a fiftieth of today's
    work. The price counts with the duty, tax and insurance that hang on it.
    """
    evaluation, multiples = found.evaluation, np.array(MULTIPLES)
    added, npv = _by_work(evaluation, choice, multiples)
    work = crossing(multiples, npv)
    ends = bracket(multiples, npv)
    if ends is not None:
        closer = np.linspace(*ends, len(multiples))
        work = crossing(closer, _by_work(evaluation, choice, closer)[1])
    return BreakEven(
        multiples,
        added,
        npv,
        work,
        _price_at_zero(evaluation, choice),
        _resale_at_zero(evaluation, choice),
    )


def _by_work(evaluation, choice, multiples):
    """Return (added a year, NPV) of a change at multiples of today's work."""
    by_people = crews(evaluation, multiples)
    deeds = [choice.deed, *deeds_of(evaluation.brief, [])[:1]]
    results = [
        [planned(evaluation, by_people, deed, n).year_result for deed in deeds]
        for n, _ in enumerate(multiples)
    ]
    added = np.array([after - sum(before) for after, *before in results])
    paid = choice.added_upfront
    return added, np.array([npv_of(evaluation, choice.deed, x, paid) for x in added])


def _price_at_zero(evaluation, choice):
    machines, _, business = evaluation.figures
    name = choice.deed.new
    k = evaluation.index(name)
    doubled = changed(evaluation, [Change((name, "price"), times=2.0)])
    price = float(machines.price[0, k, 0])
    dearer = float((doubled.outcome.upfront - evaluation.outcome.upfront)[0, k, 0])
    insured = price * float(business.insurance_share[0, 0, 0])
    lost = -_npv_of_level(business, -insured) + dearer
    now = present_price(evaluation, name)
    found = now * (1 + choice.npv / lost) if lost > 0 else -1.0
    return found if found >= 0 else None


def _resale_at_zero(evaluation, choice):
    if choice.deed.sold is None:
        return None
    business = evaluation.figures.buyer
    now = worth_sold(evaluation, choice.deed)[0]
    growth = (1 + float(business.discount_rate[0, 0, 0])) ** business.horizon_years
    for_each = 1 - kept_share(evaluation, choice.deed.sold) / growth
    return now - choice.npv / for_each if for_each > 1e-9 else None


def _npv_of_level(business, a_year):
    flows = finance.cash_flows(0.0, a_year, business.horizon_years)
    rate = float(business.discount_rate[0, 0, 0])
    return float(finance.net_present_value(flows, rate))
