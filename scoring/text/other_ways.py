"""Other ways than buying as text."""

from textwrap import fill

from scoring.text.layout import WIDTH, cautions_text
from scoring.words.other_ways import STEADY, steps_in_words, ways_in_words


def ways_text(evaluation, ways):
    """Return a line for each other way, "" where the brief tells none."""
    if not ways:
        return ""
    lines = [fill(said, WIDTH) for said in ways_in_words(evaluation, ways)]
    heading = "Besides buying new now (buying nothing leaves 0):"
    return "\n".join([heading, *lines, fill(STEADY, WIDTH)])


def steps_text(found):
    """Return the steps as text."""
    parts = [found.whole.brief.title]
    parts.append("\n".join(fill(said, WIDTH) for said in steps_in_words(found)))
    parts.append(ways_text(found.whole, found.ways))
    parts.append(cautions_text(("money",)))
    return "\n\n".join(filter(None, parts))
