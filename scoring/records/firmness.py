"""Firmness → a JSON-ready record."""

import numpy as np

from scoring.decision import stability
from scoring.questions.best_price import best_buy_price
from scoring.records.plain import plain


def firm_record(firm, questions):
    """Return how firm the answer is, as one JSON-ready record.

    `questions` are those of `findings.questions`, in their order.
    """
    evaluation = firm.evaluation
    intervals = stability_of(evaluation)
    names = [name for name in evaluation.names if name not in evaluation.left_out]

    def by_name(figures):
        return {name: plain(figures[evaluation.index(name)]) for name in names}

    def shares_of(name):
        """Return a machine's share of each place there is for those considered."""
        return firm.acceptability[evaluation.index(name), : len(names)]

    return {
        "draws": firm.n_draws,
        "seed": firm.seed,
        "acceptability": {name: [plain(x) for x in shares_of(name)] for name in names},
        "ruled_out": by_name(firm.ruled_out),
        "confidence": by_name(firm.confidence),
        "expected_year": by_name(firm.mean_result),
        "regret": by_name(firm.regret),
        "money_choice": firm.money_choice,
        "stability": {
            criterion.id: [plain(low), plain(high)]
            for criterion, (low, high) in zip(
                evaluation.criteria, intervals, strict=True
            )
        },
        "break_even_price": {
            name: plain(best_buy_price(evaluation, name)) for name in names
        },
        "find_out": [
            {
                "input": question.path,
                "machine": question.owner,
                "evppi": plain(question.value),
                "error": plain(question.error),
            }
            for question in questions
        ],
        "evpi": plain(firm.evpi),
    }


def stability_of(evaluation):
    """Return how far each weight may move, (criterion, 2); NaN if nobody is ranked."""
    if not evaluation.is_ranked.any():
        return np.full((len(evaluation.criteria), 2), np.nan)
    scores = np.where(evaluation.is_ranked[:, None], evaluation.scores, np.nan)
    return stability.stability(scores, evaluation.weights)
