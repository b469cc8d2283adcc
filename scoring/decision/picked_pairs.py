"""Weights from picking one of two: what fits all picks, and what to ask next.

Two imaginary machines differ in two criteria alone; which one is picked says on which
side of a plane through the weights the buyer's own lie. What fits all picks is a
polytope; over it linear programmes say how much a machine may lose at most.

Source
------
Minimax regret and the choice of questions: Boutilier, Patrascu, Poupart & Schuurmans
(2006), Constraint-based optimization and utility elicitation using the minimax decision
criterion, Artificial Intelligence 170, 686–713, doi:10.1016/j.artint.2006.02.003; from
memory. Solver: HiGHS through scipy.
"""

from itertools import combinations
from typing import NamedTuple

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import block_diag

FIRST, SECOND, SAME = "first", "second", "same"
ALIKE = 0.1  # within a tenth two machines are "about the same"; own estimate
TINY = 1e-9
LEAST = 1e-4  # what each criterion weighs at least: else a circle of picks fits 0
NEAREST = 0.02  # steps of the level that is offered
PARTS = (0.25, 0.5, 0.75)  # of what fits, on one side of a question
CHAINS, STEPS = 400, 80  # of the walk through all weights that fit


class Offer(NamedTuple):
    """Two imaginary machines, alike but for two criteria.

    The first has the criterion `one` at its best and the `other` at its worst; the
    second has `one` at its worst and the `other` at `level`, a score from 0 to 1.
    """

    one: int
    other: int
    level: float


class Pick(NamedTuple):
    """A Offer and which machine of it is picked: FIRST, SECOND, or SAME for neither."""

    pair: Offer
    says: str


class Standing(NamedTuple):
    """What follows from all picks; points of the score."""

    best: int  # the machine that loses least on average, all that fits as likely
    most_lost: float  # by it, at most
    safest: int  # the machine that loses least at most
    regret: float  # by it, at most: minimax regret, which never rises with more picks
    share: float  # of all that fits for which `best` is the best
    weights: np.ndarray  # (sample, criterion), spread over all that fits


def half_spaces(picks, n_criteria):
    """Return rows r with r · w <= 0 for every weight vector w that fits the picks.

    Shape (row, criterion); two rows where neither is picked.
    """
    rows = []
    for (one, other, level), says in picks:
        for sign, slack in _SIDES[says]:
            row = np.zeros(n_criteria)
            row[one], row[other] = -sign, sign * level * slack
            rows.append(row)
    return np.array(rows).reshape(-1, n_criteria)


# (sign, slack): the first is at least as good where w_one >= level · w_other.
_SIDES = {
    FIRST: ((1.0, 1.0),),
    SECOND: ((-1.0, 1.0),),
    SAME: ((1.0, 1.0 - ALIKE), (-1.0, 1.0 + ALIKE)),
}


def fits(picks, n_criteria):
    """Return whether any weights fit all picks."""
    return (
        largest(np.zeros((1, n_criteria)), half_spaces(picks, n_criteria)) is not None
    )


def largest(goals, rows):
    """Return (largest values, where) of linear goals over the weights that fit.

    All in one linear programme of as many blocks as goals; None where nothing fits.

    Parameters
    ----------
    goals : shape (goal, criterion)
    rows : shape (row, criterion), r · w <= 0

    Returns
    -------
    values : shape (goal,)
    where : shape (goal, criterion)
    """
    n_goals, n_criteria = goals.shape
    limits = {}
    if rows.size:
        limits = {"A_ub": block_diag([rows] * n_goals, format="csr")}
        limits["b_ub"] = np.zeros(n_goals * len(rows))
    ones = block_diag([np.ones((1, n_criteria))] * n_goals, format="csr")
    found = linprog(
        -goals.ravel(), **limits, A_eq=ones, b_eq=np.ones(n_goals), bounds=(LEAST, None)
    )
    if not found.success:
        return None
    where = found.x.reshape(n_goals, n_criteria)
    return (goals * where).sum(axis=1), where


def standing(scores, picks):
    """Return the Standing of machines under all picks; None where nothing fits them.

    Parameters
    ----------
    scores : shape (machine, criterion), 0 to 1
    picks : sequence of Pick
    """
    n, n_criteria = scores.shape
    rows = half_spaces(picks, n_criteria)
    mine, others = _ordered_pairs(n)
    goals = scores[others] - scores[mine] if n > 1 else np.zeros((1, n_criteria))
    found = largest(goals, rows)
    if found is None:
        return None
    weights = all_that_fits(found[1], rows)
    lost = _lost(weights, scores)
    regrets = np.zeros((n, n))
    if n > 1:
        regrets[mine, others] = found[0]
    at_most = regrets.max(axis=1).clip(0.0)
    best, safest = int(lost.mean(axis=0).argmin()), int(at_most.argmin())
    return Standing(
        best=best,
        most_lost=float(at_most[best]),
        safest=safest,
        regret=float(at_most[safest]),
        share=float((lost[:, best] <= TINY).mean()),
        weights=weights,
    )


def next_pair(picks, now, scores):
    """Return the Offer to ask next, None where one machine is best for all that fits.

    Of all pairs of criteria, at levels that part what fits, the one after whose answer
    least is lost on average by the machine that then is best.
    """
    if now is None or now.regret <= TINY:
        return None
    told = {pick.pair for pick in picks}
    pairs = [pair for pair in _parting(now.weights) if pair not in told]
    lost = _lost(now.weights, scores)
    return min(
        pairs, key=lambda pair: _lost_after(pair, now.weights, lost), default=None
    )


def _lost(weights, scores):
    """Return what each machine loses against the best: (sample, machine)."""
    worth = weights @ scores.T
    return worth.max(axis=1, keepdims=True) - worth


def _ordered_pairs(n):
    mine, others = np.indices((n, n)).reshape(2, -1)
    apart = mine != others
    return mine[apart], others[apart]


def _parting(weights):
    """Yield Offers with a quarter or half of the weights on one side of the answers."""
    for one, other in combinations(range(weights.shape[1]), 2):
        ratio = weights[:, one] / np.maximum(weights[:, other], TINY)
        for level in np.quantile(ratio, PARTS):
            if level <= 1:
                yield Offer(one, other, _stepped(level))
            else:
                yield Offer(other, one, _stepped(1 / level))


def _stepped(level):
    steps = round(float(level) / NEAREST)
    return float(np.clip(round(steps * NEAREST, 10), NEAREST, 1.0))


def _lost_after(pair, weights, lost):
    """Return what is lost on average after a pair's answer, weights all as likely."""
    is_first = weights[:, pair.one] >= pair.level * weights[:, pair.other]
    sides = [lost[is_first], lost[~is_first]]
    return sum(side.sum(axis=0).min() for side in sides if len(side)) / len(lost)


def all_that_fits(corners, rows, seed=1):
    """Return weight vectors spread over all that fit, (sample, criterion).

    Parameters
    ----------
    corners : shape (corner, criterion)
        Some that fit; each walk starts between them.
    rows : shape (row, criterion), r · w <= 0

    Source
    ------
    Hit and run: Smith (1984), Operations Research 32, 1296–1308,
    doi:10.1287/opre.32.6.1296; for weights: Tervonen, van Valkenhoef, Baştürk & Postmus
    (2013), European Journal of Operational Research 224, 552–559,
    doi:10.1016/j.ejor.2012.08.026; from memory.
    """
    rng = np.random.default_rng(seed)
    shares = rng.dirichlet(np.ones(len(corners)), CHAINS)
    weights = shares @ corners
    limits = np.vstack([rows, -np.eye(corners.shape[1])])
    least = np.repeat([0.0, LEAST], [len(rows), corners.shape[1]])
    for _ in range(STEPS):
        way = rng.normal(size=weights.shape)
        way -= way.mean(axis=1, keepdims=True)
        slope, room = way @ limits.T, -(weights @ limits.T) - least
        room = np.maximum(room, 0.0)
        is_up, is_down = slope > TINY, slope < -TINY
        safe = np.where(is_up | is_down, slope, 1.0)
        most = np.where(is_up, room / safe, np.inf).min(axis=1)
        lowest = np.where(is_down, room / safe, -np.inf).max(axis=1)
        step = lowest + rng.random(CHAINS) * (most - lowest)
        weights = weights + step[:, None] * way
    weights = np.maximum(weights, 0.0)
    return weights / weights.sum(axis=1, keepdims=True)
