"""What several fields of a brief say together."""

import math

from scoring.errors import shown
from scoring.inputs.quantity import Wrong, nearest, quantities_of

LEAST_LIFT = 1.0  # kg
LEAST_RATE = 1e-6  # of exchange; the most is one divided by it


def check_brief(brief):
    """Return [(path, Wrong)] of what several fields say together."""
    return [
        *_names_check(brief),
        *_prices_check(brief),
        *_crew_check(brief),
        *_pay_check(brief),
        *_payment_check(brief),
        *_currency_check(brief),
        *_weights_check(brief),
    ]


def _names_check(brief):
    names = [job.name for job in brief.work]
    twice = [
        (("work", k, "name"), Wrong(f"{shown(name)} twice", "each kind of job once"))
        for k, name in enumerate(names)
        if name in names[:k]
    ]
    missing = [
        (
            ("limits", "must_serve", k),
            Wrong(
                f"no kind of job is called {shown(name)}{nearest(name, names)}",
                f"one of {', '.join(map(shown, names))}",
            ),
        )
        for k, name in enumerate(brief.limits.must_serve)
        if name not in names
    ]
    return twice + missing


def _prices_check(brief):
    for k, job in enumerate(brief.work):
        here, price = ("work", k, "price"), job.price
        said = [
            n for n in ("per_m2", "bands", "per_job") if n in price.model_fields_set
        ]
        if len(said) != 1:
            what = " and ".join(said) + " together" if said else "has no price"
            yield here, Wrong(what, "exactly one of per_m2, bands, per_job")
        elif price.minimum is not None and price.per_job is not None:
            yield here, Wrong("minimum beside per_job", "minimum with per_m2 or bands")
        elif said == ["bands"]:
            yield from _bands_check(here, price.bands)


def _bands_check(here, bands):
    ends = [math.inf if band.up_to is None else band.up_to.likely for band in bands]
    if not bands:
        yield (*here, "bands"), Wrong("is empty", "one band or more")
    elif ends != sorted(set(ends)) or ends[-1] != math.inf:
        allowed = "up_to rising from band to band, none in the last"
        yield (*here, "bands"), Wrong("do not cover all sizes in order", allowed)


def _payment_check(brief):
    plan = brief.payment
    if not math.ceil(plan.delivery_months.high) < 12 * brief.money.horizon:
        horizon = brief.money.horizon
        years = "1 year" if horizon == 1 else f"{horizon} years"
        allowed = f"before the end of the horizon, {years}"
        wrong = Wrong(f"{shown(plan.delivery_months.text)} months is too late", allowed)
        yield ("payment", "delivery_months"), wrong
    if not 0 < sum(brief.trade.seasonality) < math.inf:
        allowed = "twelve numbers, January first, one at least above 0"
        yield ("trade", "seasonality"), Wrong("every month is 0", allowed)
    if not brief.working_time.bookable_share.low > 0:
        yield ("working_time", "bookable_share"), Wrong("is 0", "more than 0 %")
    for name, (worst, best) in brief.scale.items():
        if worst == best:
            wrong = Wrong(f"worst and best are both {worst:g}", "two different figures")
            yield ("scale", name), wrong
    told = brief.vehicle.model_fields_set
    if told and not told & {"length", "volume", "payload"}:
        allowed = "length, volume or payload of your own vehicle beside it"
        yield ("vehicle",), Wrong("hire or buy without a size", allowed)
    for k, rig in enumerate(brief.owned):
        if rig.remaining_loan is None and "loan_months" in rig.model_fields_set:
            wrong = Wrong("is missing", "the loan still open, as loan_months is told")
            yield ("owned", k, "remaining_loan"), wrong
    if plan.way == "loan" and brief.money.loan is None and plan.borrowed is None:
        allowed = "borrowed, or loan under money: how much can be borrowed"
        yield ("payment", "borrowed"), Wrong("is missing", allowed)
    if plan.way == "lease" and plan.lease_per_month is None:
        allowed = "what the lessor asks a month, such as 450 EUR"
        yield ("payment", "lease_per_month"), Wrong("is missing", allowed)


def _crew_check(brief):
    if not brief.crew.lift_limit.low >= LEAST_LIFT:
        what = f"{shown(brief.crew.lift_limit.text)} is too little to carry anything"
        yield ("crew", "lift_limit"), Wrong(what, f"{LEAST_LIFT:g} kg or more")


def _pay_check(brief):
    """Yield what is wrong with how the others than the owner are paid."""
    crew, wage = brief.crew, "their wage, such as 20 EUR/h"
    if crew.paid == "by_month" and crew.people > 1 and crew.wage is None:
        yield ("crew", "wage"), Wrong("is missing beside paid: by_month", wage)
    if crew.paid == "by_hour" and crew.on_costs is not None:
        allowed = "paid: by_month beside it; by the hour they belong into the wage"
        yield ("crew", "on_costs"), Wrong("nothing asks for it", allowed)


def _currency_check(brief):
    """Yield what is wrong with the rates, and sums in a currency without one."""
    for code, rate in brief.exchange.items():
        is_within = LEAST_RATE <= rate.low and rate.high <= 1 / LEAST_RATE
        if rate.currency != brief.currency or not is_within:
            allowed = (
                f"what one {code} is in {brief.currency}, from 0.000001 to 1000000"
            )
            yield (
                ("exchange", code),
                Wrong(f"{shown(rate.text)} is not a rate", allowed),
            )
    yield from without_rate(brief, brief)


def without_rate(brief, record):
    """Yield (path, Wrong) of sums in a currency for which the brief has no rate."""
    known = {None, brief.currency, *brief.exchange}
    for path, quantity in quantities_of(record):
        if quantity.currency not in known and not path.startswith("exchange."):
            code = quantity.currency
            allowed = f"exchange: {{{code}: … {brief.currency}}} in the brief"
            yield tuple(path.split(".")), Wrong(f"no exchange rate for {code}", allowed)


def _weights_check(brief):
    if brief.weights is None:
        return
    ids, way = brief.weights.ids, brief.weights.way
    here = ("weights",) if way == "numbers" else ("weights", way)
    for name in sorted({name for name in ids if ids.count(name) > 1}):
        yield here, Wrong(f"{shown(name)} twice", "each criterion once")
    if way == "pairwise":
        yield from _pairwise_check(brief.weights.pairwise)
    figures = getattr(brief.weights, way)
    if way in ("numbers", "swing") and not sum(figures.values()) > 0:
        yield here, Wrong("the weights sum to 0", "at least one above 0")
    if way == "priced":
        yield from _priced_check(brief, here, figures)
    if way == "order" and not ids:
        yield here, Wrong("is empty", "criteria, the most important first")


def _priced_check(brief, here, figures):
    if not sum(figure.likely for figure in figures.values()) > 0:
        yield here, Wrong("the weights sum to 0", "at least one above 0")
    for name, figure in figures.items():
        if figure.currency != brief.currency:
            what = f"{shown(figure.text)} is not in {brief.currency}"
            yield (*here, name), Wrong(what, f"{brief.currency}/year")


def _pairwise_check(pairwise):
    n, here = len(pairwise.criteria), ("weights", "pairwise", "judgements")
    rows = pairwise.judgements
    if len(rows) != n or any(len(row) != n for row in rows):
        yield here, Wrong(f"is not {n} × {n}", "a row and a column for each criterion")
        return
    for a in range(n):
        for b in range(a + 1):
            if not math.isclose(rows[a][b] * rows[b][a], 1, rel_tol=0.02):
                what = f"row {a + 1}, column {b + 1} is not 1 / its mirror image"
                yield here, Wrong(what, "reciprocal judgements, 1 on the diagonal")
