"""Limits, weights and what is said of them, on small cases worked by hand."""

import pytest

from scoring.answer.evaluation import evaluate
from scoring.answer.ranking import reweigh
from scoring.errors import ScoringError
from scoring.words.ruled_out import reasons
from scoring.words.verdict import disagreement, double_counting, who_leads
from tests.answer.test_evaluation import column, ranked_by
from tests.cases import brief, job, machine


def test_no_machine_at_all_is_a_sentence():
    """Without any sheet there is a sentence, not a traceback."""
    with pytest.raises(ScoringError, match="there is no machine to rank"):
        evaluate(brief(), [])


def test_no_machine_left():
    """Where every machine breaks a limit, each says which and by how much."""
    evaluation = evaluate(
        brief(cash=4000), [machine(), machine(name="Birch", price=7000)]
    )
    assert not evaluation.is_ranked.any()
    assert who_leads(evaluation).startswith(
        "No machine is left: each breaks one of your"
    )
    assert reasons(evaluation, 0) == [
        "It costs 10\u202f000 EUR to your door; cash and loan come to 4\u202f000 EUR. "
        "Smallest change: 6\u202f000 EUR more, or as much off the price."
    ]


def test_all_weight_on_one_criterion_ranks_by_it():
    """With all weight on one criterion, both methods follow its figures alone."""
    machines = [machine(lift=20), machine(name="Birch", lift=12, price=30000)]
    evaluation = ranked_by(["heaviest_lift"], machines)
    assert evaluation.rank_weighted_sum.tolist() == [2, 1]
    assert evaluation.rank_topsis.tolist() == [2, 1]
    # One person lifts 25 kg: 20 kg are 5/25, 12 kg are 13/25 of the way to none.
    assert evaluation.weighted_sum.tolist() == pytest.approx([0.2, 0.52])


def test_a_criterion_on_which_all_are_equal_separates_nothing():
    """It gives every machine the same score, so the order is that of the others."""
    machines = [machine(), machine(name="Birch", price=20000)]
    evaluation = ranked_by(["upfront", "print_quality"], machines)
    scores = evaluation.scores[
        :, [c.id for c in evaluation.criteria].index("print_quality")
    ]
    # 3 of 1..5; 10 000 and 20 000 of the 100 000 there are.
    assert scores.tolist() == pytest.approx([0.5, 0.5])
    assert evaluation.weighted_sum.tolist() == pytest.approx([0.7, 0.65])


def test_the_smallest_change_that_lets_a_heavy_machine_in():
    """30 kg at 25 kg each need a second person: named with what it costs in a year."""
    # Two may lift 2 · 25 · 2/3 = 33.3 kg. Help costs 20 an hour, at least 2 h a call:
    # the whole visit of 205 min is 68.33, two call-outs of 120 min 80. So 68.33 a job,
    # 4 · 12 · 68.33 = 3 280 a year.
    crew = ", hired_help: {allowed: false, rate: 20 EUR/h, minimum: 2 h}"
    evaluation = evaluate(brief(crew=crew), [machine(lift=30), machine(name="Birch")])
    assert reasons(evaluation, 0) == [
        "The heaviest piece lifted by hand is reckoned at 30 kg; one person lifts up "
        "to 25 kg, 5 kg less. Smallest change: a second person on each visit, about "
        "3\u202f280 EUR/year of hired help; or an aid rated for 30 kg, or pieces that "
        "come apart; or 30 kg a person, where an assessment allows so much."
    ]
    allowed = crew.replace("false", "true")
    evaluation = evaluate(
        brief(crew=allowed), [machine(lift=30), machine(name="Birch")]
    )
    assert evaluation.is_ranked.all()
    assert column(evaluation, "year_result")["Alder"] == pytest.approx(24000 - 3280)


def test_must_haves_and_must_serves_rule_out():
    """A missing feature and a kind of job that must be served give their reasons."""
    limits = "must_have: [movable_rail], must_serve: [wall]"
    movable = machine(more="features: [movable_rail]\n")
    smelly = machine(name="Birch", odour=4, more="features: [movable_rail]\n")
    fixed = machine(name="Cedar")
    wall = job(more="    odour_limit: 2\n")
    evaluation = evaluate(brief(wall, limits=limits), [movable, smelly, fixed])
    assert evaluation.is_ranked.tolist() == [True, False, False]
    assert reasons(evaluation, 1) == [
        "It cannot do “wall”, which you must serve: its smell is 2 steps of 6 above "
        "what the client allows. Smallest change: an ink 2 steps of 6 weaker, or the "
        "client's leave."
    ]
    assert reasons(evaluation, 2)[0].startswith(
        "It has no movable rail under any of its"
    )


def test_weighting_what_already_acts_through_money_is_said():
    """Weight on the share of work served beside the money is called counting twice."""
    evaluation = evaluate(brief(), [machine(), machine(name="Birch", price=20000)])
    assert double_counting(evaluation) == ""
    twice = reweigh(evaluation, {"work_served": 0.2})
    assert double_counting(twice) == (
        "Counted twice: share of the work served already acts through "
        "money left over in a year."
    )


def test_new_weights_merge_with_the_briefs():
    """Named weights replace, the rest keep their proportion, and all sum to 1."""
    # Eight criteria weigh 1/8 each; upfront at 1/8 · 9 makes 16/8 in all: 9/16, 1/16.
    evaluation = evaluate(brief(), [machine()], {"upfront": 9 / 8})
    assert evaluation.weights[:8].tolist() == pytest.approx([9 / 16] + [1 / 16] * 7)
    with pytest.raises(ScoringError, match="no criterion is called 'odor'"):
        evaluate(brief(), [machine()], {"odor": 1})
    with pytest.raises(ScoringError):
        evaluate(brief(), [machine()], {"upfront": -1})


def test_a_loser_left_out_still_holds_the_scale():
    """Leaving a machine out hides it and moves no other machine's score."""
    machines = [
        machine(),
        machine(name="Birch", price=12000),
        machine(name="C", lift=24),
    ]
    all_of_them = evaluate(brief(), machines)
    fewer = evaluate(brief(), machines, left_out=["C"])
    assert [fewer.names[k] for k in fewer.order] == ["Alder", "Birch"]
    assert fewer.weighted_sum[:2].tolist() == all_of_them.weighted_sum[:2].tolist()
    assert not fewer.is_ranked[2]


def test_where_the_methods_part_ways_the_reason_is_given():
    """A machine with one large gap ranks lower by nearness than by score."""
    # Three criteria of weight 1/3, from 100 000 EUR, 25 kg and smell 6 to none. Uneven
    # scores (0.9, 0.96, 0) sum to 1.86; even ones (0.55, 0.6, 0.667) to 1.82. The gap
    # of 1 counts squared, so nearness prefers the even one.
    uneven = machine(name="Uneven", price=10000, lift=1, odour=6)
    even = machine(name="Even", price=45000, lift=10, odour=2)
    worst = machine(name="Worst", price=90000, lift=20, odour=6)
    best = machine(name="Best", price=10000, lift=2, odour=1)
    evaluation = ranked_by(
        ["upfront", "heaviest_lift", "odour"], [uneven, even, worst, best]
    )
    k = evaluation.index("Uneven")
    assert evaluation.rank_weighted_sum[k] < evaluation.rank_topsis[k]
    assert "by score and number" in disagreement(evaluation)
