"""What if a price, the work, the interest or a sale were another."""

import pytest

from scoring import evaluate
from scoring.questions.changed import (
    Change,
    changed,
    each_changed,
    supposed,
    times_work,
)
from scoring.questions.fleet.change_money import brings, sale_worth
from tests.cases import brief, job, machine

OWNED = "owned: [{machine: Alder, age: 2}, {machine: Birch, age: 1, resale: 900 EUR}]\n"


def both(**more):
    """Return the Evaluation of two small machines."""
    return evaluate(brief(**more), [machine(), machine(name="Birch", price=14000)])


def test_nothing_supposed_changes_nothing():
    """Without changes the figures are the same."""
    base = both()
    again = supposed(base)
    assert again.weighted_sum.tolist() == base.weighted_sum.tolist()
    assert again.scale.tolist() == base.scale.tolist()


def test_a_price_moves_with_its_range_and_only_its_own():
    """At 8 000 instead of 10 000 Alder's ±30 % are of 8 000; Birch stays."""
    base = both(closed="[-0.3, 0, 0.3]")
    found = supposed(base, [Change(("Alder", "price"), likely=8000)])
    price = found.evidence["Alder", "price"]
    assert (price.low, price.likely, price.high) == pytest.approx((5600, 8000, 10400))
    assert found.evidence["Birch", "price"].likely == 14000
    assert found.told.outcome.upfront[0, :, 0].tolist() == pytest.approx([8000, 14000])


def test_a_price_where_none_was_asked():
    """A machine that costs nothing may be supposed to cost something."""
    free = machine(("price: 10000 EUR", "price: 0 EUR"))
    found = supposed(
        evaluate(brief(), [free]), [Change(("Alder", "price"), likely=500)]
    )
    assert found.outcome.upfront.item() == 500


def test_all_work_is_multiplied():
    """Half of 4 and of 2 jobs a month are 2 and 1."""
    base = evaluate(brief(job(), job(name="door", per_month=2)), [machine()])
    found = supposed(base, times_work(base, 0.5))
    assert found.figures.jobs.per_month[0, 0].tolist() == pytest.approx([2, 1])


def test_interest_and_what_a_rig_brings():
    """12 % without a range; a rig brings 700 whether a sum was told or not."""
    base = both(more=OWNED)
    rate = Change(("brief", "money.discount_rate"), known=0.12)
    found = supposed(base, [rate, brings(base, 0, 700), brings(base, 1, 800)])
    assert found.figures.buyer.discount_rate.item() == pytest.approx(0.12)
    assert found.drawn["brief", "owned.0.resale"].item() == 700
    assert found.drawn["brief", "owned.1.resale"].item() == 800


def test_what_a_rig_brings_is_told_in_the_briefs_currency():
    """4 000 are 4 000 EUR where the brief's own sum is in dollars."""
    owned = "owned: [{machine: Alder, age: 2, resale: 6000 USD}]\n"
    more = f"{owned}exchange: {{USD: 0.5 EUR}}\n"
    base = both(more=more)
    found = supposed(base, [brings(base, 0, 4000)])
    assert sale_worth(found, 0) == 4000


def test_one_run_says_what_the_evaluation_of_the_change_says():
    """Prices, work and interest at once: the door's Run and an Evaluation agree."""
    base = both()
    changes = [
        Change(("Alder", "price"), likely=8000),
        Change(("brief", "money.discount_rate"), known=0.2),
        *times_work(base, 1.5),
    ]
    run, again = changed(base, changes), supposed(base, changes)
    assert run.raw[0] == pytest.approx(again.raw)
    assert run.npv[0] == pytest.approx(again.expected.npv[0])


def test_each_alternative_is_a_draw_of_its_own():
    """Prices of 8 000 and 9 000, and nothing changed: three draws, Birch as it was."""
    base = both()
    prices = [[Change(("Alder", "price"), likely=x)] for x in (8000, 9000)]
    found = each_changed(base, [*prices, []])
    assert found.outcome.upfront[:, 0, 0] == pytest.approx([8000, 9000, 10000])
    assert found.outcome.upfront[:, 1, 0] == pytest.approx([14000] * 3)


def test_a_plan_is_kept_or_chosen_anew():
    """The plan without a fee is taken; should it cost 5 000, one of 900 saves 4 100."""
    fees = (
        "{name: No plan, fee: 0 EUR/year}",
        "{name: No plan, fee: 0 EUR/year}, {name: Full, fee: 900 EUR/year}",
    )
    base = evaluate(brief(), [machine(fees)])
    dear = [Change(("Alder", "subscription_fees.0.fee"), known=5000.0)]
    kept, anew = changed(base, dear), changed(base, dear, keep_plan=False)
    lost = base.outcome.year.result.item() - kept.outcome.year.result.item()
    saved = anew.outcome.year.result.item() - kept.outcome.year.result.item()
    assert (lost, saved) == pytest.approx((5000, 4100))


def test_a_quote_moves_with_what_it_is_reckoned_at():
    """A seller's 10 000 counts as 10 000..10 500..11 500; of 8 000, 8 400 mid."""
    quoted = ("price: 10000 EUR", "price: {value: 10000 EUR, basis: quoted}")
    base = evaluate(brief(), [machine(quoted)])
    found = changed(base, [Change(("Alder", "price"), likely=8000)])
    ratio = found.outcome.upfront.item() / base.outcome.upfront.item()
    assert ratio == pytest.approx(0.8)


def test_what_is_guessed_of_a_price_moves_with_it():
    """An untold resale is 0..12..30 % of the price: of half the price it is half.

    What it is worth at the end is then half too, by either way of asking.
    """
    silent = machine(("resale: 0 EUR\n", ""))
    base = evaluate(brief(closed="[-0.3, 0, 0.3]"), [silent])
    assert base.evidence["Alder", "resale"].is_unknown
    change = Change(("Alder", "price"), likely=5000)
    found = supposed(base, [change])
    before, after = (each.told.figures.machines.resale.item() for each in (base, found))
    assert before == pytest.approx(0.12 * 10_000)
    assert after == pytest.approx(0.12 * 5_000)
    quick = each_changed(base, [[change]], n_draws=base.n_draws)
    assert quick.npv[0, 0] == pytest.approx(found.expected.npv[0, 0])
