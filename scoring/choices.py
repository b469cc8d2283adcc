"""Keep, add, replace: what each choice of rigs would leave at the same work.

The rigs of a choice share the work by the plan of an average month that leaves most
(`rigs`), each in its own diary and all of them out of the crews' days. What a change
costs and leaves is counted against keeping what there is. Then choices are ranked as
machines are.
"""

from dataclasses import dataclass

import numpy as np

from scoring.decision import criteria as decision_criteria
from scoring.decision import ranking
from scoring.errors import ScoringError
from scoring.evaluation import Evaluation
from scoring.model import cash, finance
from scoring.model.money import revenue
from scoring.model.months import payment_of
from scoring.model.outcome import outcome
from scoring.rigs import Plan, best_plan, crews, rigs, stand_in_value
from scoring.screening import tells_timing
from scoring.wording import figure, number

KEEP = "keep what you have"
DEEDS = {"keep": "Keeping", "add": "Adding", "buy": "Buying", "replace": "Replacing"}
MONEY = ("upfront", "year_result")
FUNDS = ("cash", "low_point")  # of a change, not of the machine alone
FAR = 3  # times the price asked; a price beyond it is nothing to talk about
MULTIPLES = tuple(np.linspace(0.0, 2.0, 11))  # of today's work


@dataclass(frozen=True)
class Deed:
    """What is done: which rigs there then are, which is bought, which is sold."""

    name: str
    machines: tuple[str, ...]
    places: tuple  # each rig's among the owned ones, None for the new one
    new: str = ""
    sold: int | None = None


@dataclass(frozen=True)
class Choice:
    """What one choice of rigs comes to; money in the brief's currency."""

    deed: Deed
    jobs: tuple[str, ...]  # the kinds of job
    plan: Plan
    added_result: float  # a year, against keeping what there is
    added_upfront: float  # the new rig, less what a replaced one brings
    settled: float  # loan still open on the rig that is sold
    payback_months: float  # inf: never
    npv: float  # of the change
    flows: np.ndarray  # (month,), cash of the change
    stand_in_value: float  # a year
    raw: np.ndarray  # (criterion,)

    @property
    def name(self):
        return self.deed.name

    @property
    def low_point(self):
        """Lowest cash of the change so far, 0 or less."""
        return float(cash.low_point(self.flows)[0])

    @property
    def low_month(self):
        """The month in which it first is so low."""
        return int(cash.low_point(self.flows)[1])

    @property
    def rigs(self):
        return self.plan.rigs

    @property
    def year_result(self):
        return self.plan.year_result

    @property
    def assignment(self):
        """{job: {rig: jobs a month}} of what is served."""
        return {
            job: {
                rig.name: float(self.plan.served[r, j])
                for r, rig in enumerate(self.rigs)
                if self.plan.served[r, j] > 1e-9
            }
            for j, job in enumerate(self.jobs)
        }


@dataclass(frozen=True)
class Choices:
    """All choices with their ranking, in the order of `choices`."""

    evaluation: Evaluation
    choices: tuple[Choice, ...]
    left_out: tuple[str, ...]  # machines that break a limit
    too_dear: dict  # choice → what cash and credit lack
    scale: np.ndarray
    scores: np.ndarray
    weighted_sum: np.ndarray
    topsis: np.ndarray
    rank_weighted_sum: np.ndarray
    rank_topsis: np.ndarray

    @property
    def order(self):
        """The choices' indices by rank, then name."""
        names = [choice.name for choice in self.choices]
        return sorted(
            range(len(names)), key=lambda c: (self.rank_weighted_sum[c], names[c])
        )


@dataclass(frozen=True)
class BreakEven:
    """From when a change pays; `added` and `npv` for each multiple of today's work."""

    multiples: np.ndarray
    added: np.ndarray  # a year, against keeping
    npv: np.ndarray
    work: float | None  # multiple from which the NPV is 0 or more; None within none
    price: float | None  # of the new rig, at which the NPV is 0; None below 0
    resale: float | None  # of the rig that is sold; None where none is sold


def choices(evaluation):
    """Return the Choices of a buyer who owns the brief's rigs.

    Every machine within the limits may be added, or take the place of an owned rig; a
    rig that is owned may be added a second time. What a change asks of cash and credit,
    less what the rig that is sold brings, must be there; the rest of the limits holds
    for the machine, those on lifting for the crew that would run it.

    Raises
    ------
    ScoringError
        If no rig is owned and no machine is within the limits.
    """
    brief, by_people = evaluation.brief, crews(evaluation)
    candidates = [
        evaluation.names[k]
        for k in evaluation.order
        if all(limit.name in FUNDS for limit in evaluation.broken(k))
    ]
    deeds = _deeds(brief, candidates)
    kept = _planned(evaluation, by_people, deeds[0]) if brief.owned else None
    found = [_choice(evaluation, by_people, deed, kept) for deed in deeds]
    gaps = {choice.name: _gap(evaluation, choice) for choice in found}
    found = [choice for choice in found if not gaps[choice.name] > 0]
    if not found:
        raise ScoringError("no rig is owned and no machine is within the limits")
    out = set(evaluation.names) - set(candidates) - evaluation.left_out
    return _ranked(
        evaluation,
        found,
        left_out=tuple(sorted(out)),
        too_dear={name: gap for name, gap in gaps.items() if gap > 0},
    )


def _deeds(brief, candidates):
    """Return the Deeds there are; keeping comes first where a rig is owned."""
    owned = tuple(rig.machine for rig in brief.owned)
    places = tuple(range(len(owned)))
    deeds = [Deed(KEEP, owned, places)] if owned else []
    verb = "add" if owned else "buy"
    for name in candidates:
        all_places = (*places, None)
        deeds.append(Deed(f"{verb} {name}", (*owned, name), all_places, name))
    for sold, label in _told_apart(brief.owned).items():
        rest = [place for place in places if place != sold]
        for name in candidates:
            if name != owned[sold]:
                machines = (*(owned[place] for place in rest), name)
                said = f"replace {label} by {name}"
                deeds.append(Deed(said, machines, (*rest, None), name, sold))
    return deeds


def _told_apart(owned):
    """Return {place: name} of the owned rigs, of those alike in all the first alone."""
    found = {}
    for place, rig in enumerate(owned):
        if rig not in owned[:place]:
            n = sum(other.machine == rig.machine for other in owned[: place + 1])
            found[place] = rig.machine if n == 1 else f"{rig.machine} ({n})"
    return found


def _planned(evaluation, by_people, deed, multiple=0):
    shared = rigs(evaluation, by_people, deed.machines, deed.places)
    return best_plan(evaluation, shared, multiple)


def _choice(evaluation, by_people, deed, kept):
    """Return the Choice of a deed against what is kept."""
    is_kept = kept is not None and deed.name == KEEP
    plan = kept if is_kept else _planned(evaluation, by_people, deed)
    added = plan.year_result - (kept.year_result if kept else 0.0)
    paid = _new_upfront(evaluation, deed) - _worth_sold(evaluation, deed)[0]
    settled = _loan_settled(evaluation, deed)
    return Choice(
        deed=deed,
        jobs=tuple(job.name for job in evaluation.brief.work),
        plan=plan,
        added_result=added,
        added_upfront=paid,
        settled=settled,
        payback_months=float(finance.payback_months(paid, added)) if deed.new else 0.0,
        npv=_npv(evaluation, deed, added, paid),
        flows=_months(evaluation, deed, added, settled),
        stand_in_value=stand_in_value(evaluation, plan),
        raw=_raw(evaluation, plan, paid),
    )


def _npv(evaluation, deed, added, paid):
    """Return the NPV of a change: level years, and what the rigs fetch in the end."""
    business = evaluation.figures[2]
    rate = float(business.discount_rate[0, 0, 0])
    at_end = _end_worth(evaluation, deed)
    flows = finance.cash_flows(paid, added, business.horizon_years, at_end)
    return float(finance.net_present_value(flows, rate))


def _end_worth(evaluation, deed):
    """Return what the new rig fetches after the years, less what the sold one would."""
    resale = evaluation.figures[0].resale
    new = _figure(evaluation, deed.new, resale) if deed.new else 0.0
    return new - _worth_sold(evaluation, deed)[1]


def _figure(evaluation, name, array):
    return float(array[0, evaluation.index(name), 0])


def _new_upfront(evaluation, deed):
    """Return what the new rig costs.

    One like a rig that there is shares part of its accessories, and needs no training.
    """
    if not deed.new:
        return 0.0
    cost = _figure(evaluation, deed.new, evaluation.outcome.upfront)
    if deed.machines.count(deed.new) > 1:
        lines = evaluation.outcome.upfront_lines
        saved = float(evaluation.drawn["brief", "money.alike_rigs_save"][0])
        cost -= saved * _figure(evaluation, deed.new, lines.accessories)
        cost -= _figure(evaluation, deed.new, lines.training)
    return cost


def sale_worth(evaluation, place):
    """Return what the owned rig at a place brings now, in the brief's currency."""
    return _worth_of(evaluation, place)[0]


def _worth_sold(evaluation, deed):
    return (0.0, 0.0) if deed.sold is None else _worth_of(evaluation, deed.sold)


def _worth_of(evaluation, place):
    """Return (what an owned rig brings now, what it would after the years).

    Now as the brief says, else by age on a straight line from its price to the resale
    of its sheet at the horizon, and on to 0; later by the same line, in proportion.
    """
    rig, key = evaluation.brief.owned[place], f"owned.{place}"
    years = evaluation.figures[2].horizon_years
    age = float(evaluation.drawn["brief", f"{key}.age"][0])
    price = _figure(evaluation, rig.machine, evaluation.figures[0].price)
    resale = _figure(evaluation, rig.machine, evaluation.figures[0].resale)
    by_age = finance.straight_line_worth(price, resale, years, age)
    later = finance.straight_line_worth(price, resale, years, age + years)
    if rig.resale is None:
        return float(by_age), float(later)
    now = float(evaluation.drawn["brief", f"{key}.resale"][0])
    return now, now * float(later / by_age) if by_age > 0 else 0.0


def _loan_settled(evaluation, deed):
    key = ("brief", f"owned.{deed.sold}.remaining_loan")
    return float(evaluation.drawn[key][0]) if key in evaluation.drawn else 0.0


def _months(evaluation, deed, added, settled=0.0):
    """Return the cash of a change by the month: (month,), what is added by its demand.

    The new rig is paid for as the brief says; the old one is sold, and its loan
    settled, when the new one is delivered.
    """
    business = evaluation.figures[2]
    if not deed.new:
        return np.zeros(12 * business.horizon_years + 1)
    k = evaluation.index(deed.new)
    upfront = evaluation.outcome.upfront.copy()
    upfront[0, k] = _new_upfront(evaluation, deed)
    payment = payment_of(evaluation.figures[0], business, upfront)
    flows = cash.change_flows(
        payment,
        business.trade,
        added,
        at_delivery=_worth_sold(evaluation, deed)[0] - settled,
        at_end=_end_worth(evaluation, deed),
        horizon_years=business.horizon_years,
    )
    return np.broadcast_to(flows, (1, len(evaluation.names), flows.shape[-1]))[0, k]


def _gap(evaluation, choice):
    """Return what cash and credit lack for a change, 0 or less where they do.

    By the month where the brief tells the terms, else on the day it is paid for.
    """
    if choice.name == KEEP:
        return 0.0
    business = evaluation.figures[2]
    funds = float((business.cash + business.credit)[0, 0, 0])
    need = choice.added_upfront + choice.settled
    if business.payment.way == "lease":
        need = 0.0
    if tells_timing(evaluation.brief):
        k = evaluation.index(choice.deed.new)
        borrowed = _borrowed(evaluation, k)
        need = max(need, borrowed - choice.low_point)
    return need - funds


def _borrowed(evaluation, k):
    """Return the credit that the payments of machine k already use."""
    business = evaluation.figures[2]
    if business.payment.way != "loan":
        return 0.0
    payment = payment_of(evaluation.figures[0], business, evaluation.outcome.upfront)
    paid = (payment.deposit + payment.balance)[0, k, 0]
    return float(evaluation.outcome.upfront[0, k, 0] - paid)


def _raw(evaluation, plan, paid):
    """Return a choice's figure for each criterion: its rigs by their booked days."""
    days = np.stack([rig.of(rig.crew.lived.booked_days) for rig in plan.rigs])
    booked = (plan.served * np.nan_to_num(days)).sum(axis=1)
    weight = booked if booked.sum() > 0 else np.ones(len(booked))
    weight = weight / weight.sum()
    jobs = evaluation.figures[1]
    income = revenue(jobs)[0, 0]
    whole = float((jobs.per_month[0, 0] * income).sum())
    n_jobs = 12 * plan.served.sum(axis=1)
    own = {
        "upfront": paid,
        "year_result": plan.year_result,
        "work_served": float((plan.served * income).sum()) / whole if whole else 0.0,
        "days_lost": float((n_jobs * [rig.days_down for rig in plan.rigs]).sum()),
    }
    figures = np.stack([rig.crew.raw[0, rig.k] for rig in plan.rigs])
    by_days = weight @ np.nan_to_num(figures)
    ids = [criterion.id for criterion in evaluation.criteria]
    return np.array([own.get(name, by_days[c]) for c, name in enumerate(ids)])


def _ranked(evaluation, found, **others):
    """Return the Choices ranked by the evaluation's weights and criteria.

    What a change costs and leaves has a scale of its own; the rest keeps the machines'.
    """
    raw = np.stack([choice.raw for choice in found])
    criteria = evaluation.criteria
    flat_above = [criterion.flat_above for criterion in criteria]
    is_benefit = [criterion.is_benefit for criterion in criteria]
    scale = evaluation.scale.copy()
    fresh = decision_criteria.default_scale(raw, is_benefit, flat_above)
    for c, criterion in enumerate(criteria):
        if criterion.id in MONEY and evaluation.brief.owned:
            scale[c] = fresh[c]
    scores = decision_criteria.scores(raw, scale, flat_above)
    weights = evaluation.weights
    sums = ranking.weighted_sum(scores, weights)
    closeness = ranking.topsis(scores, weights, np.ones(len(criteria), bool)).closeness
    return Choices(
        evaluation=evaluation,
        choices=tuple(found),
        scale=scale,
        scores=scores,
        weighted_sum=sums,
        topsis=closeness,
        rank_weighted_sum=ranking.ranks(sums),
        rank_topsis=ranking.ranks(closeness),
        **others,
    )


def break_even(found, choice):
    """Return the BreakEven of a change, the work planned anew at each multiple of it.

    From how much work it pays is read off a straight line over a fiftieth of today's
    work. The price counts with the duty, tax and insurance that hang on it.
    """
    evaluation, multiples = found.evaluation, np.array(MULTIPLES)
    added, npv = _by_work(evaluation, choice, multiples)
    bracket = _bracket(multiples, npv)
    work = 0.0 if (npv >= 0).all() else None
    if bracket is not None:
        closer = np.linspace(*bracket, len(multiples))
        worth = _by_work(evaluation, choice, closer)[1]
        ends = _bracket(closer, worth) or bracket
        near = np.isin(closer, ends)
        work = float(np.interp(0.0, worth[near], closer[near]))
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
    deeds = [choice.deed, *_deeds(evaluation.brief, [])[:1]]
    results = [
        [_planned(evaluation, by_people, deed, n).year_result for deed in deeds]
        for n, _ in enumerate(multiples)
    ]
    added = np.array([after - sum(before) for after, *before in results])
    paid = choice.added_upfront
    return added, np.array([_npv(evaluation, choice.deed, x, paid) for x in added])


def _bracket(at, values):
    """Return the two places between which values last rise to 0; None nowhere.

    Examples
    --------
    >>> _bracket(np.array([0.0, 1.0, 2.0]), np.array([-3.0, -1.0, 1.0]))
    (1.0, 2.0)
    >>> _bracket(np.array([0.0, 1.0]), np.array([-3.0, -1.0])) is None
    True
    """
    below = np.flatnonzero(values < 0)
    if not below.size or below[-1] == len(at) - 1:
        return None
    return float(at[below[-1]]), float(at[below[-1] + 1])


def _price_at_zero(evaluation, choice):
    machines, jobs, business = evaluation.figures
    k = evaluation.index(choice.deed.new)
    doubled = outcome(machines._replace(price=2 * machines.price), jobs, business)
    price = float(machines.price[0, k, 0])
    dearer = float((doubled.upfront - evaluation.outcome.upfront)[0, k, 0])
    insured = price * float(business.insurance_share[0, 0, 0])
    lost = -_npv_of_level(business, -insured) + dearer
    found = price * (1 + choice.npv / lost) if lost > 0 else -1.0
    return found if found >= 0 else None


def _resale_at_zero(evaluation, choice):
    if choice.deed.sold is None:
        return None
    business = evaluation.figures[2]
    now, later = _worth_sold(evaluation, choice.deed)
    growth = (1 + float(business.discount_rate[0, 0, 0])) ** business.horizon_years
    for_each = 1 - (later / now / growth if now > 0 else 0.0)
    return now - choice.npv / for_each


def _npv_of_level(business, a_year):
    flows = finance.cash_flows(0.0, a_year, business.horizon_years)
    rate = float(business.discount_rate[0, 0, 0])
    return float(finance.net_present_value(flows, rate))


def verdict(found):
    """Return in one or two sentences which choice comes first, and what it changes."""
    best = found.choices[found.order[0]]
    currency = found.evaluation.brief.currency
    deed, _, what = best.name.partition(" ")
    said = f"{DEEDS[deed]} {what} comes first"
    if best.name == KEEP:
        return f"{said}: no change leaves more for what it costs and what else matters."
    added = figure(best.added_result, f"{currency}/year")
    paid = figure(best.added_upfront, currency)
    months = figure(best.payback_months, "months")
    now = "keeping what you have" if found.evaluation.brief.owned else "buying nothing"
    apart = f", with {best.plan.n_crews} crews out at once"
    apart = apart if best.plan.n_crews > 1 else ""
    if not best.added_result > 0:
        return (
            f"{said} among the changes, yet none of them leaves more than {now}: "
            f"{added} for {paid} to pay."
        )
    return (
        f"{said}: {added} more than {now}{apart}, for {paid} to pay; at full work that "
        f"is earned back in {months}."
    )


def break_evens_in_words(found, choice, even):
    """Return (what, sentence) pairs: when a change pays for itself."""
    currency = found.evaluation.brief.currency
    today = float(found.evaluation.figures[1].per_month.sum())
    yield "years", _years_said(found, choice)
    if even.work is None:
        most = number(even.multiples[-1] * today, 1)
        yield "work", f"it does not pay, up to {most} jobs a month of all kinds."
    else:
        jobs, share = number(even.work * today, 1), figure(even.work, "share")
        yield "work", f"pays from {jobs} jobs a month, {share} of those there are now."
    if even.price is None:
        yield "price", f"{choice.deed.new} would not pay at any price."
    else:
        far = even.price > FAR * _price(found, choice)
        said = f"{number(FAR)} times what is asked, and more"
        said = said if far else figure(even.price, currency)
        yield "price", f"{choice.deed.new} pays up to a price of {said}."
    if even.resale is not None:
        said = f"pays if the old rig brings {figure(even.resale, currency)} or more."
        yield "sale", said if even.resale > 0 else "pays even if the old rig brings 0."
    if choice.settled:
        owed = figure(choice.settled, currency)
        yield "loan", f"{owed} still owed on the old rig fall due when it is sold."
    low = figure(-choice.low_point, currency)
    yield (
        "cash",
        f"deepest in the red by {low}, in month {choice.low_month} after signing.",
    )


def _years_said(found, choice):
    years = found.evaluation.figures[2].horizon_years
    if choice.payback_months == float("inf"):
        return "never earned back: it adds nothing in a year."
    back = figure(choice.payback_months, "months")
    within = "within" if choice.payback_months <= 12 * years else "not within"
    return f"earned back in {back} at full work, {within} the {years} years looked at."


def _price(found, choice):
    machines = found.evaluation.figures[0]
    return _figure(found.evaluation, choice.deed.new, machines.price)
