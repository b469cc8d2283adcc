"""Forms of what few briefs tell: prices by size, aids, seasons; faults as in files."""

import pytest

from scoring.inputs.brief_files import load_brief
from tests.page.pages import shown
from tests.page.test_own import case_of, fine, go, started


@pytest.fixture
def kept(tmp_path, monkeypatch):
    """A folder of its own in which the page keeps cases."""
    monkeypatch.setenv("MURAL_DATA", str(tmp_path / "cases"))
    monkeypatch.setenv("MURAL_DRAWS", "100")
    return tmp_path / "cases"


@pytest.fixture
def page(kept):
    """The screen Work of a case of one's own, with the folds that are asked for."""
    page = started()
    for key in ("own_job_more", "own_crew", "own_trade", "own_also"):
        page.session_state[f"fold_{key}"] = True
    return go(page, "work")


def type_in(page, **values):
    for key, value in values.items():
        page.text_input(key=key).set_value(value)
    return page


def brief_of(kept, page):
    return load_brief(kept / case_of(page) / "brief.yaml")


def test_a_price_by_size_is_typed_band_by_band(page, kept):
    """What was the price of all stays that of larger walls; one more, and one less."""
    usual = brief_of(kept, page).work[0].price.per_m2
    type_in(page, new_band_0_up_to="12,5", new_band_0_per_m2="95,50")
    page.button(key="add_band_0").click().run()
    type_in(fine(page), new_band_0_up_to="4", new_band_0_per_m2="120")
    page.button(key="add_band_0").click().run()
    price = brief_of(kept, fine(page)).work[0].price
    ends = [band.up_to and band.up_to.likely for band in price.bands]
    assert ends == [4, 12.5, None]
    asked = [band.per_m2.likely for band in price.bands]
    assert asked == [120, 95.5, usual.likely]
    assert price.per_m2 is None
    page.button(key="drop_band_0_2").click().run()
    bands = brief_of(kept, fine(page)).work[0].price.bands
    assert [band.up_to and band.up_to.likely for band in bands] == [4, None]
    page.button(key="drop_band_0_0").click().run()
    price = brief_of(kept, fine(page)).work[0].price
    assert price.per_m2.likely == 95.5 and price.bands == ()


def test_a_bands_own_price_is_changed_and_the_others_stay(page, kept):
    """A price typed into a band is no price for all sizes."""
    type_in(page, new_band_0_up_to="6", new_band_0_per_m2="100")
    page.button(key="add_band_0").click().run()
    type_in(page, **{"own_brief_work.0.price.bands.0.per_m2": "110"}).run()
    bands = brief_of(kept, fine(page)).work[0].price.bands
    assert [band.per_m2.likely for band in bands][0] == 110 and len(bands) == 2


def test_bands_that_do_not_rise_are_refused_as_in_a_file(page, kept):
    """The sentence is the reader's own, and nothing changes."""
    for size in ("6", "9"):
        type_in(page, new_band_0_up_to=size, new_band_0_per_m2="100")
        page.button(key="add_band_0").click().run()
    type_in(page, **{"own_brief_work.0.price.bands.0.up_to": "20"}).run()
    assert "do not cover all sizes in order" in shown(fine(page))
    first = brief_of(kept, page).work[0].price.bands[0]
    assert first.up_to.likely == 6
    type_in(page, new_band_0_up_to="", new_band_0_per_m2="100")
    page.button(key="add_band_0").click().run()
    assert "Up to is missing" in shown(page)


def test_a_lifting_aid_is_typed_and_taken_away(page, kept):
    """A ramp with price and minutes; without a price a sentence."""
    page.button(key="add_aid").click().run()
    assert "Price is missing" in shown(fine(page))
    type_in(page, new_aid_price="420", new_aid_minutes_per_job="6,5")
    page.button(key="add_aid").click().run()
    ramp = brief_of(kept, fine(page)).crew.aids["ramp"]
    assert (ramp.price.likely, ramp.minutes_per_job.likely) == (420, 6.5)
    page.button(key="drop_aid_ramp").click().run()
    assert brief_of(kept, fine(page)).crew.aids == {}


def test_seasons_are_twelve_numbers(page, kept):
    """Typed with commas; eleven of them are refused in the reader's words."""
    key = "own_brief_trade.seasonality"
    months = "0,6 0,8 1 1 1,2 1,2 1,2 1 1 1 1 1"
    type_in(page, **{key: months}).run()
    found = brief_of(kept, fine(page)).trade.seasonality
    assert found[:5] == (0.6, 0.8, 1, 1, 1.2) and len(found) == 12
    type_in(page, **{key: months.rpartition(" ")[0]}).run()
    assert "twelve numbers" in shown(fine(page)) or "12" in shown(page)
    type_in(page, **{key: "0,6 much"}).run()
    assert "'much' is no number" in shown(fine(page))
    assert brief_of(kept, page).trade.seasonality == found


def test_how_much_comes_and_in_which_order_is_typed(page, kept):
    """The last single figures of a brief that had no field."""
    type_in(page, own_brief_demand="0,7 - 0,9 - 1").run()
    page.selectbox(key="own_brief_work_order").set_value("pro_rata").run()
    brief = brief_of(kept, fine(page))
    assert (brief.demand.low, brief.demand.likely, brief.demand.high) == (0.7, 0.9, 1)
    assert brief.work_order == "pro_rata"
