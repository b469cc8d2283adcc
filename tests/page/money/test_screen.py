"""The screen "Money": its figures are the engine's."""

import re

import pytest

from scoring.page.money.months import BEFORE_PAY
from scoring.questions.years import chances, years
from scoring.words.figures import about
from scoring.words.money import does_it_pay, how_paid, low_point
from tests.cases import demo
from tests.page.pages import echo, half_of, markup, opened, shown


@pytest.fixture
def money(half):
    """The screen Money on the first brief, with half of the machines."""
    return opened("money", folds=("months",))


def test_money_opens_on_the_leader_with_the_engines_figures():
    """Low point and present value of the demo's leader are those of `years`."""
    money, evaluation = opened("money"), demo("new-entrant")
    found = years(evaluation)
    leader = evaluation.order[0]
    said = shown(money)
    assert does_it_pay(found, leader) in said
    for sentence in how_paid(found, leader):
        assert sentence in said
    assert low_point(found, leader) in said
    assert about(found.worth.npv[0, leader], "EUR") in said
    assert "before tax, after your own pay" in said


def test_a_year_before_own_pay_is_called_so(money):
    """The column holds the year before own pay, larger than what the year leaves."""
    evaluation = half_of()
    leader = evaluation.order[0]
    tables = re.findall(r"<table>(.*?)</table>", markup(money), re.DOTALL)
    (table,) = (one for one in tables if BEFORE_PAY in one)
    column = re.findall(r"<th[^>]*>(.*?)</th>", table.partition("</thead>")[0])
    row = table.partition(f">{evaluation.names[leader]}<")[2].partition("</tr>")[0]
    cells = re.findall(r"<td[^>]*>(.*?)</td>", row)
    year = evaluation.outcome.year
    shown_figure = cells[column.index(BEFORE_PAY) - 1]
    assert shown_figure == about(float(year.before_pay[0, leader, 0]), "EUR")
    assert year.before_pay[0, leader, 0] > year.result[0, leader, 0]


def test_a_lower_price_asked_shows_in_the_months(money):
    """At half its price the leader's money out is less, and the echo says so."""
    before = shown(money)
    slider = money.slider(key="price_asked")
    slider.set_value(slider.min).run()
    assert echo(money)["price_asked"] == slider.min
    assert shown(money) != before
    assert not money.exception


def test_more_work_and_another_interest(money):
    """Twice the work changes the table; so does an interest of 20 %."""
    texts = {shown(money)}
    slider = money.slider(key="work_share")
    slider.set_value(slider.max).run()
    texts.add(shown(money))
    money.slider(key="rate").set_value(20).run()
    texts.add(shown(money))
    assert len(texts) == 3 and not money.exception


def test_every_machine_has_its_money(money):
    """Each machine can be chosen, those that serve nothing too."""
    for name in half_of().names:
        money.selectbox(key="money_machine").set_value(name).run()
        assert not money.exception, name
        assert echo(money)["money_machine"] == name


def test_more_simulated_years_on_demand(money):
    """10,000 years give the engine's own spread."""
    money.session_state["money_tabs"] = "A year"
    money.run()
    money.radio(key="n_years").set_value(10_000).run()
    assert not money.exception
    evaluation = half_of()
    leader = evaluation.order[0]
    for result in chances(evaluation, 10_000).results[:, leader]:
        assert about(float(result), "EUR") in shown(money)
