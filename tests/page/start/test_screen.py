"""The screen "Start": a case of one's own without a file; the examples stay out."""

from scoring.inputs.own_case import BRIEF_FILE
from tests.page.pages import SCREENS, opened, shown


def typed_in(page, **fields):
    """Type texts into fields of the screen; return the page."""
    for key, text in fields.items():
        page.text_input(key=f"start_{key}").set_value(text)
    return page.run()


def a_case(page):
    """Type four enquiries, three leaflets and 20 000 in cash; return the page."""
    kinds = ["café wall", "nursery room", "waiting room"]
    page.session_state["start_kinds"] = kinds
    typed_in(page, other_kinds="a gym")
    for kind in [*kinds, "a gym"]:
        page.number_input(key=f"start_{kind}_asked").set_value(6)
    page.run()
    typed_in(page, **{"a gym_width": "5,5", "a gym_height": "2", "a gym_price": "900"})
    typed_in(page, cash="20000", leaflet_0_name="Alder", leaflet_0_price="14500")
    for n, name in ((1, "Birch"), (2, "Cedar")):
        page.button(key="start_more").click().run()
        told = {"name": name, "price": "9800", "speed": "2,2", "heaviest": "18"}
        typed_in(page, **{f"leaflet_{n}_{key}": text for key, text in told.items()})
    return page


def test_a_case_of_ones_own_ends_in_an_answer():
    """Its machines alone are ranked, its jobs are those typed, no example is named."""
    page = a_case(opened("start"))
    page.button(key="start_go").click().run()
    assert not page.exception and not page.error
    assert page.session_state["brief"] == BRIEF_FILE
    page.switch_page(SCREENS["answer"]).run()
    said = shown(page)
    assert "An invented example" not in said
    assert "Birch" in said and "Thrumble" not in said and "Lindqvar" not in said
    base = page.session_state["seeded_for"]
    assert base.names == ("Alder", "Birch", "Cedar")
    gym = base.brief.work[-1]
    assert (gym.name, gym.width.likely, gym.basis) == ("a gym", 5.5, "enquiries")
    for screen in SCREENS.values():
        assert not page.switch_page(screen).run().exception, screen


def test_what_cannot_be_used_is_said_and_stays():
    """Two faults at once, each with its field; what was typed stands there still."""
    page = a_case(opened("start"))
    typed_in(page, cash="12,900", leaflet_1_heaviest="heavy")
    page.button(key="start_go").click().run()
    said = shown(page)
    assert "12,900" in said and "two ways" in said
    assert "heaviest_lift" in said and "heavy" in said
    assert page.text_input(key="start_cash").value == "12,900"
    assert (
        page.session_state["brief"] != BRIEF_FILE
        if "brief" in page.session_state
        else True
    )


def test_nothing_told_is_asked_for():
    """Without a kind of job there is nothing to rank."""
    page = opened("start")
    page.button(key="start_go").click().run()
    assert "Choose a kind of job" in shown(page)


def test_a_rig_that_is_owned_is_part_of_the_case():
    """An operator types the rig; it is a machine, and the brief owns it."""
    page = opened("start")
    page.radio(key="start_door").set_value(
        "I run a machine and think about another"
    ).run()
    a_case(page)
    typed_in(page, rig="Old Rowan", rig_age="3")
    page.button(key="start_go").click().run()
    assert not page.error, shown(page)
    brief = page.session_state["sent"]["brief"][BRIEF_FILE]
    (rig,) = brief.owned
    assert (rig.machine, rig.age.likely, rig.resale.likely) == ("Old Rowan", 3, 0)
    assert "more than now" in shown(page) or "Keep what you have" in shown(page)


def test_the_other_doors_lead_on():
    """A teacher is shown the workshop, and each example opens."""
    page = opened("start")
    page.radio(key="start_door").set_value("I teach").run()
    assert "Open a room" in shown(page)
    page.radio(key="start_door").set_value("Show me an example").run()
    page.button(key="start_see_1").click().run()
    assert page.session_state["brief"] == "second-rig.yaml"
