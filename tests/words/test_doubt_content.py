"""What is said of a limit that may not hold, and of what to expect, worked by hand."""

import re

import pytest
from scipy.stats import beta

from scoring import evaluate
from scoring.words.doubt import doubts
from scoring.words.expected import differs, why_differs
from tests.cases import brief, job, machine

DEAR = ("price: 10000 EUR", "price: 8000..10000..18000 EUR")  # mean 11 000: PERT
SAYS = ("heaviest_lift: 24 kg", "heaviest_lift: {value: 24 kg, basis: quoted}")
SPREAD = "[-0.3, 0, 0.3]"


def sums(text):
    """Return the sums that a sentence names, as numbers."""
    found = re.findall(r"([\d\u202f ]+) EUR", text)
    return [float(re.sub(r"\D", "", each)) for each in found]


def test_a_doubt_about_money_tells_what_is_told_and_what_comes_on_average():
    """10 000 as told, (8 000 + 4 · 10 000 + 18 000)/6 = 11 000 on average, 10 500."""
    found = evaluate(brief(cash=10500), [machine(DEAR)])
    assert found.status(0) == "in_doubt"
    (said,) = [each for each in doubts(found, 0) if "to your door" in each]
    told, average, there = sums(said)
    assert "if all is as told" in said.partition(" on average")[0]
    assert (told, there) == (10000, 10500)
    assert average == pytest.approx(11000, rel=0.02)


@pytest.mark.parametrize(
    ("edits", "who"), [((), "the sheet says 24"), ((SAYS,), "the seller says 24")]
)
def test_who_says_what_is_lifted(edits, who):
    """Of a quoted 24 kg the seller says so, of one that was estimated the sheet."""
    found = evaluate(brief(closed=SPREAD), [machine(*edits, lift=24)])
    assert found.status(0) == "in_doubt"
    assert any(who in said for said in doubts(found, 0))


def test_the_limit_that_breaks_more_often_is_told_first():
    """24 kg of 25, ± 30 %, and 10 000 EUR told of 12 500: two doubts, unlike ones."""
    found = evaluate(brief(cash=12500, closed=SPREAD), [machine(DEAR, lift=24)])
    chances = {limit.kind: limit.chance for limit in found.broken(0)}
    assert len(chances) > 1
    assert list(chances.values()) == sorted(chances.values(), reverse=True)
    often = [int(re.search(r"in (\d+) of 100", s)[1]) for s in doubts(found, 0)]
    assert often == sorted(often, reverse=True) and often[0] > often[-1]


@pytest.mark.parametrize(
    ("value", "told", "is_told"),
    [(109.5, 100, False), (110.5, 100, True), (90.5, 100, False), (89.5, 100, True)],
)
def test_a_tenth_is_one_of_what_is_told(value, told, is_told):
    """Of 100 as told, 9.5 more or less is not worth a word, 10.5 is."""
    assert differs(value, told) is is_told


def test_a_job_that_mostly_can_be_done_is_told_by_how_often_it_cannot():
    """A wall of 2.7 m, half way in a print height of 2..3..3.4 m.

    Beta-PERT is 2 + 1.4 · Beta(1 + 4/1.4, 1 + 4 · 0.4/1.4); scipy's beta says how often
    it lies below the wall's height.
    """
    height = ("max_print_height: 100 m", "max_print_height: 2..3..3.4 m")
    found = evaluate(brief(job(name="hall", height=2.7)), [machine(height)])
    lost = beta(1 + 4 / 1.4, 1 + 4 * 0.4 / 1.4).cdf(0.5)
    (said,) = [each for each in why_differs(found, 0, "year_result") if "hall" in each]
    told = int(re.search(r"in (\d+) of 100", said)[1])
    assert told == pytest.approx(100 * lost, abs=3) and told < 40


def test_a_job_that_can_be_done_after_all_is_told_by_how_often_it_can():
    """Told to print 2.6 m high where it may be 2..2.6..3.4: a wall of 2.7 m."""
    height = ("max_print_height: 100 m", "max_print_height: 2..2.6..3.4 m")
    found = evaluate(brief(job(name="hall", height=2.7)), [machine(height)])
    can = beta(1 + 4 * 0.6 / 1.4, 1 + 4 * 0.8 / 1.4).sf(0.5)
    (said,) = [each for each in why_differs(found, 0, "year_result") if "hall" in each]
    assert "after all" in said
    told = int(re.search(r"in (\d+) of 100", said)[1])
    assert told == pytest.approx(100 * can, abs=3) and told < 48
