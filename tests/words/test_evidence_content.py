"""What an answer rests on, in words, against small briefs by hand."""

from scoring import evaluate
from scoring.text.ranking import ranking_text
from scoring.words.evidence import counted_as_nothing
from tests.cases import brief, job, machine


def test_what_a_brief_leaves_out_and_counts_as_nothing_is_said():
    """A way, a carry and an insurance that nobody told are no good news."""
    far = job(name="far", more="    distance: 12 km\n")
    bare = job(name="near").replace("    carry: 0 min\n", "")
    assert counted_as_nothing(brief(bare, far)) == (
        "Not told in the brief, and counted as nothing: carrying in (near), the way "
        "there (near) and insurance."
    )
    none = brief(bare)
    assert "carrying in (every job)" in counted_as_nothing(none)
    insured = [("money: {", "money: {insurance: 1 %, ")]
    assert counted_as_nothing(brief(far, edits=insured)) == ""
    said = " ".join(ranking_text(evaluate(none, [machine()])).split())
    assert counted_as_nothing(none) in said
