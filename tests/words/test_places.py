"""What the contributor's guide asks of each criterion, limit and miss is there."""

import pytest

from scoring.answer.limits import LimitKind
from scoring.answer.preferences import natural_ends
from scoring.answer.run import criterion_figures
from scoring.decision.criteria import OPTIONAL, STANDARD
from scoring.model.job.reach import Misses
from scoring.words.firmness import LIMITS
from scoring.words.ruled_out import MISSES, REASONS
from scoring.words.workings.criteria import STEPS
from tests import cases

CRITERIA = {criterion.id: criterion for criterion in (*STANDARD, *OPTIONAL)}


def is_rating(criterion):
    return criterion.derived_from[0].startswith("ratings.")


@pytest.mark.parametrize("name", CRITERIA)
def test_a_criterion_has_its_places(name):
    """A figure, the ends of its scale and steps; a rating has those of all ratings."""
    criterion, demo = CRITERIA[name], cases.demo("workshop")
    told = demo.told
    of = told.figures, told.outcome, told.drawn, demo.expected.months
    figures = criterion_figures([criterion], demo.variants, *of)
    assert figures.shape[1:] == (len(demo.machines), 1), "answer/run.py has no figure"
    if not is_rating(criterion):
        ends = natural_ends(demo.brief, told.figures, slice(0, 1))
        assert name in ends, "no ends in preferences.py"
        assert name in STEPS, "words/workings/criteria.py has no steps"


@pytest.mark.parametrize("kind", LimitKind)
def test_a_limit_has_its_places(kind):
    """A name among the limits, and a sentence with the smallest change."""
    assert kind in LIMITS, "words/firmness.py has no name for it"
    assert kind in REASONS, "words/ruled_out.py has no sentence for it"


@pytest.mark.parametrize("name", Misses._fields)
def test_a_miss_has_its_clause(name):
    """What keeps a machine from a job has its row: why, and the smallest change."""
    assert name in MISSES, "words/ruled_out.py has no row for it"
