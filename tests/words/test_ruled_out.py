"""Why a machine is ruled out: what is told, what is to be expected, what mends it."""

import pytest

from scoring.words.figures import about
from scoring.words.ruled_out import reasons
from tests import cases


@pytest.fixture(scope="module")
def entrant():
    """The new entrant's Evaluation; Quillow Sprint costs more than there is."""
    return cases.demo("new-entrant")


def cash_reason(evaluation, name):
    """Return the sentence on what a machine costs to the door."""
    said = reasons(evaluation, evaluation.index(name))
    return next(each for each in said if "to your door" in each)


def test_the_mean_stands_beside_what_is_told(entrant):
    """A limit broken as told is told with what `money` expects, where they differ."""
    k = entrant.index("Quillow Sprint")
    told = about(float(entrant.told.outcome.upfront[0, k, 0]), "EUR")
    mean = about(float(entrant.outcome.upfront[0, k, 0]), "EUR")
    assert told != mean
    assert f"It costs {told} ({mean} on average)" in cash_reason(
        entrant, entrant.names[k]
    )


def test_the_smallest_change_holds_on_average_too(entrant):
    """28 000 of cash and 12 000 of credit: what lacks is counted from the mean."""
    k = entrant.index("Quillow Sprint")
    lacks = float(entrant.outcome.upfront[0, k, 0]) - 40_000
    assert f"Smallest change: {about(lacks, 'EUR')} more" in cash_reason(
        entrant, "Quillow Sprint"
    )
