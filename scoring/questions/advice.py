"""Buy, close, or not yet: what the answer amounts to, and the smallest change."""

from dataclasses import dataclass

import numpy as np

from scoring.answer.limits import FUNDS, MUSTS
from scoring.questions.from_jobs import jobs_to_earn_back
from scoring.questions.swings import leader

BUY, CLOSE, NOT_YET = "buy", "close", "not_yet"
BARELY = 0.02  # points; a lead that a change of weights soon undoes; own estimate
SURE = 0.90  # of the draws in which cash has to hold
MOSTLY = 0.5  # of the revenue that nobody has asked for


@dataclass(frozen=True)
class Advice:
    """What to do, by the answer as it stands."""

    kind: str  # BUY, CLOSE or NOT_YET
    k: int | None  # the leader's place; None where no machine is left
    rivals: tuple[int, ...] = ()  # as good as the leader, where it is close
    why: str = ""  # "nothing_left", "loses", "cash", "must" or "guessed"
    # Of the draws, or of the revenue, that `why` speaks of; without one, of the draws
    # in which cash runs out all the same.
    share: float = 0.0
    jobs_needed: float = np.inf  # a month of all kinds, from which it is earned back


def advice(evaluation):
    """Return the Advice of an evaluation.

    To buy, the leader has a present value above 0 by the month, cash that holds in nine
    draws of ten, no must that is in doubt and work that is not mostly guessed.
    """
    k = leader(evaluation)
    if k is None:
        return Advice(NOT_YET, None, why="nothing_left")
    if evaluation.npv[k] <= 0:
        needed = jobs_to_earn_back(evaluation, k)
        return Advice(NOT_YET, k, why="loses", jobs_needed=needed)
    fails = _chance(evaluation, k, FUNDS)
    if fails > 1 - SURE:
        return Advice(NOT_YET, k, why="cash", share=fails)
    doubt = _chance(evaluation, k, MUSTS)
    if doubt > 1 - SURE:
        return Advice(NOT_YET, k, why="must", share=doubt)
    guessed = _guessed(evaluation)
    if guessed > MOSTLY:
        return Advice(NOT_YET, k, why="guessed", share=guessed)
    rivals = tuple(
        other
        for other in evaluation.order
        if other != k
        and evaluation.is_ranked[other]
        and evaluation.weighted_sum[k] - evaluation.weighted_sum[other] < BARELY
        and evaluation.npv[other] > 0
    )
    return Advice(CLOSE if rivals else BUY, k, rivals, share=fails)


def _chance(evaluation, k, kinds):
    """Return the share of draws in which machine k breaks one of some limits, most."""
    chances = [x.of(k).chance for x in evaluation.limits if x.kind in kinds]
    return float(max(chances, default=0.0))


def _guessed(evaluation):
    """Return the share of the revenue of work that nobody has asked for."""
    lived, jobs = evaluation.outcome, evaluation.figures.jobs
    if evaluation.brief.leads_read:
        return 0.0
    paid = (jobs.per_month * lived.contribution_lines.revenue.max(axis=1))[0, 0]
    paid = np.nan_to_num(paid)
    is_guess = np.array([job.basis == "guess" for job in evaluation.brief.work])
    return float(paid[is_guess].sum() / paid.sum()) if paid.sum() > 0 else 0.0
