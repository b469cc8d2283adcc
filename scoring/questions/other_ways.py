"""More than which new machine: hire, rent by the day, buy used, wait; in what order.

The same jobs, clients and hours as with the machine that leads: what differs is who
owns the machine. A steady month, without a slow start; before tax.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.one_machine import of_place
from scoring.decision.waiting import (
    BestPlan,
    Owning,
    Without,
    best_plan,
    bought_later,
)
from scoring.model.money.finance import net_present_value, straight_line_worth
from scoring.model.months.worth import monthly_rate
from scoring.questions.bank_case import alone_with, drawn_months, in_currency
from scoring.questions.changed import Change, rate_of, supposed
from scoring.questions.swings import leader

SURE = 1e-4  # of the mean; demand that spreads less counts as this spread


class OtherWay(NamedTuple):
    """Another way than buying new now, in a full month; money after own pay."""

    name: str
    left_per_job: float
    jobs: float  # a month; 0 where a job leaves nothing
    year_result: float  # the business's fixed costs paid; 0: do not begin
    npv: float  # over the horizon, nothing paid first


@dataclass(frozen=True)
class Steps:
    """What to do first, and from how many paid jobs on to buy."""

    whole: Evaluation
    k: int  # the machine that would be bought
    a: float  # Gamma of the jobs a month
    b: float
    owning: Owning
    ways: tuple[OtherWay, ...]
    plan: BestPlan
    months: int  # in which the decision may be made

    @property
    def name(self):
        return self.whole.names[self.k]


def other_ways(evaluation, k=None):
    """Return the OtherWays that a brief tells, () for none or where no machine is left.

    Parameters
    ----------
    k : place of the machine whose jobs, days and costs are meant; the leader's if None
    """
    k = leader(evaluation) if k is None else k
    also = evaluation.brief.also
    if k is None or not also.model_fields_set:
        return ()
    alone = alone_with(evaluation, k)
    ways = [_steady(evaluation, k, *way) for way in _without(alone)]
    ways += [_used(evaluation, used) for used in also.used]
    if "wait" in also.model_fields_set and also.wait.months:
        ways.append(_later(alone))
    return tuple(ways)


def _used(evaluation, used):
    """Return the OtherWay of a used machine: cheaper, nearer its end, stopping oftener.

    It is worth less at the horizon than a new one, by the line on which that one loses;
    nothing of a warranty is counted for either.
    """
    k = evaluation.index(used.machine)
    alone, name = alone_with(evaluation, k), used.machine
    years = float(of_place(alone.figures.buyer, 0).horizon_years)
    new = of_place(alone.figures.machines, 0)
    price, resale = float(new.price), min(float(new.resale), float(new.price))
    age = used.age.likely
    left = float(straight_line_worth(price, resale, years, years + age))
    paid = in_currency(evaluation, used.price)
    found = supposed(
        alone,
        [
            *_known(alone, name, "price", paid),
            *_known(alone, name, "resale", min(left, paid)),
            *_stopping(alone, name, used.stoppages.likely),
        ],
    )
    work = of_place(found.expected.months.work, 0)
    return OtherWay(
        f"buy {name} used, {age:g} years old",
        float(work.price - work.cost),
        float(found.outcome.year.served_per_month[0, 0].sum()),
        float(of_place(found.outcome.year, 0).result),
        float(found.expected.npv[0, 0]),
    )


def _known(alone, name, path, value):
    key = (name, path)
    if key not in alone.evidence:
        return []
    return [Change(key, known=value / rate_of(alone, key))]


def _stopping(alone, name, often):
    key = (name, "reliability.jobs_between_stoppages")
    return [Change(key, times=1 / often)] if key in alone.evidence else []


def _later(alone):
    """Return the OtherWay of waiting first, then buying the same machine cheaper."""
    months, _ = drawn_months(alone)
    a, b = gamma_of(np.broadcast_to(months.work.jobs, (len(months.npv), 1, 1)))
    owning, buyer = _owning(alone, a, b), of_place(alone.figures.buyer, 0)
    horizon = 12 * int(buyer.horizon_years)
    n = min(alone.brief.also.wait.months, horizon - 1)
    rate = float(monthly_rate(buyer.discount_rate))
    year = alone.outcome.year
    name = f"wait {n} months, then buy {alone.names[0]}"
    jobs = float(year.served_per_month[0, 0].sum())
    npv = bought_later(a, b, owning, horizon, n, rate)
    return OtherWay(name, owning.left, jobs, float(of_place(year, 0).result), npv)


def steps(evaluation, name=None):
    """Return the Steps towards a machine, the leader without a name; None without one.

    What is believed of the jobs a month has the mean and the spread of the draws.
    """
    k = leader(evaluation) if name is None else evaluation.index(name)
    if k is None:
        return None
    alone = alone_with(evaluation, k)
    months, _ = drawn_months(alone)
    jobs = np.broadcast_to(months.work.jobs, (len(months.npv), 1, 1))[:, 0, 0]
    a, b = gamma_of(jobs)
    owning = _owning(alone, a, b)
    without = [way for way, _ in _without(alone)]
    buyer = of_place(alone.figures.buyer, 0)
    n_months = min(alone.brief.also.wait.months, 12 * int(buyer.horizon_years))
    rate = float(monthly_rate(buyer.discount_rate))
    horizon = 12 * int(buyer.horizon_years)
    plan = best_plan(a, b, owning, without, horizon, n_months, rate)
    ways = other_ways(evaluation, k)
    return Steps(evaluation, k, a, b, owning, ways, plan, n_months)


def gamma_of(jobs):
    """Return (a, b) of the Gamma with the mean and variance of draws of jobs a month.

    Examples
    --------
    >>> gamma_of([1.0, 3.0])
    (4.0, 2.0)
    """
    mean = max(float(np.mean(jobs)), 1e-6)
    variance = max(float(np.var(jobs)), SURE * mean**2)
    return mean**2 / variance, mean / variance


def _owning(alone, a, b):
    """Return the Owning whose worth, bought now, is the present value of the months.

    What they tell less than steady months from today on is the cost of a slow start.
    """
    steady, buyer = _steadily_owned(alone), of_place(alone.figures.buyer, 0)
    rate = float(monthly_rate(buyer.discount_rate))
    now = best_plan(a, b, steady, (), 12 * int(buyer.horizon_years), 0, rate).buy_now
    return steady._replace(start=now - float(alone.expected.npv[0, 0]))


def _steadily_owned(alone):
    found = alone.expected.months
    work, running = of_place(found.work, 0), of_place(found.running, 0)
    yearly = running.plan_fee + running.upkeep + running.fixed_costs + running.crew_pay
    return Owning(
        cost=float(of_place(alone.outcome.upfront, 0)),
        left=float(work.price - work.cost + running.upkeep_saved),
        fixed=float(yearly) / 12,
        resale=float(running.resale),
        capacity=_capacity(work),
        trend=-alone.brief.also.wait.cheaper.likely,
    )


def _capacity(work):
    return float(work.days_available / work.days) if work.days > 0 else 0.0


def _without(alone):
    """Yield (Without, jobs a month that are wanted) of each way the brief tells."""
    found, also = alone.expected.months, alone.brief.also
    work, running = of_place(found.work, 0), of_place(found.running, 0)
    fixed = float(running.fixed_costs + running.crew_pay) / 12
    if also.hire is not None:
        price = in_currency(alone, also.hire.per_job)
        left = float(work.price) - price - _pay_off_site(alone)
        yield Without("hire an operator", left, fixed), float(work.jobs)
    if also.rent is not None:
        day = in_currency(alone, also.rent.per_day)
        saved = sum(_mean_cost(alone, line) for line in also.rent.includes)
        left = float(work.price - work.cost) + saved - day * _days_out(work)
        name = "rent by the day"
        yield Without(name, left, fixed, _capacity(work)), float(work.jobs)


def _days_out(work):
    """Return the days that a job's machine is rented: whole ones, one at least."""
    return float(np.ceil(max(float(work.days - work.down_days), 1e-9) - 1e-9))


def _mean_of_jobs(alone, per_job):
    """Return a figure of one job, mean over the jobs of a full month."""
    served = alone.outcome.year.served_per_month[0, 0]
    per_job = np.nan_to_num(np.broadcast_to(per_job, alone.outcome.can_do.shape)[0, 0])
    return float(served @ per_job / served.sum()) if served.sum() > 0 else 0.0


def _mean_cost(alone, line):
    return -_mean_of_jobs(alone, getattr(alone.outcome.contribution_lines, line))


def _pay_off_site(alone):
    """Return the owner's pay for selling, drawing and ordering, which stay theirs."""
    hour = np.nan_to_num(of_place(alone.figures.buyer, 0).own_hour)
    return float(hour) * _mean_of_jobs(alone, alone.figures.jobs.off_site_min) / 60


def _steady(evaluation, k, way, wanted):
    jobs = min(wanted, way.capacity) if way.left > 0 else 0.0
    a_month = jobs * way.left - way.fixed
    buyer = of_place(evaluation.figures.buyer, k)
    flows = np.full(12 * int(buyer.horizon_years) + 1, a_month)
    flows[0] = 0.0
    npv = float(net_present_value(flows, monthly_rate(buyer.discount_rate)))
    return OtherWay(way.name, way.left, jobs, 12 * a_month, npv)
