"""Two imaginary machines, and what picking one of them comes to, in words."""

from scoring.decision.picked_pairs import FIRST, SAME, SECOND
from scoring.words.figures import about, figure, joined, number
from scoring.words.workings.criteria import unit_of

LOW, HALF = 0.25, 0.5  # scores
SAYS = {FIRST: "the first", SECOND: "the second", SAME: "about the same"}


def offered(evaluation, pair, is_us=False):
    """Return the two machines of a Offer in words.

    Both differences are shown at half their size around the middle, where machines are:
    values are straight lines, so that the choice is the same.
    """
    best, worst = (_at(evaluation, pair.one, x, is_us) for x in (LOW + HALF, LOW))
    less = _at(evaluation, pair.other, LOW, is_us)
    more = _at(evaluation, pair.other, LOW + HALF * pair.level, is_us)
    return f"{best}, but {less}", f"{more}, but {worst}"


def picked_in_words(evaluation, pick, is_us=False):
    """Return a Pick as a sentence."""
    first, second = offered(evaluation, pick.pair, is_us)
    return f"“{first}” or “{second}”: {SAYS[pick.says]}."


def standing_in_words(evaluation, places, now):
    """Return what follows from all picks.

    `places` are the machines that the Standing numbers.
    """
    name = evaluation.names[places[now.best]]
    if now.most_lost <= 0.0005:
        return f"{name} is the best whatever else fits what you picked."
    said = (
        f"{name} is the best for {figure(now.share, 'share')} of all that fits what "
        f"you picked; it is behind by {number(now.most_lost, 2)} points at the most."
    )
    if now.safest != now.best:
        safest = evaluation.names[places[now.safest]]
        said += f" {safest} is behind by {number(now.regret, 2)} at the most."
    return said


def contradiction(evaluation, picks, is_us=False):
    """Return that no weights fit all picks, and which there are."""
    told = joined([picked_in_words(evaluation, each, is_us) for each in picks[-1:]])
    return f"No weights fit all that you picked. Take one back; the last was {told}"


def _at(evaluation, c, score, is_us):
    """Return a criterion's figure at a score in words."""
    worst, best = evaluation.scale[c]
    value = float(worst + score * (best - worst))
    label = evaluation.criteria[c].label
    return f"{label} {about(value, unit_of(evaluation, c), is_us)}"
