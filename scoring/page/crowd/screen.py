"""The screen "Many buyers": for whom each machine is best, for a trainer."""

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.crowd.pictures import pictures
from scoring.page.crowd.sources import asked_for, sent
from scoring.page.state.files import loaded
from scoring.page.state.memory import echo


def main():
    """Draw the screen."""
    files = loaded()
    text.title("Many buyers")
    text.note(
        "For whom is each machine best? Buyers are drawn from a template: a brief, and "
        "how they differ from it."
    )
    population = None
    try:
        population = sent() or asked_for(files)
    except ScoringError as error:
        text.faults("These buyers cannot be worked out.", error)
    if population is not None:
        pictures(population)
    echo(crowd=None if population is None else len(population))


main()
