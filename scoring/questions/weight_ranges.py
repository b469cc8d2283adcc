"""How far may a weight move while the leader stays first?"""

import numpy as np

from scoring.decision import stability


def stability_of(evaluation):
    """Return how far each weight may move, (criterion, 2); NaN if nobody is ranked."""
    if not evaluation.is_ranked.any():
        return np.full((len(evaluation.criteria), 2), np.nan)
    scores = np.where(evaluation.is_ranked[:, None], evaluation.scores, np.nan)
    return stability.stability(scores, evaluation.weights)
