"""What matters told as an order and in money: the engine's weights, one pill."""

import pytest

from scoring.answer.ranking import reweigh
from scoring.questions.weights_in_money import weights_in_money
from tests.page.pages import half_of, opened, shown, weights

ORDER, MONEY = "put in order", "in money"
pytestmark = pytest.mark.usefixtures("half")


def test_an_order_weighs_as_published():
    """Three picked in order weigh 61, 28 and 11 %, everything else nothing."""
    # Barron & Barrett (1996), rank order centroid for n = 3: 0.6111, 0.2778, 0.1111.
    page = opened("why", folds=("ways",), way_to_tell=ORDER)
    order = ["heaviest_lift", "year_result", "upfront"]
    page.multiselect(key="ways_order").set_value(order).run()
    assert "heaviest lift 61 %" in shown(page)
    page.button(key="ways_by_order").click().run()
    assert not page.exception
    found = weights(page)
    assert [found[name] for name in order] == [61, 28, 11]
    assert sum(found.values()) == 100
    assert "heaviest lift  61.1 % " in shown(page)


def test_an_order_is_one_pill_that_is_taken_back():
    """All screens name it as one what-if; one touch brings the brief's weights back."""
    page = opened("why", folds=("ways",), way_to_tell=ORDER)
    before = weights(page)
    page.multiselect(key="ways_order").set_value(["odour", "support"]).run()
    page.button(key="ways_by_order").click().run()
    page.switch_page("scoring/page/money/screen.py").run()
    assert not page.exception
    assert "weights by your order" in page.button(key="undo_weights").label
    assert "Supposed: weights by your order." in shown(page)
    page.button(key="undo_weights").click().run()
    page.switch_page("scoring/page/why/screen.py").run()
    assert weights(page) == pytest.approx(before)


def test_worths_in_money_come_back_as_they_were_typed():
    """95 a year for a kilogram, typed with a comma: the weights then say 95,50."""
    page = opened("why", folds=("ways",), way_to_tell=MONEY)
    page.text_input(key="ways_worth_heaviest_lift").set_value("95,50").run()
    page.button(key="ways_by_money").click().run()
    assert not page.exception
    assert (
        "weights by what each is worth in money"
        in page.button(key="undo_weights").label
    )
    told = page.session_state["weights_told"]["points"]
    model = reweigh(half_of(), told)
    by_id = {model.criteria[w.criterion].id: w for w in weights_in_money(model)}
    assert by_id["heaviest_lift"].worth == pytest.approx(95.5)
    # what was left empty keeps what the brief's weights say
    usual = {model.criteria[w.criterion].id: w for w in weights_in_money(half_of())}
    assert by_id["support"].worth == pytest.approx(usual["support"].worth)


def test_what_is_no_sum_is_said_and_changes_nothing():
    """Words and other currencies get a sentence each; no button is there then."""
    page = opened("why", folds=("ways",), way_to_tell=MONEY)
    page.text_input(key="ways_worth_heaviest_lift").set_value("much").run()
    page.text_input(key="ways_worth_support").set_value("20 USD/year").run()
    said = shown(page)
    assert "1 kg less of heaviest lift" in said and "'20 USD/year'" in said
    assert "ways_by_money" not in [b.key for b in page.button]


def test_a_slider_moved_afterwards_is_told_as_ones_own():
    """The pill names the order only while all points stand as it put them."""
    page = opened("why", folds=("ways",), way_to_tell=ORDER)
    page.multiselect(key="ways_order").set_value(["odour", "support"]).run()
    page.button(key="ways_by_order").click().run()
    page.slider(key="weight_odour").set_value(10.0).run()
    page.switch_page("scoring/page/money/screen.py").run()
    assert "order" not in page.button(key="undo_weights").label
