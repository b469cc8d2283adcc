"""What if a price, the work, the interest or a sale were another."""

import pytest

from scoring import evaluate
from scoring.questions.changed import suppose
from scoring.questions.fleet.change_money import sale_worth
from tests.cases import brief, job, machine

OWNED = "owned: [{machine: Alder, age: 2}, {machine: Birch, age: 1, resale: 900 EUR}]\n"


def both(**more):
    """Return the Evaluation of two small machines."""
    return evaluate(brief(**more), [machine(), machine(name="Birch", price=14000)])


def test_nothing_supposed_changes_nothing():
    """Without changes the figures are the same."""
    base = both()
    again = suppose(base)
    assert again.weighted_sum.tolist() == base.weighted_sum.tolist()
    assert again.scale.tolist() == base.scale.tolist()


def test_a_price_moves_with_its_range_and_only_its_own():
    """At 8 000 instead of 10 000 Alder's ±30 % are of 8 000; Birch stays."""
    found = suppose(both(), prices={"Alder": 8000})
    price = found.evidence["Alder", "price"]
    assert (price.low, price.likely, price.high) == pytest.approx((5600, 8000, 10400))
    assert found.evidence["Birch", "price"].likely == 14000
    assert found.outcome.upfront[0, :, 0].tolist() == pytest.approx([8000, 14000])


def test_a_price_where_none_was_asked():
    """A machine that costs nothing may be supposed to cost something."""
    free = machine(("price: 10000 EUR", "price: 0 EUR"))
    found = suppose(evaluate(brief(), [free]), prices={"Alder": 500})
    assert found.outcome.upfront.item() == 500


def test_all_work_is_multiplied():
    """Half of 4 and of 2 jobs a month are 2 and 1."""
    base = evaluate(brief(job(), job(name="door", per_month=2)), [machine()])
    found = suppose(base, work=0.5)
    assert found.figures.jobs.per_month[0, 0].tolist() == pytest.approx([2, 1])


def test_interest_and_what_a_rig_brings():
    """12 % without a range; a rig brings 700 whether a sum was told or not."""
    found = suppose(both(more=OWNED), rate=0.12, brings={0: 700, 1: 800})
    assert found.figures.buyer.discount_rate.item() == pytest.approx(0.12)
    assert found.drawn["brief", "owned.0.resale"].item() == 700
    assert found.drawn["brief", "owned.1.resale"].item() == 800


def test_what_a_rig_brings_is_told_in_the_briefs_currency():
    """4 000 are 4 000 EUR where the brief's own sum is in dollars."""
    owned = "owned: [{machine: Alder, age: 2, resale: 6000 USD}]\n"
    more = f"{owned}exchange: {{USD: 0.5 EUR}}\n"
    found = suppose(both(more=more), brings={0: 4000})
    assert sale_worth(found, 0) == 4000
