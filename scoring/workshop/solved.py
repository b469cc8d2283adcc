"""A pack run by the engine: who leads for each buyer, how firmly, and what decides."""

from dataclasses import dataclass

import numpy as np

from scoring.answer.evaluation import Evaluation, evaluate
from scoring.answer.preferences import criteria_of
from scoring.answer.run import redrawn
from scoring.decision import ranking
from scoring.decision.criteria import STANDARD
from scoring.decision.drawn_weights import weights_from_uniform
from scoring.decision.shares import chosen, first_order
from scoring.evidence.draws import in_brief_currency

N_DRAWS = 1_000
N_SHARES = 20_000  # of the split of “who leads”
CAUSES = ("the buyer", "prices", "sellers' figures")


@dataclass(frozen=True)
class Solved:
    """One buyer's answer under equal weights; arrays in the order of the letters."""

    title: str
    evaluation: Evaluation
    order: np.ndarray  # (letter,) the place of each letter's machine in the evaluation
    first: np.ndarray  # (letter,) share of draws in which it comes first
    leader: int | None  # the letter's place; None where all are ruled out

    @property
    def ranks(self):
        """The toolkit's ranks, (letter,), those ruled out all last."""
        ranks = self.evaluation.rank_weighted_sum[self.order]
        return np.where(ranks > 0, ranks, (ranks > 0).sum() + 1)

    def days(self, job):
        """Return the days to expect of a kind of job, (letter,), NaN if not served."""
        names = [each.name for each in self.evaluation.brief.work]
        days = self.evaluation.outcome.site.days[0][self.order, names.index(job)]
        can = self.evaluation.told.outcome.can_do[0][self.order, names.index(job)]
        return np.where(can, days, np.nan)


def equal_weights(brief):
    """Return {criterion id: weight}: the same for each criterion that is in use."""
    return {each.id: 1.0 * each.in_use for each in criteria_of(brief)}


def solved(pack, n_draws=N_DRAWS):
    """Return the Solved of each buyer of a pack, the sixth last."""
    return tuple(_solved(pack, brief, n_draws) for brief in pack.buyers)


def _solved(pack, brief, n_draws):
    evaluation = evaluate(
        brief,
        pack.machines,
        equal_weights(brief),
        n_draws=n_draws,
        seed=pack.plan.seed,
    )
    names = [pack.plan.letters[letter] for letter in pack.letters]
    order = np.array([evaluation.index(name) for name in names])
    first = first_shares(evaluation)[order]
    ranks = evaluation.rank_weighted_sum[order]
    leader = int(np.argmax(ranks == 1)) if (ranks == 1).any() else None
    return Solved(brief.title, evaluation, order, first, leader)


def first_shares(evaluation):
    """Return the share of draws in which each machine comes first: (machine,)."""
    leads = leaders(evaluation.drawn_scores, evaluation.weights)
    n = len(evaluation.names)
    return chosen(leads, n + 1).mean(axis=0)[:n]


def scores_of_sellers(evaluation):
    """Return scores, (draw, machine, criterion), NaN where ruled out.

    The buyer's own figures are as told in every draw, so that only sellers' vary.
    """
    if "sellers" not in evaluation.found:  # whatever people answer
        evaluation.found["sellers"] = _scores_of_sellers(evaluation)
    return evaluation.found["sellers"]


def _scores_of_sellers(evaluation):
    first = 1 if evaluation.n_draws else 0
    rows = {
        (owner, path): np.full(len(row) - first, row[0])
        if owner == "brief"
        else row[first:]
        for (owner, path), row in evaluation.rows.items()
    }
    drawn = in_brief_currency(rows, evaluation.evidence, evaluation.brief)
    return redrawn(evaluation, drawn)[1]


def leaders(scores, weights):
    """Return the place of who leads in each draw; one past the last where nobody does.

    Parameters
    ----------
    scores : shape (draw, machine, criterion), NaN where ruled out
    weights : shape (criterion,) or (draw, criterion)
    """
    is_out = np.isnan(scores[..., 0])
    totals = ranking.weighted_sum(np.nan_to_num(scores), weights)
    totals = np.where(is_out, -np.inf, totals)
    return np.where(is_out.all(axis=-1), is_out.shape[-1], totals.argmax(axis=-1))


def who_decides(found, seed, prices=None, n_draws=N_SHARES):
    """Return the Shares of “who leads” that buyer, prices and sellers' figures make.

    Parameters
    ----------
    found : sequence of Solved, the buyers that are equally likely
    prices : shape (person, criterion of `STANDARD`), optional
        The weights that people said; left out, all weights are equally likely.
    """
    ids = [each.id for each in STANDARD if each.in_use]
    tables = np.stack([_standard_scores(each.evaluation, ids) for each in found])

    def a_buyer(n, rng):
        return rng.integers(0, len(found), n)

    def a_price(n, rng):
        if prices is None:
            return weights_from_uniform(rng.random((n, len(ids))))
        return np.asarray(prices, float)[rng.integers(0, len(prices), n)]

    def a_draw(n, rng):
        return rng.integers(0, tables.shape[1], n)

    def leads(causes):
        buyer, weights, draw = causes
        places = leaders(tables[buyer, draw], weights)
        return chosen(places, tables.shape[2] + 1)

    rng = np.random.default_rng(seed)
    return first_order(leads, n_draws, [a_buyer, a_price, a_draw], rng)


def _standard_scores(evaluation, ids):
    """Return scores of the standard criteria; one that a buyer ignores scores 0."""
    scores = scores_of_sellers(evaluation)
    own = [criterion.id for criterion in evaluation.criteria]
    standard = np.zeros((*scores.shape[:2], len(ids)))
    for k, name in enumerate(ids):
        if name in own:
            standard[..., k] = scores[..., own.index(name)]
    standard[np.isnan(scores[..., 0])] = np.nan
    return standard
