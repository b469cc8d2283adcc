"""Buy now, or learn first: a dynamic programme over months with demand that is learnt.

Jobs a month are Poisson with a rate that nobody knows; what is believed of it is
Gamma(a, b), of mean a/b, which n jobs in t months turn into Gamma(a + n, b + t). Each
month one may buy, for good; work without owning (rent, hire), which shows how many jobs
come; wait, which shows nothing; or stop for good.

Source: DeGroot (1970), Optimal Statistical Decisions, ch. 9 and 12 (conjugate Gamma);
Dixit & Pindyck (1994), Investment under Uncertainty (worth of waiting). From memory.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

BUY, STOP, WAIT = "buy", "stop", "wait"
TAIL = 1e-6  # chance of more jobs in a month than the most that is looked at


class Owning(NamedTuple):
    """What buying costs and leaves; currency."""

    cost: float  # today
    left: float  # of a job
    fixed: float  # a month
    resale: float = 0.0  # at the horizon, bought today; less used, worth more
    capacity: float = np.inf  # jobs a month
    trend: float = 0.0  # of the cost a year; −0.1: a tenth cheaper each year
    start: float = 0.0  # what a slow start costs, whenever one buys; never sold again


class Without(NamedTuple):
    """A way to work without owning; currency."""

    name: str
    left: float  # of a job
    fixed: float = 0.0  # a month in which it is done
    capacity: float = np.inf


class BestPlan(NamedTuple):
    """What is best, from now on; worths are present values in currency."""

    worth: float  # of the best plan
    buy_now: float
    worth_of_waiting: float  # above the better of buying now and not at all; 0 or more
    first: str  # what to do now: BUY, STOP, WAIT or a way's name
    buy_from: np.ndarray  # (months learnt,) fewest jobs that make buying best; −1 none
    chance_bought: float  # within the months to decide
    learning_cost: float  # expected, of the months before buying or stopping; 0 or more


def updated(a, b, n_jobs, n_months):
    """Return (a, b) of the Gamma after so many jobs in so many months.

    Examples
    --------
    >>> updated(2.0, 1.0, 9, 3)
    (11.0, 4.0)
    """
    return a + n_jobs, b + n_months


def jobs_chances(a, b, most):
    """Return the chances of 0..most jobs in a month, the last with all above it.

    Gamma-mixed Poisson: negative binomial with success chance b/(b + 1). With `a` of
    shape (…), of shape (…, most + 1).

    Examples
    --------
    >>> jobs_chances(1.0, 1.0, 2).round(9).tolist()
    [0.5, 0.25, 0.25]
    """
    from scipy.stats import nbinom  # slow to import

    a = np.asarray(a)[..., None]
    chances = nbinom.pmf(np.arange(most + 1), a, b / (b + 1))
    chances[..., -1:] += nbinom.sf(most, a, b / (b + 1))
    return chances


def best_plan(a, b, owning, others, horizon, to_decide, rate=0.0):
    """Return the BestPlan of a buyer who may decide in each of so many months.

    Parameters
    ----------
    a, b : above 0; what is believed of the jobs a month now
    owning : Owning
    others : sequence of Without
    horizon : months that are looked at, 1 or more
    to_decide : months in which buying may still begin, 0 (now or never) to the horizon
    rate : decimal a month

    Raises
    ------
    ScoringError
        If a figure is out of its range.
    """
    _check(a, b, horizon, to_decide, rate)
    most = _most_jobs(a, b)
    table = _States(a, b, owning, tuple(others), horizon, to_decide, rate, most)
    worths = [table.last()]
    for month in range(to_decide - 1, -1, -1):
        worths.append(table.month(month, worths[-1]))
    now = worths[-1]
    buy_now = float(table.buy(0)[0, 0])
    first = table.choices[0, 0, 0]
    bought, cost = table.followed()
    return BestPlan(
        worth=float(now[0, 0]),
        buy_now=buy_now,
        worth_of_waiting=float(now[0, 0] - max(buy_now, 0.0)),
        first=table.names[first],
        buy_from=table.buy_from(),
        chance_bought=bought,
        learning_cost=cost,
    )


def bought_later(a, b, owning, horizon, month, rate=0.0):
    """Return what it is worth today to do nothing for so many months, then to buy.

    Arguments as of `best_plan`; `month` 0 is buying now.
    """
    _check(a, b, horizon, month, rate)
    table = _States(a, b, owning, (), horizon, month, rate, _most_jobs(a, b))
    return float(table.buy(month)[0, 0]) * table.discount**month


class _States:
    """The states: months learnt × jobs seen, month by month, worked back."""

    def __init__(self, a, b, owning, others, horizon, to_decide, rate, most):
        self.owning, self.others, self.most = owning, others, most
        self.horizon, self.to_decide = horizon, to_decide
        self.discount = 1 / (1 + rate)
        self.n_seen = most * to_decide + 1
        self.names = (STOP, BUY, WAIT, *(way.name for way in others))
        shape = (to_decide + 1, to_decide + 1, self.n_seen)
        self.choices = np.zeros(shape, dtype=int)
        self.chances = [
            jobs_chances(*updated(a, b, np.arange(most * t + 1), t), most)
            for t in range(to_decide + 1)
        ]

    def served(self, learnt, capacity):
        """Return jobs expected in a month, at most the capacity: (jobs seen,)."""
        jobs = np.minimum(np.arange(self.most + 1), capacity)
        return self.chances[learnt] @ jobs

    def annuity(self, n_months):
        """Return what 1 at the end of each of so many months is worth now."""
        return float((self.discount ** np.arange(1, n_months + 1)).sum())

    def spread(self, per_learnt):
        """Return (months learnt, jobs seen) of rows of unequal length; 0 elsewhere."""
        out = np.zeros((self.to_decide + 1, self.n_seen))
        for t, row in enumerate(per_learnt):
            out[t, : len(row)] = row
        return out

    def buy(self, month):
        """Return what buying in a month is worth then, by what is known."""
        own, left = self.owning, self.horizon - month
        cost = own.cost * (1 + own.trend) ** (month / 12)
        used = left / self.horizon
        resale = own.cost + (own.resale - own.cost) * used
        resale = min(resale, cost) * self.discount**left - own.start
        annuity = self.annuity(left)
        return self.spread(
            [
                (self.served(t, own.capacity) * own.left - own.fixed) * annuity
                - cost
                + resale
                for t in range(self.to_decide + 1)
            ]
        )

    def last(self):
        """Return the worth in the last month to decide: buy, go on without, or stop."""
        left = self.annuity(self.horizon - self.to_decide)
        ways = [
            self.spread(
                [
                    (self.served(t, way.capacity) * way.left - way.fixed) * left
                    for t in range(self.to_decide + 1)
                ]
            )
            for way in self.others
        ]
        buy = self.buy(self.to_decide)
        nothing = np.zeros_like(buy)
        return self.chosen(self.to_decide, [nothing, buy, nothing, *ways])

    def month(self, month, after):
        """Return the worth in a month, given that of the next."""
        buy = self.buy(month)
        ways = [self.worked(way, after) for way in self.others]
        wait = self.discount * after
        return self.chosen(month, [np.zeros_like(buy), buy, wait, *ways])

    def worked(self, way, after):
        """Return the worth of a month's work without owning, then what is best."""
        rows = []
        for t in range(self.to_decide):
            chances = self.chances[t]
            n_seen = len(chances)
            seen = np.arange(n_seen)[:, None] + np.arange(self.most + 1)
            then = (chances * after[t + 1, np.minimum(seen, self.n_seen - 1)]).sum(1)
            now = self.served(t, way.capacity) * way.left - way.fixed
            rows.append(self.discount * (now + then))
        return self.spread(rows)

    def chosen(self, month, ways):
        """Return the best worth of each state; note which way it is."""
        ways = np.stack(ways)
        self.choices[month] = ways.argmax(axis=0)
        return ways.max(axis=0)

    def buy_from(self):
        """Return by months learnt, in that month, the fewest jobs from which to buy."""
        found = np.full(self.to_decide + 1, -1)
        for t in range(self.to_decide + 1):
            n_seen = len(self.chances[t])
            buys = np.flatnonzero(self.choices[t, t, :n_seen] == 1)
            found[t] = buys[0] if buys.size else -1
        return found

    def followed(self):
        """Return (chance of buying, expected cost of learning) of the best plan."""
        at = np.zeros((self.to_decide + 1, self.n_seen))
        at[0, 0] = 1.0
        bought, cost = 0.0, 0.0
        for month in range(self.to_decide + 1):
            then = np.zeros_like(at)
            for t in range(month + 1):
                lost = [self.lost(t, way) for way in self.others]
                for n in np.flatnonzero(at[t]):
                    way = self.choices[month, t, n]
                    chance = at[t, n]
                    if way == 1:
                        bought += chance
                    elif way == 2:
                        then[t, n] += chance
                    elif way > 2 and month < self.to_decide:
                        cost += chance * lost[way - 3][n] * self.discount ** (month + 1)
                        then[t + 1, n : n + self.most + 1] += (
                            chance * self.chances[t][n]
                        )
            at = then
        return float(bought), float(max(cost, 0.0))

    def lost(self, learnt, way):
        """Return what a month of a way to work is expected to cost: (jobs seen,)."""
        return way.fixed - self.served(learnt, way.capacity) * way.left


def _most_jobs(a, b):
    from scipy.stats import nbinom  # slow to import

    return int(max(nbinom.isf(TAIL, a, b / (b + 1)), 3))


def _check(a, b, horizon, to_decide, rate):
    for name, figure in (("a", a), ("b", b)):
        if not (np.isfinite(figure) and figure > 0):
            raise ScoringError(f"{name}: {figure!r}; more than 0")
    if not 1 <= horizon <= 360 or horizon != int(horizon):
        raise ScoringError(f"horizon: {horizon!r}; 1 to 360 months")
    if not 0 <= to_decide <= min(horizon, 24) or to_decide != int(to_decide):
        raise ScoringError(f"months to decide: {to_decide!r}; 0 to 24, in the horizon")
    if not -0.5 < rate < 1:
        raise ScoringError(f"rate a month: {rate!r}; more than -0.5 and less than 1")
