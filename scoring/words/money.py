"""Years → sentences: does it pay, when, how it is paid for, what if things go wrong."""

import numpy as np

from scoring.answer.expected import DOUBT
from scoring.answer.limits import LimitKind
from scoring.answer.one_machine import at, of_place
from scoring.model.months.worth import NONE, SEVERAL, rates_of_return
from scoring.words.figures import about, figure, in_100, joined, number

MINOR = 1.0  # money that is not worth a word
IF_WRONG = {
    "as_told": "as it stands",
    "half_work": "half the work",
    "late_delivery": "delivered three months later",
    "late_clients": "clients pay two months later",
    "all": "all three at once",
}


def does_it_pay(found, k):
    """Return whether and when machine k pays, and what a full year then leaves."""
    evaluation = found.evaluation
    currency, name = evaluation.brief.currency, evaluation.names[k]
    year, buyer = at(evaluation, k).year, of_place(evaluation.figures.buyer, k)
    result = float(year.result)
    if result <= 0:
        return (
            f"{name} does not pay: a full year loses {about(-result, currency)} at "
            "this work, and no terms of payment mend that."
        )
    worth = of_place(found.worth, k)
    low, month = -float(worth.low_point), int(worth.low_month)
    said = (
        f"{name}: you put in up to {about(low, currency)}, most in month {month}; "
        f"{_back(found, k)}. A full year then leaves {about(result, currency)}"
    )
    if buyer.own_hour > 0:
        hour, before = figure(buyer.own_hour, f"{currency}/h"), year.before_pay
        said += f" after {hour} for your own hours, {about(before, currency)} before"
    else:
        said += " before any pay for your own hours"
    return f"{said}."


def _back(found, k):
    back = float(of_place(found.worth, k).payback_month)
    if np.isfinite(back):
        return f"it is earned back in month {number(back)}"
    n_years = found.evaluation.figures.buyer.horizon_years
    return f"it is not earned back in the {n_years} years looked at"


def back_in_words(month):
    """Return the month in which a machine is earned back; never where inf."""
    return f"month {number(month)}" if np.isfinite(month) else "never"


def how_paid(found, k):
    """Return sentences on how machine k is paid for, by the brief's terms."""
    evaluation, plan = found.evaluation, of_place(found.payment, k)
    currency = evaluation.brief.currency
    month = number(np.ceil(plan.delivery_months))
    parts = [
        (plan.deposit, "at signing"),
        (plan.balance, f"at delivery (month {month})"),
    ]
    parts = [f"{about(x, currency)} {when}" for x, when in parts if x >= MINOR]
    a_month, n = plan.instalment, int(plan.n_instalments)
    if a_month >= MINOR:
        term = "1 month" if n == 1 else f"{n} months"
        then = "then " if parts else ""
        parts.append(f"{then}{about(a_month, currency)} a month for {term}")
    if plan.residual >= MINOR:
        parts.append(f"and {about(plan.residual, currency)} with the last")
    way = evaluation.brief.payment.way
    none = " Nothing has to be borrowed." if way == "loan" and not a_month else ""
    said = [f"How it is paid: {joined(parts) or 'nothing'}.{none}"]
    lent = plan.tax_lent
    if lent >= MINOR:
        back = number(np.ceil(plan.delivery_months + plan.tax_back_months))
        said.append(
            f"Import tax of {about(lent, currency)} is advanced at delivery and comes "
            f"back by month {back}, if you are registered for it. If not, it is a "
            "cost: say so in the brief (import_tax_recovered: false)."
        )
    return said


def low_point(found, k):
    """Return how low machine k's cash gets, when, and how often it runs out."""
    return f"{_how_low(found, k)}{_runs_out(found.evaluation, k)}"


def runs_short(found, k):
    """Return whether the cash of machine k may not last, as told or in some draws."""
    return bool(found.funds_gap[k] > 0 or _runs_out(found.evaluation, k))


def _how_low(found, k):
    evaluation, worth = found.evaluation, of_place(found.worth, k)
    buyer, lived = of_place(evaluation.figures.buyer, k), at(evaluation, k)
    currency, name = evaluation.brief.currency, evaluation.names[k]
    low, month = -float(worth.low_point), int(worth.low_month)
    said = f"{name} is deepest in the red by {about(low, currency)}, in month {month}"
    said += f" after signing; {_living(buyer, currency)}."
    own = float(buyer.cash)
    gap = float(found.funds_gap[k])
    if gap > 0:
        said += f" That is {about(gap, currency)} more than your cash and credit."
        if lived.year.result <= 0:
            return f"{said} It never earns what a year costs: waiting does not mend it."
        if lived.upfront <= own + buyer.credit and month:
            said += (
                " It fits on the day you pay, but not in the months until clients have "
                "paid."
            )
    elif low > own:
        credit = about(low - own, currency)
        said += f" Beyond your cash that uses {credit} of credit, without its interest."
    return said


def _runs_out(evaluation, k):
    """Return in how many draws cash and credit run out; "" where hardly ever."""
    chances = [
        x.of(k).chance for x in evaluation.limits if x.kind == LimitKind.LOW_POINT
    ]
    often = float(max(chances, default=0.0))
    return (
        f" In {in_100(often)} draws cash and credit run out." if often > DOUBT else ""
    )


def _living(buyer, currency):
    """Return whether what the owner lives on is in the months."""
    is_paid = buyer.own_hour > 0
    if buyer.living > 0:
        least = ", the pay of your hours within it" if is_paid else ""
        return f"{figure(buyer.living, currency)} a month to live on is in it{least}"
    but = ", but for the pay of your hours" if is_paid else ""
    return f"your own living is not in these months{but}"


def returns(found, k):
    """Return the yearly rates of return of machine k's months as a sentence."""
    rates = rates_of_return(found.cash.flows[0, k])
    if rates.kind == NONE:
        return "There is no rate of interest at which these months are worth 0."
    if rates.kind == SEVERAL:
        return (
            f"{rates.n_rates} rates of return fit these months, as cash changes sign "
            f"{rates.sign_changes} times: go by the present value."
        )
    rate = figure(float(rates.rate), "share")
    has_pay = of_place(found.evaluation.figures.buyer, k).own_hour > 0
    return (
        f"The months return {rate} a year on what is put in (rate of return, IRR), "
        f"{'after your own pay' if has_pay else 'before any pay for you'}."
    )


def cost_of_use(found, k, is_us=False):
    """Return what the work costs with machine k by m², by job; "" without work."""
    currency, worth = found.evaluation.brief.currency, of_place(found.worth, k)
    if np.isnan(worth.cost_per_job):
        return ""
    return (
        f"All that is paid, less resale, comes to "
        f"{about(worth.cost_per_m2, f'{currency}/m²', is_us)} printed and "
        f"{about(worth.cost_per_job, currency)} a job; a day worked leaves "
        f"{about(worth.cash_per_day, currency)}."
    )
