"""Which work a year is better with: cases worked out by hand in the comments."""

import pytest

from scoring.model.outcome import outcome
from tests.model.builders import business, jobs, machines

ORDERED = {"smallest_order_ml": 1000, "shelf_life_months": 6}
BUYER = business(is_best_first=True)


def test_a_dark_wall_that_does_not_pay_for_a_years_white_is_declined():
    """One small dark job a year leaves 30; the white of a year costs 400."""
    # The smallest order is a litre, good for six months: two litres a year at 0.2 a ml.
    # 12 light jobs use 12 · 6 · 10 = 720 ml of colour, under two litres as well, so the
    # dark job's own colour is ink that would grow too old.
    light = {"per_month": 1, "price_per_m2": 100}
    dark = {"per_month": 1 / 12, "price_per_m2": 9, "has_underbase": True}
    found = outcome(machines(ORDERED), jobs(light, dark), BUYER)
    assert found.contribution[0, 0, 1] == pytest.approx(54 - 6 - 18)
    assert found.year.is_declined[0, 0].tolist() == [False, True]
    # 12 · (600 − 6), less 1 280 ml of colour at 0.1 that grow too old
    assert found.year.result.item() == pytest.approx(12 * 594 - 128)


def test_it_is_served_where_it_pays_for_the_white():
    """At 500 a job it does: 500 for 400 of white, its colour old ink anyway."""
    dark = {"per_month": 1 / 12, "price_per_m2": 500 / 6, "has_underbase": True}
    found = outcome(machines(ORDERED), jobs({"per_month": 1}, dark), BUYER)
    assert not found.year.is_declined.any()
    assert found.year.result.item() == pytest.approx(12 * 600 + 500 - 200 - 400)


def test_a_dark_wall_that_must_be_served_is():
    """Must-serve work is served whatever ink it makes the buyer order."""
    dark = {"per_month": 1 / 12, "price_per_m2": 9, "has_underbase": True}
    work = jobs({"per_month": 1}, dark | {"is_must": True})
    found = outcome(machines(ORDERED), work, BUYER)
    assert found.year.served_per_month[0, 0].tolist() == pytest.approx([1, 1 / 12])


def test_heads_that_age_anyway_make_large_walls_worth_more():
    """A large wall leaves 48 less a day, of which 60 are wear that costs nothing."""
    # A head of 10 000 lasts a year or 2 000 m²: 5 a m². Both jobs take one of 120 days
    # a year. Small: 6 m², 600 less ink 6 less wear 30: 564. Large: 18 m², 624 less ink
    # 18 less wear 90: 516, yet the first 2 000 m² wear nothing that would not age.
    head = {"head_price": 10000, "head_life_m2": 2000, "head_life_months": 12}
    small = {"per_month": 10}
    large = {"per_month": 10, "width_m": 9, "price_per_m2": 624 / 18}
    found = outcome(machines(head, speeds=[(6.0,)]), jobs(small, large), BUYER)
    assert found.contribution[0, 0].tolist() == pytest.approx([564, 516])
    # Up to 2 000 m² a large one is better by 12, from there on a small one by 48: so
    # 18 n + 6 · (120 − n) = 2 000, n = 106.67 large and 13.33 small, less one head.
    large_n = 1280 / 12
    served = 12 * found.year.served_per_month[0, 0]
    assert served.tolist() == pytest.approx([120 - large_n, large_n])
    result = large_n * 606 + (120 - large_n) * 594 - 10000
    assert found.year.result.item() == pytest.approx(result)


def test_cut_alike_nothing_is_chosen():
    """Where the brief cuts all work alike, dark walls are served with the rest."""
    dark = {"per_month": 1 / 12, "price_per_m2": 9, "has_underbase": True}
    work = jobs({"per_month": 1}, dark)
    found = outcome(machines(ORDERED), work, business(is_best_first=False))
    assert not found.year.is_declined.any()
