"""A case of one's own from the first screen on: typed, reloaded, answered, no file."""

import pytest

from tests.browser import driving

pytestmark = pytest.mark.browser

KINDS = ("child's bedroom", "waiting room", "café wall", "nursery room")
LEAFLETS = (
    {
        "name": "Alder",
        "price": "12 900",
        "speed": "4,5",
        "assembly_time": "25",
        "heaviest_lift": "16",
        "max_print_height": "2,5",
    },
    {
        "name": "Birch",
        "price": "9800",
        "speed": "2,2",
        "heaviest_lift": "18",
        "ink_price": "95",
        "max_print_height": "2,6",
    },
    {
        "name": "Cedar",
        "price": "17500",
        "speed": "6",
        "heaviest_lift": "38",
        "fee": "600",
        "max_print_height": "2,8",
    },
)
MOST_FIELDS = 60
DEMO = ("Thrumble", "Lindqvar", "Quillow", "Ossery", "Varnholt", "Haverlune")


class Typist:
    """Somebody who types what is known, and counts what is touched."""

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

    def pick(self, name):
        """Pick a chip by its name."""
        self.page.get_by_role("button", name=name, exact=True).click()
        self.n_fields += 1
        driving.settled(self.page)


def css(key):
    """Return the class that a widget's key becomes, as a selector."""
    plain = "".join(c if c.isascii() and c.isalnum() or c in "_-" else "-" for c in key)
    return f".st-key-{plain}"


def seen(page):
    """Return the text of the main part."""
    return page.locator("[data-testid=stMain]").inner_text()


def fine(page, name):
    """Keep a picture, and see that nothing is broken or wider than the screen."""
    driving.keep(page, name)
    assert driving.exceptions(page) == []
    assert driving.overflow(page) <= 0


@pytest.fixture(scope="module")
def own_address(tmp_path_factory):
    """The page with a folder of its own for cases."""
    cases = str(tmp_path_factory.mktemp("cases"))
    with driving.served(env={"MURAL_DATA": cases, "MURAL_DRAWS": "200"}) as address:
        yield address


@pytest.mark.parametrize("width", [1400, 390])
def test_a_beginner_has_an_answer_without_a_file(width, opened, own_address):
    """Four enquiries, three leaflets, 20 000, alone: at most 60 fields, two reloads."""
    page = opened(width)
    driving.visit(page, f"{own_address}/start")
    fine(page, f"start-doors-{width}")
    typist = Typist(page)
    typist.press("door_first")
    for kind in KINDS:
        typist.pick(kind)
    for kind in KINDS:
        typist.type_in(f"start_asked_{kind}", "1")
    typist.type_in("start_cash", "20000")
    driving.visit(page, page.url)  # a reload in the middle loses nothing
    assert page.locator(f"{css('start_cash')} input").input_value() == "20000"
    fine(page, f"start-questions-{width}")
    typist.press("do_start")
    page.wait_for_selector(css("leaflet_fold"))
    fine(page, f"own-machines-none-{width}")
    for n, leaflet in enumerate(LEAFLETS):
        for key, text in leaflet.items():
            typist.type_in(f"leaflet_{key}", text)
        if n == 1:
            driving.visit(page, page.url)  # in the middle of a leaflet
            assert page.locator(f"{css('leaflet_name')} input").input_value() == "Birch"
        typist.press("add_leaflet")
    print(f"{typist.n_fields} fields at {width} px")
    assert typist.n_fields <= MOST_FIELDS
    fine(page, f"own-machines-{width}")
    case = page.url.partition("?")[2]
    for screen in ("work", "keep", "start", "visit", "answer"):
        driving.visit(page, f"{driving.at(own_address, screen)}?{case}")
        fine(page, f"own-{screen}-{width}")
        said = seen(page)
        assert "invented example" not in said
        assert not any(name in said for name in DEMO)
    assert any(leaflet["name"] in said for leaflet in LEAFLETS)


@pytest.mark.parametrize("width", [1400, 390])
def test_forms_take_what_is_typed_at_once(width, opened, own_address):
    """A wrong width is refused below its field, a right one is on the card."""
    page = opened(width)
    driving.visit(page, f"{own_address}/start")
    typist = Typist(page)
    typist.press("door_first")
    typist.pick("waiting room")
    typist.type_in("start_sold_waiting room", "3")
    typist.type_in("start_cash", "30000")
    typist.press("do_start")
    page.wait_for_selector(css("leaflet_fold"))
    case = page.url.partition("?")[2]
    for key, text in LEAFLETS[0].items():
        typist.type_in(f"leaflet_{key}", text)
    typist.press("add_leaflet")
    for fold in ("own_sheet", "own_mail"):
        page.locator(f".st-key-fold_{fold} summary").click()
        driving.settled(page)
    typist.type_in("own_figure_value", "11 900")
    assert page.locator(f"{css('own_figure_value')} input").input_value() == "11900 EUR"
    fine(page, f"own-machines-open-{width}")
    driving.visit(page, f"{own_address}/work?{case}")
    typist.type_in("own_job_0_width", "wide")
    assert "'wide' is not a figure" in seen(page)
    typist.type_in("own_job_0_width", "5,25")
    assert "5.25 m × 1.6 m" in seen(page)
    for fold in ("own_job_more", "own_crew", "own_money", "own_leads", "own_assumed"):
        page.locator(f".st-key-fold_{fold} summary").click()
        driving.settled(page)
    fine(page, f"own-work-open-{width}")
    driving.visit(page, f"{own_address}/keep?{case}")
    typist.type_in("scenario_name", "as I began")
    typist.press("keep_scenario")
    typist.press("undo_change")
    assert "what was changed" in seen(page)
    fine(page, f"own-scenarios-{width}")
