"""Plans for visits as text."""

from textwrap import fill

from scoring.text.layout import WIDTH, cautions_text
from scoring.words.visit import plan_in_words, round_in_words

CAUTIONS_ON_SITE = ("lifting", "assembled", "lamp", "ink", "odour", "mains")
WORTHS = (
    "Worths are present values of knowing before paying, in expected money; a test's "
    "cost has your own minutes in it where the brief tells what your hour is worth."
)


def round_text(found):
    """Return the order of sellers, the plan of each visit, and the cautions on site."""
    if not found.visits:
        return "No machine is left within the limits: there is no seller to visit."
    parts = ["\n".join(fill(said, WIDTH) for said in round_in_words(found))]
    for visit in found.visits:
        parts.append("\n".join(fill(said, WIDTH) for said in plan_in_words(visit)))
    return "\n\n".join([*parts, fill(WORTHS, WIDTH), cautions_text(CAUTIONS_ON_SITE)])
