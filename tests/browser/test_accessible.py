"""What somebody with other eyes or hands would miss: axe-core on every screen.

axe-core 4.12 by its rules for WCAG 2.0 to 2.2, A and AA, and its best practices; only
what it calls minor is left. Looked at is what stands below the navigation, which is
Streamlit's own.
"""

import pytest

from tests.benchmarks.screens import SCREENS, choose
from tests.browser import driving, rooms

pytestmark = pytest.mark.browser
FOUND = """
async () => {
  const main = document.querySelector("[data-testid=stMain]");
  const found = await axe.run(main, {resultTypes: ["violations"]});
  return found.violations.filter(rule => rule.impact !== "minor").flatMap(
    rule => rule.nodes.map(node => `${rule.id}: ${node.html.slice(0, 200)}`));
}
"""
OF_BRIEF = {
    "new-entrant.yaml": SCREENS,
    "second-rig.yaml": ("second-rig", "work", "machines"),
}


@pytest.fixture(scope="session")
def axe():
    """The program's text; skipped where it is not installed."""
    return pytest.importorskip("axe_playwright_python.base").AXE_SCRIPT


def violations(page, axe):
    """Return what axe-core finds on what a page shows now."""
    page.evaluate(axe)
    return page.evaluate(FOUND)


@pytest.mark.parametrize("brief", OF_BRIEF)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_screen(scheme, brief, browser, address, axe):
    """Neither in light nor in dark, with nothing unfolded, is there a violation."""
    page = driving.open_page(browser, color_scheme=scheme)
    choose(page, address, brief)
    case = page.url.partition("?")[2]
    found = {}
    for screen in OF_BRIEF[brief]:
        driving.visit(page, f"{driving.at(address, screen)}?{case}")
        found[screen] = violations(page, axe)
    page.context.close()
    assert {screen: said for screen, said in found.items() if said} == {}


@pytest.mark.parametrize("screen", ["how-sure", "money", "visit", "machines"])
def test_what_is_unfolded(screen, browser, address, axe):
    """Nor is there one in what folds away, with all folds of a screen open."""
    page = driving.open_page(browser)
    driving.visit(page, driving.at(address, screen))
    for n in range(page.locator("[data-testid=stExpander] summary").count()):
        fold = page.locator("[data-testid=stExpander] summary").nth(n)
        if fold.locator("xpath=..").get_attribute("open") is None:
            fold.click()
            driving.settled(page, limit_s=60)
    found = violations(page, axe)
    page.context.close()
    assert found == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_room(scheme, browser, address, axe):
    """Trainer, wall and a participant's question have none either."""
    trainer = driving.open_page(browser, color_scheme=scheme)
    code, _ = rooms.open_room(trainer, address)
    phone = driving.open_page(browser, 360, 740, color_scheme=scheme)
    rooms.join(phone, address, code, "Ada")
    wall = driving.open_page(browser, 1920, 1080, color_scheme=scheme)
    driving.visit(wall, address + rooms.path(rooms.wall_of(trainer)))
    pages = {"trainer": trainer, "phone": phone, "wall": wall}
    found = {name: violations(page, axe) for name, page in pages.items()}
    for page in pages.values():
        page.context.close()
    assert {name: said for name, said in found.items() if said} == {}
