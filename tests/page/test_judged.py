"""How machines are judged, typed into forms: the brief says it, by the same rules."""

import pytest

from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.record import with_sheet
from tests.page.pages import shown
from tests.page.test_own import (
    LEAFLETS,
    case_of,
    fine,
    go,
    kept,
    started,
    with_leaflets,
)

__all__ = ["kept"]  # a fixture


@pytest.fixture
def page():
    """The screen Work of a case with a machine, its part on judging open."""
    page = with_leaflets(started(), LEAFLETS[:1])
    page.session_state["fold_own_judged"] = True
    return go(page, "work")


def typed(page, key, entry):
    page.text_input(key=key).set_value(entry).run()
    return fine(page)


def test_a_scale_and_a_criterion_are_typed(page, kept):
    """Two ends with a comma; what is more than enough; nothing of it in a file."""
    page.selectbox(key="own_criterion").set_value("odour").run()
    typed(page, "own_brief_scale.odour", "5,5 0")
    typed(page, "own_brief_criteria.odour.flat_above", "4,5")
    brief = load_brief(kept / case_of(page))
    assert brief.scale["odour"] == (5.5, 0)
    assert brief.criteria["odour"].flat_above == 4.5


def test_a_scale_of_three_ends_is_refused_in_words(page, kept):
    """The rules are those of the file; what was there stays."""
    typed(page, "own_brief_scale.upfront", "1 2 3")
    assert not load_brief(kept / case_of(page)).scale
    assert page.text_input(key="own_brief_scale.upfront").value == "1 2 3"


def test_trust_is_typed_in_per_cent(page, kept):
    """Signs of one's own, a comma, the typographer's minus: as a file would have it."""
    page.selectbox(key="own_basis").set_value("quoted").run()
    typed(page, "own_brief_trust.quoted.time", "−5 12,5 % +60")
    typed(page, "own_brief_trust.together", "0,5")
    trust = load_brief(kept / case_of(page)).trust
    assert trust.quoted["time"] == pytest.approx((-0.05, 0.125, 0.6))
    assert trust.together == 0.5
    typed(page, "own_brief_trust.quoted.time", "much")
    assert "are no changes" in shown(page)


def test_a_guess_is_typed_and_taken_back(page, kept):
    """A key with a dot in it, a share of the price; nonsense says what is wrong."""
    page.selectbox(key="own_guess_of").set_value("landed_cost.freight").run()
    typed(page, "own_guess_landed_cost.freight", "4..6..9 % of the price")
    guesses = load_brief(kept / case_of(page)).guesses
    assert guesses == {"landed_cost.freight": "4..6..9 % of the price"}
    typed(page, "own_guess_landed_cost.freight", "4 bananas")
    assert load_brief(kept / case_of(page)).guesses == guesses
    assert "bananas" in shown(page)
    typed(page, "own_guess_landed_cost.freight", "")
    assert not load_brief(kept / case_of(page)).guesses


def test_a_rating_of_the_sheets_becomes_a_criterion(page, kept):
    """Chosen once, it is the buyer's own criterion, called as the rating is."""
    case = page.session_state["own_case"]
    (name,) = case.sheets
    rated = with_sheet(case, name, {"ratings.looks_of_it": 4})
    page.session_state["own_case"] = rated
    page.run()
    page.button(key="add_criterion").click().run()
    brief = load_brief(kept / case_of(fine(page)))
    assert brief.criteria["looks_of_it"].label == "looks of it"
    assert page.selectbox(key="own_criterion").value == "looks_of_it"
    page.switch_page("scoring/page/answer/screen.py").run()
    assert "looks of it" in [c.label for c in page.session_state["seeded_for"].criteria]
