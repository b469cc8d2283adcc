"""A case of one's own from the first screen on: typed, reloaded, answered."""

import pytest

from tests.browser import driving

pytestmark = pytest.mark.browser

KINDS = ("café wall", "nursery room", "waiting room", "gym wall")
LEAFLETS = (
    {
        "name": "Alder",
        "price": "14500",
        "speed": "3,5",
        "build": "25",
        "heaviest": "24",
    },
    {
        "name": "Birch",
        "price": "9800",
        "speed": "2,2",
        "heaviest": "18",
        "reach": "2,4",
    },
    {"name": "Cedar", "price": "22000", "speed": "6", "heaviest": "38", "fee": "600"},
)
MOST_FIELDS = 60


class Typist:
    """Somebody who types what is known, and counts the fields."""

    def __init__(self, page):
        self.page, self.n_fields = page, 0

    def type_in(self, key, text):
        """Fill a field by its key and leave it."""
        field = self.page.locator(f"{css(key)} input").first
        field.fill(text)
        field.press("Tab")
        self.n_fields += 1
        driving.settled(self.page)

    def press(self, key):
        """Press a button by its key."""
        self.page.locator(f"{css(key)} button").first.click()
        self.n_fields += 1
        driving.settled(self.page)


def css(key):
    """Return the class that a widget's key becomes, as a selector."""
    dashed = "".join(
        c if c.isascii() and c.isalnum() or c in "_-" else "-" for c in key
    )
    return f".st-key-{dashed}"


@pytest.fixture(scope="module")
def own_address(tmp_path_factory):
    """The page with a folder of its own for cases."""
    cases = str(tmp_path_factory.mktemp("cases"))
    with driving.served(env={"MURAL_DATA": cases}) as address:
        yield address


@pytest.mark.parametrize("width", [1400, 390])
def test_a_beginner_has_an_answer_without_a_file(width, opened, own_address):
    """Four enquiries, three leaflets, 20 000, alone: at most 60 fields, a reload."""
    page = opened(width)
    driving.visit(page, f"{own_address}/start")
    typist = Typist(page)
    for kind in KINDS:
        page.get_by_role("button", name=kind, exact=True).click()
        typist.n_fields += 1
        driving.settled(page)
    for kind in KINDS:
        typist.type_in(f"start_{kind}_asked", "6")
    typist.type_in("start_cash", "20000")
    driving.visit(page, page.url)  # a reload in the middle loses nothing
    assert page.locator(f"{css('start_cash')} input").input_value() == "20000"
    for n, leaflet in enumerate(LEAFLETS):
        if n:
            typist.press("start_more")
        for key, text in leaflet.items():
            typist.type_in(f"start_leaflet_{n}_{key}", text)
    driving.keep(page, f"start-filled-{width}")
    typist.press("start_go")
    page.wait_for_selector(".st-key-answer_bar")
    driving.settled(page)
    assert typist.n_fields <= MOST_FIELDS
    said = page.locator("[data-testid=stMain]").inner_text()
    assert "invented example" not in said and "Thrumble" not in said
    assert any(leaflet["name"] in said for leaflet in LEAFLETS)
    driving.keep(page, f"own-answer-{width}")
    driving.visit(page, page.url)
    assert "invented example" not in page.locator("[data-testid=stMain]").inner_text()
    case = page.url.partition("?")[2]
    driving.visit(page, f"{own_address}/visit?{case}")
    assert driving.exceptions(page) == [] and driving.overflow(page) <= 0
    fields = page.locator("[data-testid=stSelectbox]").all_inner_texts()
    values = page.locator("[data-testid=stSelectbox] input").all()
    chosen = {*fields, *(each.input_value() for each in values)}
    names = {leaflet["name"] for leaflet in LEAFLETS}
    assert any(name in text for name in names for text in chosen), chosen


def test_an_owner_types_the_rig_and_reads_about_the_change(opened, own_address):
    """An operator's rig is typed, and the screen of a second rig is about it."""
    page = opened(1400)
    driving.visit(page, f"{own_address}/start")
    typist = Typist(page)
    page.get_by_text("I run a machine and think about another").click()
    driving.settled(page)
    page.get_by_role("button", name="gym wall", exact=True).click()
    driving.settled(page)
    for key, text in (
        ("gym wall_sold", "40"),
        ("cash", "30000"),
        ("rig", "Old Rowan"),
        ("rig_age", "3"),
        ("leaflet_0_name", "Birch"),
        ("leaflet_0_price", "9800"),
        ("leaflet_0_heaviest", "18"),
        ("leaflet_0_speed", "2,2"),
    ):
        typist.type_in(f"start_{key}", text)
    typist.press("start_go")
    page.wait_for_selector(".st-key-answer_bar")
    driving.settled(page)
    case = page.url.partition("?")[2]
    driving.visit(page, f"{own_address}/second-rig?{case}")
    said = page.locator("[data-testid=stMain]").inner_text()
    assert "keep what you have" in said and "Old Rowan" in said
    driving.keep(page, "own-second-rig-1400")
