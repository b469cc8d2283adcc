"""What if: the same buyer and machines, with prices, work or interest changed."""

from dataclasses import replace

from scoring.answer.evaluation import evaluate
from scoring.inputs.dimensions import MONEY
from scoring.inputs.quantity import STATED


def suppose(
    evaluation,
    prices=None,
    work=1.0,
    rate=None,
    brings=None,
    later_months=0.0,
    later_days=0.0,
):
    """Return the Evaluation with some figures changed; scale and left out as before.

    Parameters
    ----------
    prices : {machine: likely price}, in the currency of its sheet
        Its range moves in proportion. A price that nobody tells stays unknown.
    work : multiple of the jobs a month of every kind
    rate : decimal; the discount rate, without a range
    brings : {place among the owned rigs: what it brings}, in the brief's currency
    later_months : by which the machine is delivered later
    later_days : by which clients pay later

    Raises
    ------
    ScoringError
        As `evaluate`.
    """
    brief = evaluation.brief
    changes = {}
    if work != 1.0:
        changes["work"] = tuple(
            job.model_copy(update={"per_month": scaled(job.per_month, work)})
            for job in brief.work
        )
    if rate is not None:
        fixed = exactly(brief.money.discount_rate, rate)
        changes["money"] = brief.money.model_copy(update={"discount_rate": fixed})
    if brings:
        changes["owned"] = tuple(
            _bringing(rig, brings[n], brief.currency) if n in brings else rig
            for n, rig in enumerate(brief.owned)
        )
    if later_months:
        late = later(brief.payment.delivery_months, later_months)
        changes["payment"] = brief.payment.model_copy(update={"delivery_months": late})
    if later_days:
        late = later(brief.trade.days_to_pay, later_days)
        changes["trade"] = brief.trade.model_copy(update={"days_to_pay": late})
    machines = [_at_price(m, (prices or {}).get(m.name)) for m in evaluation.machines]
    return evaluate(
        brief.model_copy(update=changes),
        machines,
        scale=evaluation.scale,
        left_out=evaluation.left_out,
    )


def scaled(quantity, factor):
    """Return a figure with its whole range scaled."""
    ends = ("low", "likely", "high")
    return replace(quantity, **{end: factor * getattr(quantity, end) for end in ends})


def later(quantity, by):
    """Return a figure with its whole range moved up."""
    ends = ("low", "likely", "high")
    return replace(quantity, **{end: getattr(quantity, end) + by for end in ends})


def exactly(quantity, value):
    """Return a figure that is this value, without a range."""
    return replace(quantity, low=value, likely=value, high=value)


def _at_price(machine, price):
    if price is None or machine.price.is_unknown or machine.price.likely == price:
        return machine
    if machine.price.likely == 0:
        return machine.model_copy(update={"price": exactly(machine.price, price)})
    moved = scaled(machine.price, price / machine.price.likely)
    return machine.model_copy(update={"price": moved})


def _bringing(rig, amount, currency):
    """Return an owned rig that brings so much, in this currency, when it is sold."""
    sold = MONEY.parse(f"{amount:.2f} {currency}", STATED)
    return rig.model_copy(update={"resale": sold})
