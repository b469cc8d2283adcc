"""What is best to do with the rigs if less of the work comes than is told."""

from scoring.answer.ranking import reweigh
from scoring.questions.changed import supposed, times_work
from scoring.questions.fleet.choices import choices

SHARES = (0.7, 0.8, 0.9)  # of the work


def less_work(evaluation, shares=SHARES):
    """Return [(share, Choices)] of an evaluation, its weights and scale kept.

    Choices of rigs are ranked on their own scale, which does not follow the work.
    """
    found = []
    for share in shares:
        again = supposed(evaluation, times_work(evaluation, share))
        found.append((share, choices(reweighed(again, evaluation))))
    return found


def reweighed(again, evaluation):
    """Return an Evaluation under another one's weights."""
    ids = [criterion.id for criterion in evaluation.criteria]
    return reweigh(again, dict(zip(ids, map(float, evaluation.weights), strict=True)))
