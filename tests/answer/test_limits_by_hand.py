"""Who is ruled out, left out, and under which plan: small cases worked by hand."""

import pytest

from scoring import evaluate
from scoring.questions.firmness import how_firm
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN

PLAN = "[{name: No plan, fee: 0 EUR/year}]"
TWO = (
    "[{name: No plan, fee: 0 EUR/year}, "
    "{name: Full, fee: 3000 EUR/year, unlocks: [skip_blank]}]"
)


@pytest.mark.parametrize(
    ("limits", "chosen"), [("", "No plan"), ("must_have: [skip_blank]", "Full")]
)
def test_what_must_be_comes_before_money(limits, chosen):
    """A plan that costs 3 000 more is taken where it alone brings what must be."""
    found = evaluate(brief(limits=limits), [machine((PLAN, TWO))])
    assert [plan.name for plan in found.plans[0] if plan.is_chosen] == [chosen]
    assert found.is_ranked.tolist() == [True]
    year = 48 * 500 - (3000 if chosen == "Full" else 0)
    assert found.outcome.year.result.item() == pytest.approx(year)


def test_a_machine_that_is_left_out_has_no_place_in_any_draw():
    """The better of two machines, left out, is first in none; the other in all."""
    both = [machine(name="Alder", price=15000), machine(name="Birch", price=5000)]
    firm = how_firm(evaluate(brief(), both, left_out=("Birch",)), 100)
    assert firm.acceptability.tolist() == [[1.0, 0.0], [0.0, 0.0]]
    assert firm.ruled_out.tolist() == [0.0, 1.0]


@pytest.mark.parametrize(
    ("owned", "is_limit"),
    [("", True), ("owned: [{machine: Alder, age: 2, resale: 3000 EUR}]\n", False)],
)
def test_the_months_rule_out_only_who_owns_nothing(owned, is_limit):
    """9 000 in cash for 10 000: lacking by the month, but not where a rig earns."""
    poor = brief(job(), cash=9000, more=PLAIN + NOW + owned)
    names = [limit.kind for limit in evaluate(poor, [machine()]).limits]
    assert ("low_point" in names) == is_limit


@pytest.mark.parametrize(
    ("lift", "status"),
    [(19, "ranked"), (22, "in_doubt"), (24, "in_doubt"), (30, "out")],
)
def test_a_limit_that_may_not_hold_is_a_doubt(lift, status):
    """One person lifts 25 kg; what is written may be up to 30 % more.

    19 · 1.3 = 24.7 kg at most: no draw breaks it. 22 kg reach 28.6, and more than 25 in
    the top of the range (Beta-PERT over 15.4..28.6: 25 is at 0.73 of it, some 7 %); 24
    kg more often, yet in less than half; 30 kg are too heavy as told.
    """
    found = evaluate(brief(closed="[-0.3, 0, 0.3]"), [machine(lift=lift)])
    assert found.status(0) == ("ruled_out" if status == "out" else status)
    (lifts,) = [limit for limit in found.limits if limit.kind == "lift"]
    # As told is what is written, not a draw of its range.
    assert lifts.told[0, 0] == pytest.approx(lift, abs=1e-9)
    assert found.told.outcome.upfront.item() == pytest.approx(10_000)
