"""The ranking screen: what it says is the engine's, and each control does its work."""

import html

import pytest

from scoring import evaluate
from scoring.charts.contributions import bars, ranked
from scoring.words.doubt import why_not_in
from scoring.words.verdict import who_is_first
from tests.cases import demo
from tests.page.pages import echo, markup, opened, shown, verdict, weights


@pytest.fixture
def engine():
    """The Evaluation of the first brief, straight from the engine."""
    return demo("new-entrant")


@pytest.fixture
def page():
    """The ranking screen on the demo."""
    return opened()


def test_opens_on_the_first_brief_with_the_engines_verdict(page, engine):
    """Verdict, reasons and cautions are the engine's sentences, word for word."""
    assert verdict(page) == who_is_first(engine)
    said = shown(page)
    for k in engine.order:
        assert engine.names[k] in said
        for sentence in why_not_in(engine, k):
            assert sentence in said
    assert "before tax, after your own pay" in said
    assert "manual-handling assessment" in said


def test_weights_start_as_the_briefs(page, engine):
    """The sliders show the brief's weights, and they sum to 100."""
    by_id = dict(zip([c.id for c in engine.criteria], engine.weights, strict=True))
    assert weights(page) == pytest.approx({k: 100 * w for k, w in by_id.items()})


def test_points_move_no_other_slider(page):
    """One slider to 64: the others stay, and the legend tells what each comes to."""
    # The others keep their 74 points, so 64 of 138 points in all.
    before = weights(page)
    assert before["upfront"] == pytest.approx(26)
    page.slider(key="weight_upfront").set_value(64.0).run()
    assert weights(page) == pytest.approx(before | {"upfront": 64})
    assert "cost to your door  46.4 % " in shown(page)


def test_no_points_at_all_is_told(page):
    """With all sliders at 0 the page says that weights are lacking, and recovers."""
    for name in weights(page):
        if weights(page)[name] > 0:
            page.slider(key=f"weight_{name}").set_value(0.0).run()
    assert not page.exception
    assert "cannot be ranked" in shown(page)
    page.button(key="reset_weights").click().run()
    assert "comes first" in verdict(page)


def test_bars_and_table_say_what_the_engine_found(page, engine):
    """Each bar is named by the engine's words, its parts end at its score."""
    body = markup(page)
    for k, bar in zip(ranked(engine), bars(engine), strict=True):
        assert f'aria-label="{html.escape(bar.words)}"' in body
        assert sum(part.contribution for part in bar.parts) == pytest.approx(bar.score)
        assert f" {100 * engine.weighted_sum[k]:.2f}%,transparent 0)" in body


def test_weights_go_back_to_the_brief(page):
    """The button undoes every move."""
    before = weights(page)
    page.slider(key="weight_support").set_value(90.0).run()
    assert weights(page) != before
    page.button(key="reset_weights").click().run()
    assert weights(page) == pytest.approx(before)


def test_moved_weights_rank_as_the_command_line_does(page, engine):
    """The points as they stand give the verdict that the engine gives for them."""
    page.slider(key="weight_support").set_value(100.0).run()
    moved = evaluate(engine.brief, engine.machines, weights(page))
    assert verdict(page) == who_is_first(moved)
    assert verdict(page) != who_is_first(engine)


def test_a_second_person_lets_heavier_machines_in(page, engine):
    """With two people, a machine that one could not lift is ranked."""
    quillow = engine.index("Quillow Sprint")
    assert not engine.is_ranked[quillow]
    page.radio(key="crew").set_value(2).run()
    assert echo(page)["crew"] == 2
    crew = engine.brief.crew.model_copy(update={"people": 2})
    two = evaluate(
        engine.brief.model_copy(update={"crew": crew}),
        engine.machines,
        scale=engine.scale,
    )
    lifting = [limit for limit in two.broken(quillow) if limit.kind == "lift"]
    assert not lifting or lifting[0].chance < 1
    assert verdict(page) == who_is_first(two)


def test_more_work_changes_the_money(page):
    """Twice the jobs of one kind change what is left over, and the page shows it."""
    before = shown(page)
    page.slider(key="jobs_0").set_value(6.0).run()
    assert echo(page)["jobs_0"] == 6
    assert shown(page) != before
    page.button(key="reset_work").click().run()
    assert echo(page)["jobs_0"] == 1.8  # the mean of 0.9..1.7..3, (0.9 + 6.8 + 3)/6


def test_another_brief_is_another_question(page):
    """Choosing another brief changes verdict, weights and kinds of job."""
    first, before = verdict(page), weights(page)
    page.selectbox(key="brief").set_value("workshop.yaml").run()
    assert verdict(page) != first
    assert weights(page) != before
    assert "museum panel wall" in shown(page)


def test_weight_on_what_already_acts_is_called_counting_twice(page):
    """The page says so as soon as such a criterion weighs anything."""
    assert "Counted twice" not in shown(page)
    page.toggle(key="show_extra").set_value(True).run()
    page.slider(key="weight_work_served").set_value(20.0).run()
    assert "Counted twice: share of the work served" in shown(page)


def test_any_machine_shows_its_working(page, engine):
    """The steps shown for a machine are the engine's, ruled out or not."""
    from scoring.words.workings.criteria import working

    page.selectbox(key="show_machine").set_value("Quillow Sprint").run()
    said = shown(page)
    steps = working(engine, "Quillow Sprint", "upfront")
    for step in steps[:-2]:
        assert step.how in said, step.what


def test_us_customary_units(page):
    """The switch shows pounds and keeps the verdict."""
    first = verdict(page)
    page.radio(key="units").set_value("US customary").run()
    assert verdict(page) == first
    # 16 kg / 0.45359237 = 35.27 lb
    assert "35.3 lb" in shown(page)


def test_picking_one_of_two_narrows_what_fits():
    """Each pick is one more to take back; the points follow once taken over."""
    page = opened("why", folds=("ways",))
    assert "is the best for" in shown(page)
    for says in ("first", "second"):
        page.button(key=f"pick_{says}").click().run()
        assert not page.exception
    assert page.button(key="unpick_1") and "of all that fits" in shown(page)
    before = weights(page)
    page.button(key="take_pairs_over").click().run()
    assert weights(page) != before
    page.button(key="unpick_0").click().run()
    page.button(key="unpick_0").click().run()
    assert not [b.key for b in page.button if str(b.key).startswith("unpick")]


def test_picks_that_contradict_are_said(engine):
    """A circle of three picks: no weights fit, and each can be taken back."""
    page = opened("why", folds=("ways",))
    a, b, c = [x.id for x in engine.criteria if x.in_use][:3]
    told = [[a, b, 1.0, "first"], [b, c, 1.0, "first"], [a, c, 0.5, "second"]]
    page.session_state["picked_pairs"] = {engine.brief.source: told}
    page.run()
    assert "No weights fit all that you picked" in shown(page)
    page.button(key="unpick_2").click().run()
    assert "No weights fit" not in shown(page)
