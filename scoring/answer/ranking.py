"""Weights → weighted sum, nearness to the best, ranks."""

from dataclasses import replace

import numpy as np

from scoring.decision import ranking
from scoring.decision import weights as decision_weights
from scoring.errors import ScoringError


def reweigh(evaluation, weights=None):
    """Return the Evaluation under other weights; the model is not run again."""
    shares = _merged(evaluation, weights or {})
    ranked = np.flatnonzero(evaluation.is_ranked)
    n = len(evaluation.machines)
    weighted_sum, closeness = np.full(n, np.nan), np.full(n, np.nan)
    rank_ws, rank_topsis = np.zeros(n, int), np.zeros(n, int)
    is_on_front = np.zeros(n, bool)
    tau = None
    if ranked.size:
        scores = evaluation.scores[ranked]
        is_benefit = np.ones(scores.shape[1], bool)
        weighted_sum[ranked] = ranking.weighted_sum(scores, shares)
        closeness[ranked] = ranking.topsis_fixed(scores, shares).closeness
        rank_ws[ranked] = ranking.ranks(weighted_sum[ranked])
        rank_topsis[ranked] = ranking.ranks(closeness[ranked])
        counts = shares > 0
        is_on_front[ranked] = ranking.pareto_front(
            scores[:, counts], is_benefit[counts]
        )
        tau = ranking.kendall_tau(rank_ws[ranked], rank_topsis[ranked])
    return replace(
        evaluation,
        weights=shares,
        weighted_sum=weighted_sum,
        topsis=closeness,
        rank_weighted_sum=rank_ws,
        rank_topsis=rank_topsis,
        kendall_tau=tau,
        is_on_pareto_front=is_on_front,
    )


def _merged(evaluation, weights):
    """Return the weights with the named ones replaced, summing to 1."""
    ids = [criterion.id for criterion in evaluation.criteria]
    unknown = sorted(set(weights) - set(ids))
    if unknown:
        raise ScoringError(
            f"weights: no criterion is called {unknown[0]!r}; "
            f"the criteria are {', '.join(ids)}"
        )
    shares = evaluation.weights.copy()
    for name, weight in weights.items():
        shares[ids.index(name)] = weight
    return decision_weights.normalise(shares)
