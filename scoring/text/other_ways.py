"""Other ways than buying as text."""

from textwrap import fill

from scoring.text.layout import WIDTH, cautions_text
from scoring.words.other_ways import STEADY, steps_in_words, way_in_words


def ways_text(evaluation, ways):
    """Return a line for each way without owning, "" where the brief tells none."""
    if not ways:
        return ""
    lines = [fill(way_in_words(evaluation, way), WIDTH) for way in ways]
    heading = "Besides buying (buying nothing leaves 0):"
    return "\n".join([heading, *lines, fill(STEADY, WIDTH)])


def steps_text(found):
    """Return the steps as text."""
    parts = [found.whole.brief.title]
    parts.append("\n".join(fill(said, WIDTH) for said in steps_in_words(found)))
    parts.append(ways_text(found.whole, found.ways))
    parts.append(cautions_text(("money",)))
    return "\n\n".join(filter(None, parts))
