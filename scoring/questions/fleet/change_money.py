"""The money of a change of rigs: what is paid, sold, settled, and worth over the years.

A change is counted against keeping what there is, in the brief's currency, before tax.
"""

from dataclasses import dataclass

import numpy as np

from scoring.model.money import finance
from scoring.model.months import cash
from scoring.model.months.average_year import borrowed, payment_of, tax_lent
from scoring.model.months.worth import monthly_rate
from scoring.questions.changed import Change, rate_of

NOTHING = np.zeros(1)  # money, in every draw


@dataclass(frozen=True)
class Deed:
    """What is done: which rigs there then are, which is bought, which is sold."""

    name: str
    machines: tuple[str, ...]
    places: tuple  # each rig's among the owned ones, None for the new one
    new: str = ""
    sold: int | None = None


def npv_of(evaluation, flows):
    """Return the present value of the cash of a change, by the month."""
    return float(finance.net_present_value(flows, by_month(evaluation)))


def by_month(evaluation):
    """Return the interest asked, by the month."""
    return float(monthly_rate(evaluation.figures.buyer.discount_rate)[0, 0, 0])


def end_worth(evaluation, deed):
    """Return what the new rig fetches after the years, less what the sold one would."""
    return float(end_by_draw(evaluation, deed)[0])


def end_by_draw(of, deed):
    """Return `end_worth` in each draw, (draw,)."""
    machines = of.figures.machines
    new = by_draw(of, deed.new, machines.resale) if deed.new else NOTHING
    return new - sold_by_draw(of, deed)[1]


def by_draw(of, name, array):
    """Return a machine's figure in an array of the model, (draw,).

    `of` is an Evaluation, of one draw then, or what has its brief, machines, index,
    figures, outcome and drawn in many draws.
    """
    return np.broadcast_to(array, (len(array), len(of.machines), 1))[
        :, of.index(name), 0
    ]


def figure_of(evaluation, name, array):
    """Return a machine's figure in an array of the model."""
    return float(by_draw(evaluation, name, array)[0])


def new_upfront(evaluation, deed):
    """Return what the new rig costs.

    One like a rig that there is shares part of its accessories, and needs no training.
    """
    return float(upfront_by_draw(evaluation, deed)[0])


def upfront_by_draw(of, deed):
    """Return `new_upfront` in each draw, (draw,)."""
    if not deed.new:
        return NOTHING
    cost = by_draw(of, deed.new, of.outcome.upfront)
    if deed.machines.count(deed.new) > 1:
        lines = of.outcome.upfront_lines
        saved = of.drawn["brief", "money.alike_rigs_save"]
        cost = cost - saved * by_draw(of, deed.new, lines.accessories)
        cost = cost - by_draw(of, deed.new, lines.training)
    return cost


def sale_worth(evaluation, place):
    """Return what the owned rig at a place brings now, in the brief's currency."""
    return float(_worth_of(evaluation, place)[0][0])


def worth_sold(evaluation, deed):
    """Return (what the rig that is sold brings now, what it would after the years)."""
    now, later = sold_by_draw(evaluation, deed)
    return float(now[0]), float(later[0])


def sold_by_draw(of, deed):
    """Return `worth_sold` in each draw, two (draw,)."""
    return (NOTHING, NOTHING) if deed.sold is None else _worth_of(of, deed.sold)


def _worth_of(of, place):
    """Return (what an owned rig brings now, what it would after the years), (draw,).

    Now as the brief says, else by age on a straight line from its price to the resale
    of its sheet at the horizon, and on to 0; later by the same line, in proportion.
    """
    told = of.drawn.get(("brief", f"owned.{place}.resale"))
    if told is None:
        rig = of.brief.owned[place]
        is_ended = of.machines[of.index(rig.machine)].support.licence_transfers is False
        return (NOTHING, NOTHING) if is_ended else _by_age(of, place)
    return told, told * _share_kept(of, place)


def brings(evaluation, place, amount):
    """Return the Change to an owned rig that brings so much, brief's currency."""
    key = ("brief", f"owned.{place}.resale")
    return Change(key, known=amount / rate_of(evaluation, key))


def kept_share(evaluation, place):
    """Return the share of its worth that an owned rig keeps over the years."""
    return float(_share_kept(evaluation, place)[0])


def _share_kept(of, place):
    """Return `kept_share` in each draw, (draw,)."""
    now, later = _by_age(of, place)
    return np.divide(later, now, out=np.zeros(np.shape(now)), where=now > 0)


def _by_age(of, place):
    """Return what an owned rig is worth by its age, now and after the years."""
    rig, years = of.brief.owned[place], of.figures.buyer.horizon_years
    age = of.drawn["brief", f"owned.{place}.age"]
    price = by_draw(of, rig.machine, of.figures.machines.price)
    resale = by_draw(of, rig.machine, of.figures.machines.resale)
    ages = np.stack([age, age + years])
    now, later = finance.straight_line_worth(price, resale, years, ages)
    return now, later


def loan_settled(evaluation, deed):
    """Return the loan still open on the rig that is sold."""
    key = ("brief", f"owned.{deed.sold}.remaining_loan")
    return float(evaluation.drawn[key][0]) if key in evaluation.drawn else 0.0


def months_of(evaluation, deed, added_left, added_running, dearer=0.0):
    """Return the cash of a change by the month against keeping: (month,).

    The new rig is paid for as the brief says; the old one is sold, and its loan
    settled, when the new one is delivered: its instalments are saved from then on. The
    first rig of all is the evaluation's own machine, with its slow first builds; of
    others `dearer` is what the new one costs more than told.
    """
    business = evaluation.figures.buyer
    month = np.arange(12 * business.horizon_years + 1)
    if not deed.new:
        return np.zeros(len(month))
    if not evaluation.brief.owned:
        return evaluation.flows[evaluation.index(deed.new)]
    settled = loan_settled(evaluation, deed)
    k = evaluation.index(deed.new)
    upfront = evaluation.outcome.upfront.copy()
    upfront[0, k] = new_upfront(evaluation, deed) + dearer
    tax = tax_lent(evaluation.figures.machines, business)
    payment = payment_of(business, upfront, tax)
    flows = cash.change_flows(
        payment,
        business.trade,
        added_left,
        added_running,
        at_delivery=worth_sold(evaluation, deed)[0] - settled,
        at_end=end_worth(evaluation, deed),
        horizon_years=business.horizon_years,
    )
    flows = np.broadcast_to(flows, (1, len(evaluation.names), len(month)))[0, k]
    if not settled:
        return flows
    n_due = evaluation.brief.owned[deed.sold].loan_months
    since = month - np.ceil(business.payment.delivery_months[0, 0, 0])
    return flows + settled / n_due * ((since > 0) & (since <= n_due))


def credit_used(evaluation, deed):
    """Return the credit that the payments for the new rig already use."""
    business = evaluation.figures.buyer
    upfront = np.full((1, 1, 1), new_upfront(evaluation, deed))
    return float(borrowed(business, upfront)[0, 0, 0])
