"""What may matter besides, where a brief asks for it: worked by hand."""

import numpy as np
import pytest

from scoring import evaluate
from scoring.decision.criteria import OPTIONAL, STANDARD
from scoring.words.workings.criteria import working
from tests import cases
from tests.cases import brief, job, machine

USED = ", ".join(f"{criterion.id}: {{use: true}}" for criterion in OPTIONAL)
ASKED = f"criteria: {{{USED}}}\n"


def column(evaluation, name):
    ids = [criterion.id for criterion in evaluation.criteria]
    return evaluation.raw[:, ids.index(name)].tolist()


def test_nobody_meets_them_unasked():
    """A brief that says nothing of them has the standard criteria alone."""
    ids = [criterion.id for criterion in evaluate(brief(), [machine()]).criteria]
    assert ids == [criterion.id for criterion in STANDARD]


def test_asked_for_they_weigh_like_the_others():
    """Without weights, criteria in use share alike, these too; all have steps."""
    evaluation = evaluate(brief(more=ASKED), [machine()])
    shares = dict(
        zip([c.id for c in evaluation.criteria], evaluation.weights, strict=True)
    )
    for criterion in OPTIONAL:
        assert shares[criterion.id] == shares["upfront"] > 0
        steps = working(evaluation, "Alder", criterion.id)
        assert steps[-1].what == "score" and len(steps) >= 3


def test_room_to_grow_by_hand():
    """16 days in 10 can be worked: of 1.6 × the jobs, that share is served.

    48 weeks × 5 days × 50 % are 10 days a month. Eight jobs of a day, 1.6 times, are
    12.8 days: 10/12.8 of the revenue is served. Four jobs, 6.4 days, are served whole.
    """
    short = "width: 2 m"
    for n_jobs, share in ((8, 10 / 12.8), (4, 1.0)):
        work = job(per_month=n_jobs).replace("width: 4 m", short)
        evaluation = evaluate(brief(work, more=ASKED), [machine()])
        assert evaluation.outcome.booked_days.item() == 1
        assert column(evaluation, "room_to_grow") == [pytest.approx(share)]


def test_resale_is_what_the_sheet_tells():
    """1 234 told without a range is 1 234."""
    sheet = machine(("resale: 0 EUR", "resale: 1234..1234 EUR"))
    assert column(evaluate(brief(more=ASKED), [sheet]), "resale") == [1234]


def test_the_chance_that_cash_runs_out_is_counted_over_the_draws():
    """In the demo it is the share of draws whose low point is below what there is."""
    demo = cases.demo("new-entrant")
    more = {
        name: demo.brief.criteria.get(name) for name in demo.brief.criteria
    } | evaluate(brief(more=ASKED), [machine()]).brief.criteria
    asked = demo.brief.model_copy(update={"criteria": more})
    evaluation = evaluate(asked, demo.machines)
    limit = next(limit for limit in evaluation.limits if limit.kind.name == "LOW_POINT")
    found = np.array(column(evaluation, "cash_out"))
    assert ((found > 0.02) & (found < 0.98)).any()
    assert found == pytest.approx(limit.chance[0], abs=1e-12)
