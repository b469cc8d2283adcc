"""What follows from weights, crew and work as the controls stand."""

from typing import NamedTuple

from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.bar import bar_html
from scoring.page.state.kept import keep_case
from scoring.page.state.memory import echo_html
from scoring.page.state.weights import sliders
from scoring.page.state.work import changed, chosen, weighed
from scoring.page.why import block

CANNOT = "These machines cannot be ranked for this work."


class Places(NamedTuple):
    """Where results are drawn, and the Evaluation that is shown there, once it is."""

    bar: object
    results: object
    on_screen: dict


def draw_results(base, is_us, places):
    """Draw what follows from weights, crew and work; note its Evaluation."""
    choice = chosen(base)
    try:
        model = changed(base, choice)
        places.bar.html(bar_html(base, model))
        places.on_screen["evaluation"] = weighed(model)
        drawn = block.block(places.on_screen["evaluation"], is_us)
    except ScoringError as error:
        drawn = text.said(CANNOT, str(error))
    per_month = {f"jobs_{n}": n_jobs for n, n_jobs in enumerate(choice.jobs)}
    said = echo_html(**sliders(base), **per_month, crew=choice.people)
    places.results.html(drawn + said)
    keep_case()  # last: the disk takes as long as all that is shown


def current(base):
    """Return the Evaluation of all that is supposed, under the brief's weights."""
    return changed(base, chosen(base))
