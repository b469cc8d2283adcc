"""Where each machine stands if all that it leaves unknown turns out bad."""

import numpy as np

from scoring.decision import ranking
from scoring.evidence.sheet_figures import is_high_better
from scoring.questions.changed import Change, each_gist, sums_of


def ranks_if_unknowns_turn_out_bad(evaluation):
    """Return each machine's rank if all that it leaves unknown is at the worse end.

    0 where it is ruled out then, or already is.
    """
    changes = []
    for name in evaluation.names:
        worst = []
        for key, figure in evaluation.evidence.items():
            if key[0] == name and figure.is_unknown:
                is_high = is_high_better(figure.path)
                worst.append(Change(key, known=figure.low if is_high else figure.high))
        changes.append(worst)
    sums = sums_of(evaluation, each_gist(evaluation, changes))
    ranks = []
    for k, row in enumerate(sums):
        is_in = np.isfinite(row)
        found = ranking.ranks(row[is_in]) if is_in.any() else []
        place = int(np.flatnonzero(is_in).tolist().index(k)) if is_in[k] else None
        ranks.append(0 if place is None else int(found[place]))
    return ranks
