"""The verdict says what a hand works out: who, by how much, better in what."""

from scoring import evaluate
from scoring.words.verdict import who_leads
from tests.cases import brief, job, machine
from tests.charts.test_contributions_content import WEIGHED, two


def test_the_leader_is_ahead_in_what_it_is_better_at():
    """Alder 0.625 by the lift, Birch 0.4875 by the price: ahead, better and worse."""
    said = who_leads(two())
    assert "Alder comes first for this work: 0.62 points out of 1, ahead" in said
    assert "ahead of Birch with 0.49." in said
    assert "Better on heaviest lift; worse on cost to your door." in said


def test_a_small_lead_is_called_one():
    """10.0 kg against 10.4 kg, all else alike: 0.0075 points are barely ahead."""
    near = [machine(name="Alder", lift=10), machine(name="Birch", lift=10.4)]
    said = who_leads(evaluate(brief(more=WEIGHED), near))
    assert "barely ahead of Birch" in said


def test_two_alike_share_first_place():
    """Machines that differ in nothing but their names are told as level."""
    sold = brief(job(more="    basis: sold\n"))
    said = who_leads(evaluate(sold, [machine(), machine(name="Birch")]))
    assert "Close: Alder and Birch are as good for you" in said
    assert "Alder and Birch share first place" in said


def test_a_leader_that_loses_money_is_told_so():
    """One job a month at 10 EUR and fixed costs of 3 000: 2 880 are lost in a year."""
    poor = brief(
        job(per_month=1, price=10),
        edits=[("fixed_costs: 0 EUR/year", "fixed_costs: 3000 EUR/year")],
    )
    said = who_leads(evaluate(poor, [machine()])).replace("\u202f", " ")
    assert "the only machine there is" in said
    assert (
        "At this work it would lose 2 880 EUR/year: buying nothing is better." in said
    )
