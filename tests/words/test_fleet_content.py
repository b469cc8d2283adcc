"""Sentences on a change of rigs say what a hand works out of when it pays."""

from scoring import evaluate
from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.choices import choices
from scoring.words.fleet import break_evens_in_words
from tests.cases import brief, job, machine
from tests.questions.fleet.test_choices import OWNED, WAGE, birch


def said_of(found, is_asked):
    """Return {what: sentence} of the only change that is asked for."""
    (change,) = [choice for choice in found.choices if is_asked(choice)]
    pairs = break_evens_in_words(found, change, break_even(found, change))
    return {what: said.replace("\u202f", " ") for what, said in pairs}


def test_a_second_rig_that_pays_far_beyond_its_price():
    """From 10.5 of 15 jobs, even at three times the price: 102 000 for 10 000 asked."""
    # Each job beyond 10 leaves 340 after wages, 20 400 in 5 years: 10 000 at 10.49.
    asked = brief(job(per_month=15), more=OWNED, people=2, crew=WAGE)
    found = choices(evaluate(asked, [machine(), birch()]))
    said = said_of(found, lambda choice: choice.name == "add Birch")
    assert said["work"] == (
        "pays from 10.5 jobs a month of all kinds; counted here are 15."
    )
    assert said["price"] == "Birch pays even at 3 times the price."
    assert "sale" not in said and "loan" not in said


def test_replacing_like_by_like_pays_by_the_sale_alone():
    """12 000 for one as good as the old, which brings 3 000: neither work nor price."""
    found = choices(
        evaluate(brief(job(per_month=4), more=OWNED), [machine(), birch(price=12000)])
    )
    said = said_of(found, lambda choice: choice.deed.sold is not None)
    assert said["years"] == (
        "never earned back: it adds nothing in a year, or takes from it."
    )
    assert said["work"] == (
        "does not pay up to 8 jobs a month of all kinds; counted here are 4."
    )
    assert said["price"] == "Birch pays up to a price of 3 000 EUR."
    assert said["sale"] == "pays if the old rig brings 12 000 EUR or more."
