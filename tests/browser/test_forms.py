"""Weights told as an order, a case deleted, two tabs on one case, in a real browser."""

import pytest

from tests.browser import driving
from tests.browser.test_own import LEAFLETS, Typist, css, fine, seen

pytestmark = pytest.mark.browser
WIDTHS = pytest.mark.parametrize("width", [1400, 390])


@pytest.fixture(scope="module")
def forms_address(tmp_path_factory):
    """The page with a folder of its own for cases."""
    cases = str(tmp_path_factory.mktemp("cases"))
    with driving.served(env={"MURAL_DATA": cases, "MURAL_DRAWS": "200"}) as address:
        yield address


def unfold(page, key):
    page.locator(f".st-key-fold_{key} summary").click()
    driving.settled(page)


def own_case(page, address):
    """Make a case of one's own with one machine; return its part of the address."""
    driving.visit(page, f"{address}/start")
    typist = Typist(page)
    typist.press("door_first")
    typist.pick("waiting room")
    typist.type_in("start_sold_waiting room", "3")
    typist.type_in("start_cash", "30000")
    typist.press("do_start")
    page.wait_for_selector(css("leaflet_fold"))
    for key, text in LEAFLETS[0].items():
        typist.type_in(f"leaflet_{key}", text)
    typist.press("add_leaflet")
    return page.url.partition("?")[2]


@WIDTHS
def test_weights_by_an_order_and_in_money(width, opened, forms_address):
    """Three picked in order are one pill, taken back; a worth typed with a comma."""
    page = opened(width)
    driving.visit(page, f"{forms_address}/why")
    unfold(page, "ways")
    page.get_by_text("put in order", exact=True).click()
    page.wait_for_selector(css("ways_order"))
    driving.settled(page)
    for label in ("heaviest lift", "money left over in a year", "cost to your door"):
        field = page.locator(f"{css('ways_order')} input")
        field.scroll_into_view_if_needed()
        page.wait_for_timeout(500)  # the list closes while the page scrolls
        field.click()
        page.wait_for_timeout(500)
        field.press_sequentially(label)
        page.get_by_role("option", name=label).click()
        driving.settled(page)
        page.keyboard.press("Escape")  # the list may stay open
        driving.settled(page)
    assert "In this order: heaviest lift 61" in seen(page)
    fine(page, f"why-order-{width}")
    page.locator(f"{css('ways_by_order')} button").click()
    driving.settled(page)
    assert "weights by your order" in seen(page)
    page.get_by_text("in money", exact=True).click()
    page.wait_for_selector(css("ways_by_money"))
    driving.settled(page)
    Typist(page).type_in("ways_worth_heaviest_lift", "95,50")
    fine(page, f"why-money-{width}")
    page.locator(f"{css('ways_by_money')} button").click()
    driving.settled(page)
    assert "by what each is worth in money" in seen(page)
    page.locator(f"{css('undo_weights')} button:visible").first.click()
    driving.settled(page)
    assert "by what each is worth in money" not in seen(page)


@WIDTHS
def test_a_case_is_deleted(width, opened, forms_address):
    """Asked, then gone: the address brings nothing back."""
    page = opened(width)
    case = own_case(page, forms_address)
    driving.visit(page, f"{forms_address}/keep?{case}")
    typist = Typist(page)
    typist.press("ask_delete_case")
    assert "Nothing brings it back" in seen(page)
    fine(page, f"keep-delete-{width}")
    typist.press("delete_case")
    assert "Deleted, with all its versions" in seen(page)
    fine(page, f"keep-deleted-{width}")
    driving.visit(page, f"{forms_address}/answer?{case}")
    assert "invented example" in seen(page)


@WIDTHS
def test_two_tabs_on_one_case(width, opened, forms_address):
    """The later one is told, and takes the other's width."""
    first, second = opened(width), opened(width)
    case = own_case(first, forms_address)
    for page in (first, second):
        driving.visit(page, f"{forms_address}/work?{case}")
    Typist(first).type_in("own_job_0_width", "5")
    Typist(second).type_in("own_job_0_width", "6")
    assert "has changed since you opened it" in seen(second)
    fine(second, f"two-tabs-{width}")
    Typist(second).press("take_others")
    assert "5 m ×" in seen(second)
    assert "has changed since you opened it" not in seen(second)


@WIDTHS
def test_more_of_the_work_is_typed(width, opened, forms_address):
    """Sizes with prices, an aid, the seasons: all in view, nothing wider than it."""
    page = opened(width)
    case = own_case(page, forms_address)
    driving.visit(page, f"{forms_address}/work?{case}")
    for fold in ("own_job_more", "own_crew", "own_trade", "own_judged"):
        unfold(page, fold)
    typist = Typist(page)
    typist.type_in("new_band_0_up_to", "6")
    typist.type_in("new_band_0_per_m2", "110,50")
    typist.press("add_band_0")
    typist.type_in("new_aid_price", "420")
    typist.type_in("new_aid_minutes_per_job", "6")
    typist.press("add_aid")
    typist.type_in("own_brief_trade.seasonality", "0,6 0,8 1 1 1,2 1,2 1,2 1 1 1 1 1")
    typist.type_in("own_brief_trust.measured.time", "-5 0 10")
    assert "All that is larger" in seen(page)
    fine(page, f"work-more-{width}")


@WIDTHS
def test_the_ranges_of_a_second_rig(width, opened, forms_address):
    """Each choice has its bar and how often it is best."""
    page = opened(width)
    driving.visit(page, f"{forms_address}/second-rig")
    page.get_by_role("button", name="Case and units").click()
    field = page.locator(f"{css('brief')} input")
    field.fill("A second rig")
    field.press("Enter")
    driving.settled(page, limit_s=60, brief="second-rig.yaml")
    page.keyboard.press("Escape")
    assert "How sure it is" in seen(page)
    assert page.locator(f"{css('choices_chart')} svg.marks").count() == 1
    fine(page, f"second-ranges-{width}")
