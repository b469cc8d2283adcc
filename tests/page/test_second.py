"""The screen "Second rig": its choices are the engine's."""

import pytest

from scoring.charts.choices import choice_rows
from scoring.questions.changed import Change, supposed, times_work
from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.change_money import brings
from scoring.questions.fleet.choices import choices
from scoring.questions.fleet.ranges import ranges
from scoring.words.figures import about
from scoring.words.fleet import break_evens_in_words, how_sure, not_chosen, which_choice
from tests.cases import demo
from tests.page.pages import half_of, opened, shown


def test_choices_of_rigs_are_the_engines():
    """Verdict and assignment of the second-rig brief are those of `choices`."""
    page = opened("second")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    assert not page.exception
    found = choices(demo("second-rig"))
    said = shown(page)
    assert which_choice(found) in said
    for choice in found.choices:
        assert choice.name in said


def test_a_buyer_without_a_rig_is_told_so():
    """Without owned rigs the screen says that the choices are what to buy first."""
    assert "no rig that you own" in shown(opened("second"))


@pytest.mark.usefixtures("half")
def test_the_second_rigs_sliders_are_the_engines_what_if():
    """Half the work, dearer rigs, 1 000 for the old one: as `supposed` says."""
    page = opened("second")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    page.slider(key="work_share").set_value(50)
    page.slider(key="rigs_price").set_value(150)
    page.slider(key="rigs_brings_0").set_value(1000).run()
    assert not page.exception
    base = half_of("second-rig")
    prices = [
        Change((machine.name, "price"), likely=1.5 * machine.price.likely)
        for machine in base.machines
    ]
    changes = [*prices, *times_work(base, 0.5), brings(base, 0, 1000)]
    found = choices(supposed(base, changes))
    said = shown(page)
    assert which_choice(found) in said
    for choice in found.choices:
        if choice.deed.new:
            assert about(choice.added_upfront, "EUR") in said
    for sentence in not_chosen(found):
        assert sentence in said


@pytest.mark.usefixtures("half")
def test_a_change_says_when_it_breaks_even():
    """A rig more, or in an old one's place: the engine's work, price and cash."""
    page = opened("second")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    found = choices(half_of("second-rig"))
    for deed in ("keep ", "add ", "replace "):  # all of a kind are drawn alike
        choice = next(c for c in found.choices if c.name.startswith(deed))
        page.selectbox(key="choice").set_value(choice.name).run()
        assert not page.exception, choice.name
        if choice.deed.new:
            even = break_even(found, choice)
            for _, sentence in break_evens_in_words(found, choice, even):
                assert sentence in shown(page)


@pytest.mark.usefixtures("half")
def test_each_choice_has_its_range_and_how_often_it_is_best():
    """The sentence is that of `how_sure`, the picture's bars the engine's figures."""
    page = opened("second")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    found = choices(half_of("second-rig"))
    spread = ranges(found)
    assert how_sure(found, spread) in shown(page)
    rows = choice_rows(found, spread)
    assert len(rows) == len(found.choices)
    assert (rows["low"] <= rows["mean"]).all() and (rows["mean"] <= rows["high"]).all()
    assert rows["mean"].is_monotonic_decreasing
