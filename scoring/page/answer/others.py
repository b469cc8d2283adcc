"""Other ways than buying a new machine, and the steps towards buying."""

from scoring.page import text
from scoring.page.state.folds import fold
from scoring.page.state.shared import shared
from scoring.questions.other_ways import other_ways, steps
from scoring.words.other_ways import STEADY, steps_in_words, ways_in_words

LABEL = "Other ways than buying new, and in which steps"


def other_ways_part(evaluation):
    """Draw what hiring, renting, a used machine or waiting leave, and the steps."""
    fold(LABEL, "other_ways", lambda: _draw(evaluation))


def _draw(evaluation):
    ways = shared("ways", (evaluation,), "", lambda: other_ways(evaluation))
    if not ways:
        text.say(
            "Your case tells of no other way: a hired operator, a rent by the day."
        )
        return
    text.say(*ways_in_words(evaluation, ways))
    found = shared("steps", (evaluation,), "", lambda: steps(evaluation))
    if found is not None:
        text.heading("Buy now, or learn first?")
        text.say(*steps_in_words(found), STEADY)
