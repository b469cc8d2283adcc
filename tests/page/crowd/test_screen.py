"""The screen "Many buyers": its pictures are those of the engine."""

from pathlib import Path

import altair as alt
import pytest

from scoring.charts.population import cell_rows, cell_spec, price_rows, price_spec
from scoring.population.buyers import population_of
from scoring.population.folder import columns_of
from scoring.population.run import populate, task_of, worked_here
from scoring.population.shown import shown as shown_of
from scoring.words.population import advice_in_words, leaders_in_words, tree_in_words
from tests.page.pages import opened, shown
from tests.population.small import write_case
from tests.population.test_run import threads


@pytest.fixture
def small(tmp_path, monkeypatch):
    """Let the page know a small template and two machines; return its Task."""
    template = write_case(tmp_path)
    (tmp_path / "populations").mkdir()
    template.rename(tmp_path / "populations" / "many.yaml")
    (tmp_path / "briefs").mkdir()
    monkeypatch.setenv("MURAL_PROFILES", str(tmp_path))
    return task_of(tmp_path / "populations" / "many.yaml", tmp_path / "machines", 60)


def test_the_screen_shows_what_the_engine_finds(small):
    """Sentences, tree and hit rate are those of the same buyers worked out apart."""
    page = opened("crowd")
    page.select_slider(key="crowd_number").set_value(200).run()
    page.button(key="crowd_go").click().run()
    assert not page.exception
    found = shown_of(worked_here(small, 200, lambda share: None))
    said = shown(page)
    assert leaders_in_words(found) in said
    assert advice_in_words(found) in said
    assert "\n".join(tree_in_words(found)) in [code.value for code in page.code]


def test_another_price_moves_it_without_a_run(small):
    """A dearer Alder is best for fewer, as its own price says."""
    page = opened("crowd")
    page.select_slider(key="crowd_number").set_value(200).run()
    page.button(key="crowd_go").click().run()
    page.selectbox(key="crowd_machine").set_value("Alder").run()
    page.slider(key="crowd_times").set_value(150).run()
    assert not page.exception
    found = shown_of(worked_here(small, 200, lambda share: None), 0, 1.5)
    assert leaders_in_words(found) in shown(page)


def test_a_faulty_template_is_told(small, tmp_path):
    """Its sentences stand on the screen, and nothing breaks."""
    path = Path(tmp_path / "populations" / "many.yaml")
    path.write_text(path.read_text("utf-8").replace("money.cash", "mony.cash"), "utf-8")
    page = opened("crowd")
    assert "did you mean 'money'" in " ".join(code.value for code in page.code)


def test_files_of_a_long_run_are_those_of_its_folder(small, tmp_path):
    """What is sent reads as the folder does; what lacks is said."""
    out = tmp_path / "out"
    populate(small, 100, out, threads(1), lambda n: None)
    files = {path.name: path.read_bytes() for path in out.iterdir()}
    sent = population_of(*columns_of(files))
    here = worked_here(small, 100, lambda share: None)
    assert (sent.points == here.points).all()
    found = shown_of(sent)
    for rows, spec in (
        (cell_rows(found), cell_spec(found)),
        (price_rows(found), price_spec(found, {"Alder"})),
    ):
        assert len(rows)
        data = {"width": 640, "data": {"name": "rows"}}
        alt.Chart.from_dict(spec | data).to_dict()  # by Vega-Lite's schema
