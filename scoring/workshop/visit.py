"""The seller's day: which envelopes were opened in the time, and what they are worth.

The visit is for a buyer of its own who has not decided: for one who has, nothing is
worth finding out.
"""

from itertools import combinations

from scoring.answer.evaluation import evaluate
from scoring.questions.firmness import how_firm
from scoring.workshop.solved import equal_weights

N_DRAWS = 10_000


def visitors_firmness(pack, n_draws=N_DRAWS):
    """Return the Firmness of the buyer for whom the visit is made."""
    brief = pack.visitor
    evaluation = evaluate(
        brief, pack.machines, equal_weights(brief), seed=pack.plan.seed
    )
    return how_firm(evaluation, n_draws, pack.plan.seed)


def opened(visit, order):
    """Return the Envelopes that are opened in this order before the time is up.

    One that does not fit any more ends the visit.
    """
    left, found = visit.minutes, []
    for place in order:
        envelope = visit.envelopes[place - 1]
        if envelope.minutes > left:
            break
        left -= envelope.minutes
        found.append(envelope)
    return tuple(found)


def worth_found(pack, firm, envelopes):
    """Return what finding out these envelopes' figures is worth, money a year.

    The sum of each figure's own worth to the Firmness's buyer; together they may be
    worth more or less.
    """
    worths = {(each.owner, each.path): each.value for each in firm.worths}
    return sum(
        worths.get((pack.plan.letters[e.letter], e.figure), 0.0) for e in envelopes
    )


def best_worth(pack, firm):
    """Return the most that can be found out in the time there is, money a year."""
    visit = pack.plan.visit
    best = 0.0
    for n in range(1, len(visit.envelopes) + 1):
        for chosen in combinations(visit.envelopes, n):
            if sum(e.minutes for e in chosen) <= visit.minutes:
                best = max(best, worth_found(pack, firm, chosen))
    return best
