"""What people see: the page in a real browser, driven by keys."""

import json
import re
import shutil
import time

import pytest

from scoring import load_machines
from tests.browser import driving

pytestmark = pytest.mark.browser

SCREENS = ("answer", "why", "how-sure", "work", "machines", "money", "second-rig")
SCREENS += ("visit", "bank", "start", "workshop")


def leader(page, names):
    """Return the machine that the verdict names first."""
    verdict = page.locator(".st-key-verdict").inner_text()
    places = {verdict.find(name): name for name in names if name in verdict}
    assert places, f"the verdict names no machine: {verdict!r}"
    return places[min(places)]


def weights(echo):
    """Return the weight sliders of an echo, in per cent."""
    return {key: value for key, value in echo.items() if key.startswith("weight_")}


@pytest.fixture
def names():
    """The names of the demo's machines."""
    return [m.name for m in load_machines(driving.ROOT / "profiles" / "machines")]


def test_opens_on_a_settled_answer(opened, names, capsys):
    """A first start ends in an answer: bar, verdict, grid, picture, questions."""
    page = opened()
    started = time.time()
    with driving.served() as address:
        asked = time.time()
        shown = driving.visit(page, address)
        assert leader(page, names)
        for part in ("answer_bar", "grid", "cases_chart", "find_out"):
            assert driving.drawing(page, part)
        assert sum(weights(shown["echo"]).values()) == pytest.approx(100)
        assert driving.exceptions(page) == []
    seconds = asked - started + shown["changed"] / 1000
    with capsys.disabled():
        print(f"\nstart of the server to a settled answer: {seconds:.2f} s")


@pytest.fixture
def page(opened, address):
    """The screen Why at 1400 px, opened and settled."""
    return at_why(opened(1400), address)


@pytest.fixture
def narrow(opened, address):
    """The screen Why at 390 px, as on a telephone, opened and settled."""
    return at_why(opened(390), address)


def at_why(page, address):
    """Return a page on the screen Why, its folded weights open."""
    driving.visit(page, f"{address}/why")
    page.get_by_text("Other weights").click()
    driving.settled(page)
    return page


@pytest.mark.parametrize("width", [390, 1400])
def test_the_answer_stays_in_view(width, opened, address):
    """However far a screen is scrolled, the answer stands below the header, whole."""
    page = opened(width)
    for screen in ("", "why", "how-sure", "money", "second-rig"):
        driving.visit(page, f"{address}/{screen}")
        page.evaluate("document.querySelector('.stMain').scrollTo(0, 700)")
        box = page.locator(".st-key-answer_bar").bounding_box()
        assert 0 <= box["y"] < 100, screen
        found = page.evaluate(
            """([x, y]) => document.elementFromPoint(x, y).closest(".answer") !== null
            """,
            [box["x"] + 20, box["y"] + 20],
        )
        assert found, screen


@pytest.mark.parametrize("width", [390, 1400])
def test_a_term_is_told_where_nothing_cuts_it(width, browser, address):
    """Touched, or reached by the tabulator, its sentence stands within the window."""
    page = driving.open_page(browser, width, 844, has_touch=True)
    driving.visit(page, address)
    term = page.locator("abbr.term").first
    told = """term => { const looks = getComputedStyle(term, "::after");
      return [looks.content, parseFloat(looks.width), looks.position]; }"""
    assert term.evaluate(told)[0] == "none"
    term.tap()
    content, size, position = term.evaluate(told)
    assert content.strip('"') == term.get_attribute("data-told")
    assert size < width and position == "fixed"
    page.mouse.click(2, 2)
    assert driving.overflow(page) == 0
    term.focus()  # as the tabulator does
    assert term.evaluate(told)[0] != "none"
    page.context.close()


def test_a_weight_changes_leader_and_chart(page, names):
    """Some weight, moved to the top, puts another machine first and redraws the chart.

    The other sliders stay, and the reset button brings all of them back.
    """
    before = weights(driving.settled(page)["echo"])
    first, drawn = leader(page, names), driving.drawing(page, "ranking_chart")
    driving.keep(page, "weights-before")
    leaders = set()
    for key in before:
        moved = weights(driving.move(page, key, "End"))
        assert moved == pytest.approx(before | {key: 100})
        assert driving.drawing(page, "ranking_chart") != drawn
        leaders.add(leader(page, names))
        if leaders - {first}:
            break
        page.locator(".st-key-reset_weights button").click()
        driving.settled(page, **before)
    assert leaders - {first}, f"{first} leads whichever weight is at the top"
    driving.keep(page, "weights-after")
    page.locator(".st-key-reset_weights button").click()
    driving.settled(page, **before)
    assert leader(page, names) == first


def test_weights_moved_in_turns_leave_one_ranking(page):
    """Whichever slider moves, the ranking is redrawn in the same place, once."""
    first, second, *_ = weights(driving.settled(page)["echo"])
    for key in (first, second, first):
        drawn = driving.drawing(page, "ranking_chart")
        driving.move(page, key, "ArrowRight", times=2)
        assert page.locator(".st-key-ranking table").count() == 1
        assert driving.drawing(page, "ranking_chart") != drawn


@pytest.mark.parametrize("title", SCREENS)
@pytest.mark.parametrize(
    ("width", "scheme"), [(1400, "light"), (1400, "dark"), (390, "light")]
)
def test_each_screen_is_whole(title, width, scheme, address, opened):
    """No traceback, nothing beyond the right edge, at either width, light or dark."""
    looked_at = opened(width, color_scheme=scheme)
    driving.visit(looked_at, driving.at(address, title))
    assert driving.exceptions(looked_at) == []
    assert driving.overflow(looked_at) <= 0
    assert is_dark(looked_at) == (scheme == "dark")
    driving.keep(looked_at, f"{title}-{width}-{scheme}")


def is_dark(page):
    """Return whether the ground of the page is darker than middle grey."""
    app = page.locator("[data-testid=stApp]")
    colour = app.evaluate("app => getComputedStyle(app).backgroundColor")
    return sum(int(part) for part in re.findall(r"\d+", colour)[:3]) < 3 * 128


def test_a_slider_works_on_a_telephone(narrow):
    """At 390 px a weight can be moved by keys and the chart follows."""
    key = next(iter(weights(driving.settled(narrow)["echo"])))
    drawn = driving.drawing(narrow, "ranking_chart")
    driving.move(narrow, key, "ArrowRight", times=5)
    assert driving.drawing(narrow, "ranking_chart") != drawn
    assert driving.overflow(narrow) <= 0


def test_no_request_leaves_this_computer(page, address):
    """Opening every screen and moving a weight asks nothing of any other host."""
    key = next(iter(weights(driving.settled(page)["echo"])))
    driving.move(page, key, "ArrowRight", times=3)
    for title in SCREENS:
        driving.visit(page, driving.at(address, title))
    assert page.outside == []


@pytest.fixture(scope="module")
def hostile_address(tmp_path_factory):
    """The page on profiles whose machines have hostile names."""
    folder = tmp_path_factory.mktemp("hostile") / "profiles"
    shutil.copytree(driving.ROOT / "profiles", folder)
    briefs = "".join(path.read_text("utf-8") for path in folder.glob("briefs/*.yaml"))
    waiting = list(driving.HOSTILE)
    for path in sorted(folder.glob("machines/*.yaml")):
        text = path.read_text("utf-8")
        name = re.search(r"^name: *(.*)$", text, re.MULTILINE)
        if waiting and name[1] not in briefs:
            renamed = f"name: {json.dumps(waiting.pop())}"
            path.write_text(text.replace(name[0], renamed), "utf-8")
    assert not waiting, "too few machines to carry all hostile names"
    with driving.served(env={"MURAL_PROFILES": str(folder)}) as address:
        yield address


@pytest.mark.parametrize("width", [1400, 390])
def test_hostile_names_are_plain_text(width, opened, hostile_address):
    """A name that looks like markup is shown as it is written, and breaks nothing."""
    page, texts = opened(width), []
    for title in SCREENS:
        driving.visit(page, driving.at(hostile_address, title))
        texts.append(page.locator("[data-testid=stApp]").text_content())
        assert driving.exceptions(page) == []
        assert driving.interpreted(page) == []
        assert driving.overflow(page) <= 0
        driving.keep(page, f"hostile-{title}-{width}")
    for name in driving.HOSTILE:
        assert name[:40] in texts[0], f"the answer lacks the name {name[:40]!r}"
    assert page.outside == []
