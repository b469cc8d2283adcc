"""When a change of rigs pays: from how much work, up to which price, for which sale."""

from dataclasses import dataclass

import numpy as np

from scoring.questions.best_price import present_price
from scoring.questions.changed import Change, changed, each_gist, times_work
from scoring.questions.fleet.change_money import (
    by_month,
    figure_of,
    kept_share,
    months_of,
    npv_of,
    worth_sold,
)
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
    if not evaluation.brief.owned:
        return _first_by_work(evaluation, choice, multiples)
    by_people = crews(evaluation, multiples)
    deeds = [choice.deed, deeds_of(evaluation.brief, [])[0]]
    added, npv = np.zeros((2, len(multiples)))
    for n, _ in enumerate(multiples):
        plan, kept = (planned(evaluation, by_people, deed, n) for deed in deeds)
        added[n] = plan.year_result - kept.year_result
        more = plan.left - kept.left, plan.running - kept.running
        npv[n] = npv_of(evaluation, months_of(evaluation, choice.deed, *more))
    return added, npv


def _first_by_work(evaluation, choice, multiples):
    """Return the same of the first machine of all, which is the model's own."""
    variant = evaluation.variants[evaluation.index(choice.deed.new)]
    work = [times_work(evaluation, float(factor)) for factor in multiples]
    gist = each_gist(evaluation, work, [variant])
    shape = len(multiples), 1
    return tuple(np.broadcast_to(x, shape)[:, 0] for x in (gist.result, gist.npv))


def _price_at_zero(evaluation, choice):
    lost = choice.npv - _npv_at_twice(evaluation, choice)
    now = present_price(evaluation, choice.deed.new)
    found = now * (1 + choice.npv / lost) if lost > 0 else -1.0
    return found if found >= 0 else None


def _npv_at_twice(evaluation, choice):
    """Return the NPV at twice the price, its premium with it."""
    machines, _, business = evaluation.figures
    name = choice.deed.new
    doubled = changed(evaluation, [Change((name, "price"), times=2.0)])
    if not evaluation.brief.owned:
        return figure_of(evaluation, name, doubled.npv[..., None])
    paid = figure_of(evaluation, name, doubled.outcome.upfront)
    dearer = paid - figure_of(evaluation, name, evaluation.outcome.upfront)
    premium = figure_of(evaluation, name, machines.price * business.insurance_share)
    kept = planned(evaluation, crews(evaluation), deeds_of(evaluation.brief, [])[0])
    more = choice.plan.left - kept.left, choice.plan.running - kept.running - premium
    return npv_of(evaluation, months_of(evaluation, choice.deed, *more, dearer))


def _resale_at_zero(evaluation, choice):
    if choice.deed.sold is None:
        return None
    business = evaluation.figures.buyer
    now = worth_sold(evaluation, choice.deed)[0]
    growth = 1 + by_month(evaluation)
    late = float(np.ceil(business.payment.delivery_months[0, 0, 0]))
    later = kept_share(evaluation, choice.deed.sold)
    for_each = growth**-late - later * growth ** (-12 * business.horizon_years)
    return now - choice.npv / for_each if for_each > 1e-9 else None
