"""Money over the years: cash by the month, and years as they may turn out.

Both start from the average year of the evaluation. The months add what comes late:
delivery, the rise of demand, slow first builds, clients who pay later or not at all, a
loan. The simulated years add chance: when jobs come, and when the machine stops.
"""

from dataclasses import dataclass

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.run import redrawn
from scoring.errors import ScoringError
from scoring.evidence.draws import drawn
from scoring.model.money.served import bookable_days_down
from scoring.model.months import cash, payment, worth
from scoring.model.queue import checked, simulated_year
from scoring.questions.changed import Change, supposed, times_work

N_YEARS = 2_000
PERCENTILES = (10, 50, 90)
SAID = (
    "Low, middle, high: P10, P50, P90 of simulated years with jobs and breakdowns at\n"
    "random. Too little: share of years that lose money, loan or lease paid: by bad\n"
    "luck alone, by not knowing the figures alone, and by both together."
)


@dataclass(frozen=True)
class Years:
    """The months and years of every machine; arrays in the machines' order."""

    evaluation: Evaluation
    payment: payment.Payment
    cash: cash.Cash  # (1, machine, month)
    worth: worth.Worth  # (1, machine)
    funds_gap: np.ndarray  # (machine,) what cash and credit lack at the low point
    instalments_a_year: np.ndarray  # (machine,) of a loan or lease, in its first


@dataclass(frozen=True)
class YearChances:
    """Simulated years of every machine: (percentile, machine) or (machine,)."""

    n_years: int
    seed: int
    results: np.ndarray  # (percentile, machine) the year's result
    turned_away: np.ndarray  # jobs a year, mean
    days_idle: np.ndarray  # of the diary, mean
    backlog_weeks: np.ndarray  # (percentile, machine) mean backlog of a year
    # Chance that a year, loan or lease paid, loses money; (machine,)
    shortfall: np.ndarray  # by luck and by not knowing the figures together
    shortfall_by_luck: np.ndarray  # of simulated years, the figures as expected
    shortfall_by_figures: np.ndarray  # of the average years of the draws


def years(evaluation):
    """Return the Years of an evaluation: the months to expect.

    The low point is the mean of the draws' own, which is lower than that of the mean
    curve: not every draw is lowest in the same month.
    """
    business = evaluation.figures.buyer
    found = evaluation.expected.months
    instalment = np.broadcast_to(
        found.payment.instalment, evaluation.outcome.upfront.shape
    )
    of_curve = worth.worth(found.cash, business.discount_rate[..., 0])
    return Years(
        evaluation=evaluation,
        payment=found.payment,
        cash=found.cash,
        worth=of_curve._replace(low_point=found.lowest),
        funds_gap=np.maximum(-found.lowest - found.funds, 0.0)[0],
        instalments_a_year=np.minimum(12, found.payment.n_instalments)
        * instalment[0, :, 0],
    )


def if_wrong(found):
    """Return {what goes wrong: its Years}, as it stands first.

    None where the months cannot tell: a delivery beyond the years looked at.
    """
    cases = ("half_work", "late_delivery", "late_clients", "all")
    return {"as_told": found} | {case: gone_wrong(found, case) for case in cases}


def gone_wrong(found, case):
    """Return the Years in which one thing goes wrong, or "all"; None as `if_wrong`."""
    evaluation = found.evaluation
    half = times_work(evaluation, 0.5)
    delivered = [Change(("brief", "payment.delivery_months"), later=3.0)]
    paid = [Change(("brief", "trade.days_to_pay"), later=60.0)]
    changes = {
        "half_work": half,
        "late_delivery": delivered,
        "late_clients": paid,
        "all": [*half, *delivered, *paid],
    }[case]
    try:
        return years(supposed(evaluation, changes))
    except ScoringError:
        return None


def chances(evaluation, n_years=N_YEARS, seed=1, on_progress=None):
    """Return the YearChances: full, learned years with jobs and stoppages at random.

    The loan's instalments are those of `years`. Work is first come first served here:
    where days run short, must-serve work has no priority, nor has what leaves most.
    """
    lived, (machines, jobs, business) = evaluation.outcome, evaluation.figures
    shape = lived.can_do.shape
    is_done = lived.can_do & ~lived.year.is_declined
    booked = np.where(is_done, lived.booked_days, np.nan)[0]
    trade = evaluation.brief.trade
    found = simulated_year.simulate(
        per_month=np.broadcast_to(jobs.per_month, shape)[0, 0],
        booked_days=booked,
        contribution=np.where(is_done, lived.contribution, np.nan)[0],
        other_lines=(lived.year.result - lived.year.lines.contributions)[0, :, 0],
        jobs_between_stoppages=machines.jobs_between_stoppages[0, :, 0],
        days_down=bookable_days_down(machines, business)[0, :, 0],
        diary=checked.Diary(
            float(business.days_per_week[0, 0, 0]),
            float(business.weeks_per_year[0, 0, 0]),
            float(business.bookable_share[0, 0, 0]),
        ),
        patience_days=float(evaluation.drawn["brief", "trade.patience"][0]),
        seasonality=np.array(trade.seasonality),
        n_years=n_years,
        seed=seed,
        on_progress=on_progress,
    )
    loan = years(evaluation).instalments_a_year
    drawn_years = results_of_draws(evaluation)
    return YearChances(
        n_years=n_years,
        seed=seed,
        results=simulated_year.percentiles(found.result, PERCENTILES),
        turned_away=found.turned_away.sum(axis=-1).mean(axis=0),
        days_idle=found.days_idle.mean(axis=0),
        backlog_weeks=simulated_year.percentiles(found.mean_backlog_weeks, PERCENTILES),
        shortfall=short_of_both(found.result, drawn_years, loan),
        shortfall_by_luck=simulated_year.chance_below(found.result, loan),
        shortfall_by_figures=simulated_year.chance_below(drawn_years, loan),
    )


def results_of_draws(evaluation):
    """Return the average year's result in each draw of the evaluation: (draw, machine).

    What nobody knows of the figures, without luck.
    """
    figures = drawn(
        evaluation.evidence, evaluation.brief, evaluation.seed, 0, evaluation.n_draws
    )
    again, _ = redrawn(evaluation, figures)
    return again.outcome.year.result[..., 0]


def short_of_both(simulated, drawn_years, owed):
    """Return the chance that a year leaves less than is owed, by luck and figures.

    Luck, how a simulated year differs from the mean of them, is taken to be the same
    whatever the figures turn out to be: each year's luck is added to each draw.

    Parameters
    ----------
    simulated : shape (year, machine)
        Results of years with the figures as expected.
    drawn_years : shape (draw, machine)
        Results of average years.
    owed : shape (machine,)

    Examples
    --------
    >>> luck, figures = np.array([[1.0], [-1.0]]), np.array([[0.5], [3.0]])
    >>> short_of_both(luck, figures, np.array([0.0])).tolist()
    [0.25]
    """
    luck = np.sort(simulated - simulated.mean(axis=0), axis=0)
    shares = [
        np.searchsorted(own, least, side="left").mean() / len(own)
        for own, least in zip(luck.T, (owed - drawn_years).T, strict=True)
    ]
    return np.array(shares)
