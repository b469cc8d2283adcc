"""A ranking → JSON-ready records."""

from scoring.questions.advice import advice
from scoring.records.plain import plain
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.doubt import why_not_in
from scoring.words.verdict import who_leads
from scoring.words.workings.criteria import unit_of

RANK_CAUTIONS = ("money", "lifting", "odour")


def ranking_record(evaluation):
    """Return the ranking as one JSON-ready record, best first, ruled out last."""
    return {
        "machines": [_machine_record(evaluation, k) for k in evaluation.order],
        "advice": advice(evaluation).kind,
        "verdict": who_leads(evaluation),
        "kendall_tau": plain(evaluation.kendall_tau),
        "pareto_front": [
            evaluation.names[k]
            for k in evaluation.order
            if evaluation.is_on_pareto_front[k]
        ],
        "cautions": [*(CAUTIONS[place] for place in RANK_CAUTIONS), DECIDES],
    }


def _machine_record(evaluation, k):
    is_ranked = bool(evaluation.is_ranked[k])
    status = evaluation.status(k)
    return {
        "name": evaluation.names[k],
        "status": status,
        "reasons": why_not_in(evaluation, k),
        "chance_in": plain(evaluation.chance_in[k]),
        "weighted_sum": plain(evaluation.weighted_sum[k]),
        "topsis": plain(evaluation.topsis[k]),
        "rank_weighted_sum": plain(evaluation.rank_weighted_sum[k]) or None,
        "rank_topsis": plain(evaluation.rank_topsis[k]) or None,
        "criteria": {
            criterion.id: {
                "value": plain(evaluation.raw[k, c]),
                "as_told": plain(evaluation.told.raw[0, k, c]),
                "unit": unit_of(evaluation, c),
                **score_record(
                    evaluation.scores[k, c] if is_ranked else None,
                    evaluation.weights[c],
                ),
            }
            for c, criterion in enumerate(evaluation.criteria)
        },
    }


def score_record(score, weight):
    """Return score, weight and their product; null for what is ruled out."""
    return {
        "score": plain(score),
        "weight": plain(weight),
        "contribution": None if score is None else plain(score * weight),
    }
