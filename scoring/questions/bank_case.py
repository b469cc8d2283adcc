"""One machine as a lender looks at it: what is asked for, what covers it, what if not.

Each figure is what to expect, as everywhere; chances are shares of the same draws.
Before tax advice: a draft to take to an adviser.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from scoring.answer.evaluation import Evaluation, evaluated
from scoring.answer.one_machine import of_place
from scoring.answer.run import run
from scoring.errors import ScoringError
from scoring.evidence.draws import in_brief_currency
from scoring.model.money.finance import straight_line_worth
from scoring.model.months import cash, lender
from scoring.questions.changed import Change, supposed, times_work
from scoring.questions.swings import leader

AIM = 1.2  # cover below which lenders ask questions; common practice, no source
DAYS_DOWN = 30
OPERATING = (
    "receipts",
    "job_costs",
    "plan_fee",
    "upkeep",
    "crew_pay",
    "fixed_costs",
)
STRESSES = {
    "as_expected": "as expected",
    "fewer_jobs": "30 % fewer jobs",
    "lower_prices": "prices 15 % lower",
    "late": "delivered three months later",
    "down": "30 days down each year, their work lost",
    "all": "all of these at once",
}
FEWER, LOWER, LATE = 0.70, 0.85, 3.0
UP = (365 - DAYS_DOWN) / 365


class BankMonths(NamedTuple):
    """Means by the month, 0 the signing; currency, what is paid below 0; (month,)."""

    receipts: np.ndarray
    costs: np.ndarray  # of jobs without own pay, plan, upkeep, crew, the business
    drawings: np.ndarray  # own pay of the hours worked, and what is drawn besides
    own_money: np.ndarray  # into the machine, import tax lent and given back
    interest: np.ndarray
    principal: np.ndarray
    other_debts: np.ndarray
    end: np.ndarray  # resale, and the loan paid off, with the last month
    balance: np.ndarray  # still owed
    forced_sale: np.ndarray  # what the machine would fetch in a hurry


class Covered(NamedTuple):
    """Cover of debt in each twelve months; (..., year)."""

    available: np.ndarray  # after drawings and tax
    tax: np.ndarray
    service: np.ndarray
    ratio: np.ndarray  # NaN where nothing falls due


class Stressed(NamedTuple):
    """What one stress makes of the case; None throughout where months cannot tell."""

    name: str
    lowest_ratio: float | None  # inf: no debt
    lowest_cash: float | None  # the buyer's own, before any other credit
    npv: float | None


class Evidenced(NamedTuple):
    """Jobs a month that the machine would serve, by what they rest on."""

    sold: float
    enquiries: float
    hoped: float
    counted: float  # sold, and the share of enquiries that is won


@dataclass(frozen=True)
class BankCase:
    """All figures of the case for one machine."""

    evaluation: Evaluation  # of this machine alone
    whole: Evaluation  # of all
    k: int  # its place among all
    borrowed: float
    rate_per_month: float
    n_instalments: int
    delivery_month: int
    schedule: lender.Schedule | None
    uses: dict  # {what: money}
    sources: dict
    lacking: float  # of own money at the lowest month, 0 or more
    months: BankMonths
    closing: np.ndarray  # (month,) own cash after tax and drawings
    covered: Covered
    lowest: float  # cover ratio; inf without debt
    chance_below: float  # share of draws in which the lowest is below AIM
    break_even: float  # jobs a month
    full_month: float  # jobs a month that the answer serves
    evidenced: Evidenced
    stresses: tuple[Stressed, ...]
    uncovered: float  # most that the loan stands above the forced sale
    uncovered_month: int
    draws_pay: bool  # whether drawings are told at all
    carries: float  # the largest loan that keeps the cover at AIM, on the brief's terms

    @property
    def name(self):
        return self.whole.names[self.k]


def bank_case(evaluation, name=None):
    """Return the BankCase of a machine, of the leader without a name.

    Raises
    ------
    ScoringError
        If there is no such machine, or none is left to lead.
    """
    k = leader(evaluation) if name is None else evaluation.index(name)
    if k is None:
        raise ScoringError(
            "no machine is left within the limits; name one for the case (--machine)"
        )
    alone = alone_with(evaluation, k)
    drawn = drawn_months(alone)
    months = _means(alone, drawn)
    covered = _covered(alone, months)
    payment = of_place(alone.expected.months.payment, 0)
    borrowed = _borrowed(alone)
    closing = _closing(alone, months, covered.tax)
    gap = np.maximum(months.balance - months.forced_sale, 0.0)
    uses, sources = _uses_and_sources(alone, borrowed, closing)
    return BankCase(
        evaluation=alone,
        whole=evaluation,
        k=k,
        borrowed=borrowed,
        rate_per_month=float(payment.rate_per_month),
        n_instalments=int(payment.n_instalments),
        delivery_month=int(np.ceil(payment.delivery_months)),
        schedule=_schedule(payment, borrowed),
        uses=uses,
        sources=sources,
        lacking=max(0.0, -float(closing.min())),
        months=months,
        closing=closing,
        covered=covered,
        lowest=float(lender.lowest_ratio(covered.ratio)),
        chance_below=_chance_below(alone, drawn),
        break_even=_break_even(alone, months),
        full_month=float(alone.outcome.year.served_per_month[0, 0].sum()),
        evidenced=_evidenced(alone),
        stresses=tuple(_stressed(alone, name) for name in STRESSES),
        uncovered=float(gap.max()),
        uncovered_month=int(gap.argmax()),
        draws_pay=_is_pay_told(alone),
        carries=_carries(alone, months, covered),
    )


def alone_with(evaluation, k):
    """Return the Evaluation of one machine, on the scale and the draws of all."""
    of = ("brief", evaluation.names[k])
    rows = {key: row for key, row in evaluation.rows.items() if key[0] in of}
    evidence = {key: e for key, e in evaluation.evidence.items() if key[0] in of}
    machine = (evaluation.machines[k],)
    scale = evaluation.scale
    seed = evaluation.seed
    return evaluated(evaluation.brief, machine, evidence, rows, seed, scale=scale)


def drawn_months(alone):
    """Return the Months of each draw, all their cash kept; as told where no draws."""
    first = 1 if alone.n_draws else 0
    rows = {key: row[first:] for key, row in alone.rows.items()}
    drawn = in_brief_currency(rows, alone.evidence, alone.brief)
    kept = cash.every_draw
    again = run(alone.brief, alone.criteria, alone.variants, drawn, kept=kept)
    return again.months, again.figures


def _by_month(alone, drawn):
    """Return the BankMonths of each draw: (draw, month)."""
    found, figures = drawn
    n_months = 12 * int(figures.buyer.horizon_years)
    lines, own_pay = found.cash.lines, found.cash.jobs * found.work.own_pay
    service = lender.debt_service(found.payment, n_months)
    operating = sum(getattr(lines, name) for name in OPERATING)
    others = other_debts(alone, n_months)
    months = BankMonths(
        receipts=lines.receipts,
        costs=operating - lines.receipts + own_pay,
        drawings=found.cash.living - own_pay,
        own_money=lines.machine + service.interest + service.principal,
        interest=-service.interest,
        principal=-service.principal,
        other_debts=-others,
        end=lines.settled + lines.resale,
        balance=service.balance,
        forced_sale=_forced_sale(alone, figures, n_months),
    )
    shape = np.broadcast_shapes(*(np.shape(line) for line in months))
    return BankMonths(*(np.broadcast_to(line, shape)[:, 0] for line in months))


def _means(alone, drawn):
    return BankMonths(*(line.mean(axis=0) for line in _by_month(alone, drawn)))


def other_debts(alone, n_months):
    """Return the instalments of debts that are there already: (month,), 0 or more.

    Those of the brief, and what owned rigs still owe, spread over their months.
    """
    month = np.arange(n_months + 1)
    terms, total = alone.brief.bank, np.zeros(n_months + 1)
    if terms.debts is not None:
        is_due = (month > 0) & (month <= terms.debt_months)
        total = total + in_currency(alone, terms.debts) * is_due
    for rig in alone.brief.owned:
        if rig.remaining_loan is not None:
            is_due = (month > 0) & (month <= rig.loan_months)
            owed = in_currency(alone, rig.remaining_loan) / rig.loan_months
            total = total + owed * is_due
    return total


def in_currency(evaluation, quantity):
    """Return the likely value of a sum in the brief's currency."""
    if quantity.currency in (None, evaluation.brief.currency):
        return quantity.likely
    rate = evaluation.drawn["brief", f"exchange.{quantity.currency}"][0]
    return quantity.likely * float(rate)


def _carries(alone, months, covered):
    """Return the largest loan that the work carries, at the brief's rate and months."""
    terms = alone.brief.payment
    others = -lender.by_year(months.other_debts)
    rate, n_months = terms.loan_rate.likely / 12, terms.loan_months
    return lender.largest_loan(covered.available, others, rate, n_months, AIM)


def _forced_sale(alone, figures, n_months):
    """Return what a hurried sale would fetch after so many months; none undelivered."""
    machines, buyer = figures.machines, figures.buyer
    price = np.maximum(machines.price, 0.0)
    resale = np.minimum(np.maximum(machines.resale, 0.0), price)
    years = np.arange(n_months + 1) / 12
    worth = straight_line_worth(price, resale, float(buyer.horizon_years), years)
    late = np.ceil(buyer.payment.delivery_months)
    is_there = np.arange(n_months + 1) >= late
    return alone.brief.bank.forced_sale.likely * worth * is_there


def _covered(alone, months):
    """Return the Covered of months, of means or of each draw: (..., year)."""
    earned = lender.by_year(months.receipts + months.costs)
    operating = earned + lender.by_year(months.drawings)
    interest = -lender.by_year(months.interest)
    share = alone.brief.bank.tax_share.likely
    tax = lender.tax_set_aside(earned, interest, share)
    paid = months.interest + months.principal + months.other_debts
    service = 0.0 - lender.by_year(paid)
    available = operating - tax
    ratio = lender.cover_ratio(available, service)
    return Covered(available, tax, service, ratio)


def _chance_below(alone, drawn):
    ratios = _covered(alone, _by_month(alone, drawn)).ratio
    return float((lender.lowest_ratio(ratios) < AIM).mean())


def _closing(alone, months, tax):
    """Return the buyer's own cash by the month: (month,); tax goes out each year's end.

    The end's resale is left out: nothing is sold while it is looked at.
    """
    own = float(alone.figures.buyer.cash[0, 0, 0])
    flows = sum(months[: BankMonths._fields.index("end")])
    flows = flows - _at_years_end(tax, len(flows))
    return own + flows.cumsum()


def _at_years_end(tax, n):
    flows = np.zeros(n)
    flows[12::12] = tax
    return flows


def _borrowed(alone):
    payment = of_place(alone.expected.months.payment, 0)
    upfront = float(of_place(alone.outcome.upfront, 0))
    return max(0.0, upfront - float(payment.deposit) - float(payment.balance))


def _schedule(payment, borrowed):
    """Return the Schedule of what is borrowed; None for a lease, and for nothing."""
    if borrowed < 1.0 or payment.rate_per_month <= 0 or payment.n_instalments < 1:
        return None
    n = int(payment.n_instalments)
    return lender.loan_schedule(borrowed, float(payment.rate_per_month), n)


def _uses_and_sources(alone, borrowed, closing):
    """Return ({what the money is for}, {where it comes from}), of one sum."""
    lines = of_place(alone.outcome.upfront_lines, 0)._asdict()
    uses = {name.replace("_", " "): float(x) for name, x in lines.items() if x >= 0.5}
    upfront = float(of_place(alone.outcome.upfront, 0))
    own = float(alone.figures.buyer.cash[0, 0, 0])
    most = max(own - float(closing.min()), upfront - borrowed)
    uses["to keep going until work pays"] = most - (upfront - borrowed)
    sources = {"own cash": min(own, most)}
    if borrowed >= 1:
        sources["loan or lease"] = borrowed
    if most > own:
        sources["not yet found"] = most - own
    return uses, sources


def _break_even(alone, months):
    """Return from how many jobs of the mix a month all is paid, instalment too."""
    found = alone.expected.months
    work, running = of_place(found.work, 0), of_place(found.running, 0)
    payment = of_place(found.payment, 0)
    fixed = running.plan_fee + running.upkeep + running.fixed_costs + running.crew_pay
    debts = -float(months.other_debts.min())
    left = float(work.price - work.cost + running.upkeep_saved)
    costs = float(fixed / 12 + payment.instalment) + debts
    return lender.break_even_jobs(
        left, float(work.own_pay), costs, float(running.living)
    )


def _evidenced(alone):
    """Return the Evidenced jobs of a full month."""
    served = alone.outcome.year.served_per_month[0, 0]
    by_basis = {"sold": 0.0, "enquiries": 0.0, "guess": 0.0}
    for job, n in zip(alone.brief.work, served.tolist(), strict=True):
        by_basis[job.basis] += n
    won = alone.brief.bank.enquiries_won.likely
    counted = by_basis["sold"] + won * by_basis["enquiries"]
    return Evidenced(*by_basis.values(), counted)


def stress_changes(evaluation, name):
    """Return the Changes of a stress."""
    late = [Change(("brief", "payment.delivery_months"), later=LATE)]
    prices = _lower_prices(evaluation)
    return {
        "as_expected": [],
        "fewer_jobs": times_work(evaluation, FEWER),
        "lower_prices": prices,
        "late": late,
        "down": times_work(evaluation, UP),
        "all": [*times_work(evaluation, FEWER * UP), *prices, *late],
    }[name]


def _lower_prices(evaluation):
    """Return the Changes that lower all that clients pay: prices, minima, fees."""
    return [
        Change(key, times=LOWER)
        for key in evaluation.evidence
        if key[0] == "brief"
        and key[1].startswith("work.")
        and (".price." in key[1] or key[1].endswith(".artwork_fee"))
        and not key[1].endswith(".up_to")
    ]


def _stressed(alone, name):
    try:
        again = supposed(alone, stress_changes(alone, name))
    except ScoringError:  # delivered beyond the years looked at
        return Stressed(name, None, None, None)
    months = _means(again, drawn_months(again))
    covered = _covered(again, months)
    closing = _closing(again, months, covered.tax)
    lowest = float(lender.lowest_ratio(covered.ratio))
    npv = float(again.expected.npv[0, 0])
    return Stressed(name, lowest, float(closing.min()), npv)


def _is_pay_told(alone):
    buyer = of_place(alone.figures.buyer, 0)
    return bool(buyer.own_hour > 0 or buyer.living > 0)
