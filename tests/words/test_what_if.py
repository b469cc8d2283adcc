"""What is supposed, in words."""

from scoring.words import what_if
from tests import cases


def test_each_supposition_is_a_few_words():
    """Crew, jobs, all work, prices, interest and weights, as a buyer would say them."""
    assert what_if.crew(1) == "alone"
    assert what_if.crew(3) == "a crew of 3"
    job = cases.brief(cases.job(name="wall")).work[0]
    assert what_if.jobs(job, 2.5) == "wall 2.5 a month"
    assert what_if.all_work(50) == "50 % of the work"
    assert what_if.price("Alder", 9000, "EUR") == "Alder at 9\u202f000 EUR"
    assert what_if.rate(4.0) == "money earns 4 % a year"
    assert what_if.weights(["smell", "lift"]) == "other weight on smell and lift"
    assert what_if.weights(["a", "b", "c"]) == "3 weights of your own"


def test_nothing_supposed_says_nothing():
    """An empty list is no sentence."""
    assert what_if.supposing([]) == ""
