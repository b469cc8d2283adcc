"""The screens Money and Second rig: their figures are the engine's."""

import pytest

from scoring import evaluate, load_brief, load_machines
from scoring.choices import choices, verdict
from scoring.wording import figure
from scoring.years import low_points, years
from tests.page.pages import echo, opened, shown

MACHINES = "profiles/machines"


@pytest.fixture
def money():
    """The screen Money on the first brief."""
    return opened("money")


def entrant():
    """Return the first brief's Evaluation, straight from the engine."""
    return evaluate(
        load_brief("profiles/briefs/new-entrant.yaml"), load_machines(MACHINES)
    )


def test_money_opens_on_the_leader_with_the_engines_figures(money):
    """Low point and present value of the leader are those of `years`."""
    evaluation = entrant()
    found = years(evaluation)
    leader = evaluation.order[0]
    said = shown(money)
    assert low_points(found)[evaluation.names[leader]] in said
    assert figure(found.worth.npv[0, leader], "EUR") in said
    assert "before tax and your own pay" in said


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
    slider = money.slider(key="work_asked")
    slider.set_value(slider.max).run()
    texts.add(shown(money))
    money.slider(key="rate").set_value(20).run()
    texts.add(shown(money))
    assert len(texts) == 3 and not money.exception


def test_every_machine_has_its_money(money):
    """Each machine can be chosen, those that serve nothing too."""
    for name in entrant().names:
        money.selectbox(key="money_machine").set_value(name).run()
        assert not money.exception, name
        assert echo(money)["money_machine"] == name


def test_choices_of_rigs_are_the_engines():
    """Verdict and assignment of the second-rig brief are those of `choices`."""
    page = opened("second")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    assert not page.exception
    evaluation = evaluate(
        load_brief("profiles/briefs/second-rig.yaml"), load_machines(MACHINES)
    )
    found = choices(evaluation)
    said = shown(page)
    assert verdict(found) in said
    for choice in found.choices:
        assert choice.name in said


def test_a_buyer_without_a_rig_is_told_so():
    """Without owned rigs the screen says that the choices are what to buy first."""
    assert "This brief owns no rig" in shown(opened("second"))
