"""The answer in a few words: told by hand from small machines."""

import pytest

from scoring import evaluate
from scoring.answer.ranking import reweigh
from scoring.charts.squares import hundredths, squares
from scoring.questions.changed import supposed, times_work
from scoring.questions.firmness import how_firm
from scoring.questions.from_jobs import jobs_needed, jobs_to_earn_back
from scoring.questions.years import gone_wrong, years
from scoring.words.can_do import CANNOT, DOES, DOUBTFUL, can_do
from scoring.words.figures import number
from scoring.words.short_answer import short_answer
from tests import cases
from tests.cases import demo

BRIEFS = ("new-entrant", "workshop")


@pytest.mark.parametrize("name", BRIEFS)
def test_the_evaluations_own_draws_say_how_often_each_is_first(name):
    """As the run of a thousand draws with the same seed counts, to the last digit."""
    evaluation = demo(name)
    firm = how_firm(evaluation, 1_000, evaluation.seed)
    assert (evaluation.share_first == firm.first_as_weighed).all()
    other = reweigh(evaluation, {c.id: 1.0 for c in evaluation.criteria})
    again = how_firm(other, 1_000, evaluation.seed)
    assert (other.share_first == again.first_as_weighed).all()


def test_two_machines_alike_share_the_first_place():
    """Each is first in half of the draws; nothing is left over."""
    machines = [cases.machine(), cases.machine(name="Birch")]
    evaluation = evaluate(cases.brief(cases.job()), machines)
    assert evaluation.share_first.tolist() == [0.5, 0.5]


def test_a_price_paid_back_in_five_months_is_told_so():
    """10 000 to pay, 2 000 a month: back in month 5, half the work takes 10 months.

    Ten jobs a month of 200 each; earned back within 60 months of them from fewer.
    """
    evaluation = demo("new-entrant")
    found, k = years(evaluation), evaluation.order[0]
    half = gone_wrong(found, "half_work")
    said = short_answer(evaluation, half, jobs_to_earn_back(evaluation, k))
    assert said.what == f"Buy {evaluation.names[k]}"
    low = -found.worth.low_point[0, k]
    assert said.put_in.startswith("put in up to ")
    told = said.put_in.removeprefix("put in up to ").removesuffix(" EUR")
    assert float(told.replace("\u202f", "")) == pytest.approx(low, rel=0.005)
    curve = found.worth.curve[0, k]  # cash so far: its last rise through 0, by hand
    back = max(m for m, cash in enumerate(curve) if cash < 0) + 1
    assert f"back in month {back}" in said.back
    assert (half.worth.curve[0, k][-1] < 0) == ("never at half the work" in said.back)


@pytest.mark.parametrize("name", BRIEFS)
def test_jobs_to_earn_back_are_those_of_the_table_of_money(name):
    """One figure has one value, whether asked of one machine or of all."""
    evaluation = demo(name)
    k = evaluation.order[0]
    needed = jobs_to_earn_back(evaluation, k)
    assert needed == pytest.approx(jobs_needed(evaluation).to_earn_back[k], rel=1e-9)
    assert (
        f"takes {number(needed, 1)} jobs"
        in short_answer(evaluation, None, needed).needs
    )


def test_where_buying_loses_nothing_is_praised():
    """A machine of a million is not to be bought, and is not “first in” anything."""
    machines = [
        cases.machine(name=name, price=1_000_000) for name in ("Alder", "Birch")
    ]
    brief = cases.brief(cases.job(), cash=9_000_000)
    said = short_answer(evaluate(brief, machines), None, float("inf"))
    assert said.what.startswith("Do not buy yet: Alder, the best, loses money")
    assert said.often == "" and said.back == "not back in these years"
    assert said.needs.endswith("do not earn it back")


def test_no_machine_left_is_said():
    """With 1 EUR no machine is within the limits: nothing else is told."""
    evaluation = evaluate(cases.brief(cases.job(), cash=1), [cases.machine()])
    said = short_answer(evaluation)
    assert said.what == "Do not buy yet: no machine is within your limits"
    assert set(said[1:]) == {""}


def test_cells_say_days_or_why_not():
    """The demo's leader leaves ten centimetres of the café wall; smells are doubts."""
    evaluation = demo("new-entrant")
    jobs = [job.name for job in evaluation.brief.work]
    chances = evaluation.expected.chances.can_do[0]
    for k in evaluation.order:
        for j, cell in enumerate(can_do(evaluation, k)):
            expected = DOES if chances[k, j] >= 0.95 else DOUBTFUL
            kind = CANNOT if chances[k, j] < 0.05 else expected
            assert cell.kind in (kind, "not taken"), (evaluation.names[k], jobs[j])
            assert (cell.kind == DOES) == (cell.why == "")
    thrumble = can_do(evaluation, evaluation.index("Thrumble Lite"))
    cafe = thrumble[jobs.index("café back wall")]
    assert cafe.why == "a strip of 10 cm at the top stays unprinted."


def test_no_reason_tells_an_amount_of_none():
    """“a strip of 0 cm” is no reason: the sentence without the amount stands there."""
    for name in (*BRIEFS, "second-rig"):
        evaluation = demo(name)
        for k in evaluation.order:
            for cell in can_do(evaluation, k):
                assert " 0 cm" not in cell.why and " 0 step" not in cell.why


def test_a_hundred_squares_are_a_hundred():
    """Largest remainders by hand: 1/3 each of three gives 34, 33, 33."""
    import numpy as np

    assert sorted(hundredths(np.full(3, 1 / 3)).tolist()) == [33, 33, 34]
    assert hundredths(np.array([0.006, 0.994])).tolist() == [1, 99]
    firm = how_firm(demo("workshop"), 200, 1)
    assert sum(n for _, n in squares(firm)) == 100


def test_weights_share_what_is_found_of_the_model(monkeypatch):
    """Other weights ask nothing anew of the model; another model does."""
    from scoring.questions import from_jobs

    evaluation = evaluate(cases.brief(cases.job()), [cases.machine()])
    first = jobs_to_earn_back(evaluation, 0)
    ran = []
    real = from_jobs._by_work
    monkeypatch.setattr(
        from_jobs, "_by_work", lambda *asked: ran.append(1) or real(*asked)
    )
    assert jobs_to_earn_back(reweigh(evaluation, {"odour": 1.0}), 0) == first
    assert not ran
    twice = supposed(evaluation, times_work(evaluation, 2.0))
    assert jobs_to_earn_back(twice, 0) == pytest.approx(first, rel=0.05)
    assert ran
