"""Plans for visits as text."""

from textwrap import fill

from scoring.text.layout import WIDTH, cautions_text
from scoring.words.visit import plan_in_words

CAUTIONS_ON_SITE = ("lifting", "assembled", "lamp", "ink", "odour", "mains")


def visits_text(visits):
    """Return the plans, the visit that leaves most first, and the cautions on site."""
    if not visits:
        return "No machine is left within the limits: there is no seller to visit."
    parts = ["Plan for the visits; worths are present values of knowing before paying."]
    for found in visits:
        parts.append("\n".join(fill(said, WIDTH) for said in plan_in_words(found)))
    return "\n\n".join([*parts, cautions_text(CAUTIONS_ON_SITE)])
