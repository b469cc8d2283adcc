"""The screen "Answer": what it says is the engine's; what is supposed is shared."""

import re

import pytest

from scoring.questions.changed import Change, supposed
from scoring.questions.find_out import questions
from scoring.questions.firmness import how_firm
from scoring.questions.other_ways import other_ways, steps
from scoring.questions.years import gone_wrong, years
from scoring.words.can_do import can_do
from scoring.words.firmness import first_questions_shortly, most_to_learn
from scoring.words.other_ways import steps_in_words, ways_in_words
from scoring.words.short_answer import short_answer
from scoring.words.verdict import who_leads
from tests.cases import demo
from tests.page.pages import SCREENS, half_of, markup, opened, shown, verdict


def test_opens_with_the_engines_answer():
    """Bar, verdict, grid, questions: the engine's words, for the first brief."""
    page, evaluation = opened("answer"), demo("new-entrant")
    half = gone_wrong(years(evaluation), "half_work")
    short, said = short_answer(evaluation, half), shown(page)
    assert verdict(page) == who_leads(evaluation)
    for told in (short.what, short.often, short.lacks, short.put_in, short.back):
        assert told in said
    assert "An invented example" in said
    for k in evaluation.order:
        if evaluation.is_ranked[k]:
            assert all(cell.why in said for cell in can_do(evaluation, k))
    firm = how_firm(evaluation, 1_000, 1)
    for sentence in first_questions_shortly(firm, questions(firm)):
        assert sentence in said
    assert most_to_learn(firm) in said


@pytest.fixture
def money(half):
    """The screen Money on half of the machines."""
    return opened("money")


def test_a_price_supposed_is_named_everywhere_and_taken_back(money):
    """Set on Money it stands on Answer, in bar and pill; the pill undoes it."""
    name = money.selectbox(key="money_machine").value
    slider = money.slider(key="price_asked")
    slider.set_value(slider.min).run()
    base = half_of()
    change = Change((name, "price"), likely=float(slider.min))
    now = supposed(base, [change])
    for screen in ("answer", "why", "firm", "money"):
        money.switch_page(SCREENS[screen]).run()
        assert not money.exception
        assert f"Supposed: {name} at" in shown(money)
        assert short_answer(now).put_in in shown(money)
    key = f"undo_price_{base.index(name)}"
    money.button(key=key).click().run()
    assert "Supposed:" not in shown(money)
    assert short_answer(base).put_in in shown(money)


def test_each_supposition_has_a_way_back(money):
    """Crew, a kind of job, all work, interest, weights: five pills, undone singly."""
    money.slider(key="work_share").set_value(60)
    money.slider(key="rate").set_value(4.0).run()
    money.switch_page(SCREENS["why"]).run()
    money.slider(key="jobs_0").set_value(3.0)
    money.radio(key="crew").set_value(2)
    money.slider(key="weight_odour").set_value(50.0).run()
    money.switch_page(SCREENS["answer"]).run()
    keys = {"undo_crew", "undo_jobs_0", "undo_work_share", "undo_rate", "undo_weights"}
    assert {b.key for b in money.button if str(b.key).startswith("undo_")} == keys
    for key in sorted(keys):
        money.button(key=key).click().run()
        assert not money.exception
    assert not [b.key for b in money.button if str(b.key).startswith("undo_")]
    assert verdict(money) == who_leads(half_of())


def test_work_of_sixty_per_cent_is_the_engines(money):
    """Jobs set and all work set multiply: 3 a month at 60 % are 1.8, the rest at 60 %.

    The first kind's mean is (0.9 + 4 · 1.7 + 3)/6 a month.
    """
    money.slider(key="work_share").set_value(60).run()
    money.switch_page(SCREENS["why"]).run()
    money.slider(key="jobs_0").set_value(3.0).run()
    money.switch_page(SCREENS["answer"]).run()
    base, mean = half_of(), (0.9 + 4 * 1.7 + 3) / 6
    factors = [1.8 / mean, *[0.6] * (len(base.brief.work) - 1)]
    changes = [
        Change(("brief", f"work.{j}.per_month"), times=times)
        for j, times in enumerate(factors)
    ]
    assert verdict(money) == who_leads(supposed(base, changes))


def test_an_owner_reads_about_the_change():
    """With a rig owned the bar is about keeping, adding or replacing."""
    page = opened("answer")
    page.selectbox(key="brief").set_value("second-rig.yaml").run()
    assert not page.exception
    assert "more than now" in re.sub(r"<[^>]*>", " ", markup(page))


def test_other_ways_and_steps_are_the_engines():
    """Opened, the fold says what hire and rent leave, and from when on to buy."""
    page, evaluation = opened("answer", folds=("other_ways",)), demo("new-entrant")
    said = shown(page)
    ways = other_ways(evaluation)
    assert ways
    for sentence in (
        *ways_in_words(evaluation, ways),
        *steps_in_words(steps(evaluation)),
    ):
        assert sentence in said
