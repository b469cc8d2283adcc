"""Any decision matrix, ranked → a record of plain values."""

import numpy as np

from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.decision.weights import normalise
from scoring.records.plain import plain
from scoring.records.ranking import MachineRecord, RankingRecord, criterion_record


def table_record(table):
    """Return the RankingRecord of any decision matrix.

    Scores are min–max over each column (1 where it is constant); TOPSIS takes the raw
    figures, as the textbooks do.
    """
    matrix, is_benefit = np.array(table.matrix), np.array(table.is_benefit)
    weights = normalise(np.array(table.weights))
    ends = np.stack([matrix.min(axis=0), matrix.max(axis=0)], axis=-1)
    scale = np.where(is_benefit[:, None], ends, ends[:, ::-1])
    scores = scales.scores(matrix, scale) + 0.0  # no −0 in a file
    weighted_sum = ranking.weighted_sum(scores, weights)
    closeness = ranking.topsis(matrix, weights, is_benefit).closeness
    rank_ws, rank_topsis = ranking.ranks(weighted_sum), ranking.ranks(closeness)
    is_on_front = ranking.pareto_front(matrix, is_benefit)
    order = sorted(
        range(len(matrix)), key=lambda k: (rank_ws[k], table.alternatives[k])
    )
    machines = [
        MachineRecord(
            name=table.alternatives[k],
            status="ranked",
            reasons=[],
            chance_in=None,
            weighted_sum=plain(weighted_sum[k]),
            topsis=plain(closeness[k]),
            rank_weighted_sum=plain(rank_ws[k]),
            rank_topsis=plain(rank_topsis[k]),
            criteria={
                name: criterion_record(
                    matrix[k, c], matrix[k, c], "", scores[k, c], weights[c]
                )
                for c, name in enumerate(table.criteria)
            },
        )
        for k in order
    ]
    return RankingRecord(
        machines=machines,
        advice=None,
        verdict=None,
        kendall_tau=plain(ranking.kendall_tau(rank_ws, rank_topsis)),
        pareto_front=[table.alternatives[k] for k in order if is_on_front[k]],
        cautions=[],
    )
