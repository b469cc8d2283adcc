"""The plan for a visit and the order of sellers, on the demo and by hand."""

from dataclasses import replace

import numpy as np
import pytest

from scoring.answer.ranking import reweigh
from scoring.inputs.visit_tests import trials
from scoring.questions import visit as visits
from scoring.questions.firmness import alternatives
from scoring.questions.visit import planned_round, planned_visit
from scoring.report.visit_tests import TESTS
from scoring.text.visit import round_text
from scoring.words.cautions import CAUTIONS
from scoring.words.visit import plan_in_words, round_in_words
from tests import cases

N = 1_000


@pytest.fixture(scope="module")
def found():
    """The Round of the workshop's brief."""
    return planned_round(cases.demo("workshop"), 90, 120.0, n=4_000)


def test_the_file_tells_of_the_tests_of_the_sheet():
    """The file and the printed sheet hold the same tests in the same order."""
    assert [test.title for test in TESTS] == [trial.title for trial in trials()]
    for trial in trials():
        assert set(trial.cautions) <= set(CAUTIONS)
        told = trial.estimate
        if told is not None:
            assert trial.settles
            assert told.minutes > 0 and told.cost >= 0
            assert told.repeats >= 1 and told.spread > 0


def test_a_plan_of_the_demo_fits_its_minutes():
    """The plan keeps to its minutes, and more of them are never worth less."""
    evaluation = cases.demo("workshop")
    short, long = (
        planned_visit(evaluation, "Corrandale Frame", minutes, 0.0, n=N)
        for minutes in (30, 120)
    )
    for visit in (short, long):
        took = sum(visit.tests[n].estimate.minutes for n in visit.plan.tests)
        assert took <= visit.minutes
    net = [visit.plan.worth - visit.plan.cost for visit in (short, long)]
    assert net[1] >= net[0] - 1e-6


def test_ones_own_minutes_are_not_free():
    """A test costs what is bought for it and what the buyer's own minutes are worth."""
    visit = planned_visit(cases.demo("workshop"), "Corrandale Frame", n=N)
    hour = visit.own_hour
    assert hour > 0
    costs = [
        visit.tests[n].estimate.cost + hour * visit.tests[n].estimate.minutes / 60
        for n in visit.plan.tests
    ]
    assert visit.plan.cost == pytest.approx(sum(costs))


def test_what_is_done_is_left_out():
    """A test that is done is in no plan any more."""
    evaluation = cases.demo("workshop")
    first = planned_visit(evaluation, "Corrandale Frame", n=N).titles[0]
    again = planned_visit(evaluation, "Corrandale Frame", done=[first], n=N)
    assert first not in [trial.title for trial in again.tests]


def test_a_score_in_money_is_the_money_that_makes_it():
    """What gains the whole span of money a year is worth that span, each year."""
    evaluation = cases.demo("workshop")
    (c,) = [n for n, x in enumerate(evaluation.criteria) if x.id == "year_result"]
    worst, best = evaluation.scale[c]
    scores = np.zeros((1, len(evaluation.names), len(evaluation.criteria)))
    first = alternatives(evaluation)[0]
    scores[0, first, c] = 1.0
    scored = visits._scored(
        evaluation, scores, 0.25
    )  # a year's share of what it is now
    assert scored[0, 0] == pytest.approx((best - worst) / 0.25)
    assert not scored[0, 1:].any()


def test_no_worth_by_score_where_money_weighs_nothing():
    """Scores are then no money; the plan tells its worth in money alone."""
    evaluation = cases.demo("workshop")
    again = reweigh(evaluation, {"year_result": 0.0})
    found = planned_visit(again, "Corrandale Frame", n=N)
    assert found.by_score is None
    assert "by score" not in " ".join(plan_in_words(found))


@pytest.mark.parametrize(
    "by_score, said", [(40.0, "by score, less than they"), (512.0, "by score, 512 EUR")]
)
def test_what_tests_are_worth_by_score_is_said(by_score, said, found):
    """Above what the tests cost it is told, else that it is less."""
    visit = replace(found.visits[0], by_score=by_score)
    visit = replace(visit, plan=visit.plan._replace(cost=50.0))
    assert said in " ".join(plan_in_words(visit)).replace("\u00a0", " ")


def test_the_smell_that_loses_the_clients_says_leave(found):
    """A client of the brief allows a smell of 3.5: at 4 of 6 one leaves."""
    visit = next(v for v in found.visits if v.name == "Corrandale Frame")
    (leave,) = [x for x in visit.leave.values() if x.path.startswith("odour.")]
    assert (leave.value, leave.is_above) == (4.0, True)
    assert any("preparing is 4 or more, leave" in said for said in plan_in_words(visit))


def test_sellers_come_by_what_a_visit_may_find(found):
    """The order is that of the reservation values; each solves Weitzman's equation."""
    values = found.search.values
    assert sorted(values, reverse=True) == values.tolist()
    for visit, value in zip(found.visits, values, strict=True):
        cost = visit.visit_cost + visit.plan.cost
        gain = np.maximum(visit.prize - value, 0.0).mean()
        assert gain == pytest.approx(cost, rel=1e-6)
    evaluation = found.visits[0].evaluation
    chosen = {evaluation.names[k] for k in alternatives(evaluation)}
    assert {visit.name for visit in found.visits} == chosen


def test_the_search_leaves_more_than_any_one_visit(found):
    """Looking on where it pays is worth no less than one visit, and take it or not."""
    for visit in found.visits:
        alone = np.maximum(visit.prize, 0.0).mean() - visit.visit_cost
        assert found.search.worth >= alone - visit.plan.cost - 1e-6


def test_a_dear_way_is_not_gone(found):
    """Where the way costs more than any machine can leave, nobody is visited."""
    dear = planned_round(cases.demo("workshop"), 90, 900_000.0, n=N)
    assert dear.search.order == ()
    assert "No seller is worth a visit" in round_in_words(dear)[0]
    assert "Go first to" in " ".join(round_in_words(found))


def test_the_text_says_order_plan_and_cautions(found):
    """The order of sellers, each plan, what worths are, and what can hurt."""
    said = " ".join(round_text(found).split())
    assert "Go first to" in said and "unless what you have seen is worth" in said
    for visit in found.visits:
        assert f"{visit.name}: " in said
    assert "own minutes" in said
    assert " ".join(CAUTIONS["lifting"].split())[:60] in said
