"""What follows from weights, crew and work as the controls stand."""

from scoring.answer.ranking import reweigh
from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.ranking import block
from scoring.page.state.kept import keep_case
from scoring.page.state.memory import echo_html
from scoring.page.state.weights import points, sliders
from scoring.page.state.work import changed, work_chosen

CANNOT = "These machines cannot be ranked for this work."


def results(base, is_us, on_screen):
    """Return what follows from weights, crew and work; note its Evaluation."""
    people, jobs = work_chosen(base.brief)
    try:
        on_screen["evaluation"] = reweigh(current(base), points(base))
        drawn = block.block(on_screen["evaluation"], is_us)
    except ScoringError as error:
        drawn = text.said(CANNOT, str(error))
    keep_case()
    per_month = {f"jobs_{n}": n_jobs for n, n_jobs in enumerate(jobs)}
    return drawn + echo_html(**sliders(base), **per_month, crew=people)


def current(base):
    """Return the Evaluation with the crew and the work as the controls stand."""
    return changed(base, *work_chosen(base.brief))
