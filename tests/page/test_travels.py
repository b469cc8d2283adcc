"""What travels with a case: what is supposed, the job log, weights that were told."""

import json

import pytest
from click.testing import CliRunner

from scoring.commands import main
from scoring.inputs.case.zipped import zipped
from scoring.page.state.log_files import LOG
from scoring.page.state.moved import NOTHING, sound
from tests.page.pages import shown
from tests.page.test_own import (
    LEAFLETS,
    SCREENS,
    at,
    case_of,
    fine,
    go,
    kept,
    opened_file,
    started,
    with_leaflets,
)

__all__ = ["kept"]  # a fixture
MONEY = "scoring/page/money/screen.py"
WHY = "scoring/page/why/screen.py"


def sent(page, monkeypatch):
    """Return the .zip that “Save my case” of a page hands out."""
    made = []
    monkeypatch.setattr(
        "scoring.inputs.case.zipped.zipped",
        lambda *of: made.append(zipped(*of)) or made[-1],
    )
    go(page, "keep")
    return made[-1]


def test_what_is_supposed_and_the_job_log_travel_in_the_zip(monkeypatch):
    """Opened elsewhere the price supposed is named, and the log is there, whole."""
    page = with_leaflets(started(), LEAFLETS[:2])
    page.switch_page(MONEY).run()
    page.slider(key="price_asked").set_value(11_000).run()
    name = page.session_state["money_machine"]
    page.switch_page("scoring/page/log/screen.py").run()
    rows = "".join(f"2026-0{m}-03,waiting room,{30 + m}\n" for m in range(1, 7))
    data = f"day,kind,build min\n{rows}".encode()
    page.file_uploader(key="upload_job_log").upload("jobs.csv", data, "text/csv").run()
    case = sent(page, monkeypatch)
    other = opened_file(at("keep"), "case.zip", case)
    other.switch_page("scoring/page/answer/screen.py").run()
    fine(other)
    assert other.session_state["prices_asked"] == {name: 11_000}
    other.switch_page("scoring/page/log/screen.py").run()
    assert "Read: jobs.csv" in shown(fine(other))
    assert other.session_state["job_log_raw"][LOG] == ("jobs.csv", data)


@pytest.mark.parametrize(
    "page",
    [
        *([], "moves", {"moves": [], "log": {}}, {"log": [["x"], 3, None]}),
        {"log": [[LOG, "jobs.csv", "zz"], [LOG, "a.csv", "00ff"], ["no", "a", ""]]},
        {"moves": {"weights": {"upfront": "much"}, "crew": "two", "rate": 1e300}},
        {"moves": {"prices": {"Ashbeam One": True}, "jobs": 3, "told": {"way": "x"}}},
        {"moves": {"told": {"way": "order", "points": {"upfront": 100.0}}}},
    ],
)
def test_what_anybody_put_beside_a_case_is_looked_at_first(page):
    """What is not sound is left out, and the case opens."""
    own = with_leaflets(started(), LEAFLETS[:1])
    data = zipped(own.session_state["own_case"], page)
    other = opened_file(at("keep"), "case.zip", data)
    other.switch_page(SCREENS["answer"]).run()
    fine(other)
    assert other.session_state["own_case"] == own.session_state["own_case"]
    assert not other.session_state["prices_asked"]


def test_sound_moves_are_numbers_by_name():
    """Each kind of move is kept or left out by itself."""
    moves = {"weights": {"upfront": 40.0}, "jobs": {"a": "b"}, "crew": 2, "other": 1}
    assert sound(moves) == {"weights": {"upfront": 40.0}, "crew": 2}
    assert sound("moves") == {} and set(sound(NOTHING)) <= set(NOTHING)


def test_a_price_supposed_goes_on_under_a_machines_new_name():
    """Its sheet says another name: the price stays with it, and is named so."""
    page = with_leaflets(started(), LEAFLETS[:2])
    page.switch_page(MONEY).run()
    page.selectbox(key="money_machine").set_value("Ashbeam One").run()
    page.slider(key="price_asked").set_value(11_000).run()
    page.session_state["fold_own_sheet"] = True
    go(page, "machines")
    page.selectbox(key="own_machine").set_value("Ashbeam One").run()
    (key,) = [f.key for f in page.text_input if f.key and f.key.endswith("yaml_name")]
    page.text_input(key=key).set_value("Ashbeam Two").run()
    go(page, "answer")
    assert page.session_state["prices_asked"] == {"Ashbeam Two": 11_000}
    assert "Ashbeam Two" in shown(page) and "Ashbeam One" not in shown(page)


def test_weights_kept_in_the_case_rank_as_the_command_line_does(kept):
    """An order told on the screen becomes the brief's weights, no what-if any more."""
    page = with_leaflets(started(), LEAFLETS)
    page.session_state["fold_ways"] = True
    page.session_state["way_to_tell"] = "put in order"
    page.switch_page(WHY).run()
    order = ["heaviest_lift", "year_result", "upfront"]
    page.multiselect(key="ways_order").set_value(order).run()
    page.button(key="ways_by_order").click().run()
    assert "undo_weights" in [button.key for button in page.button]
    page.button(key="keep_weights").click().run()
    fine(page)
    assert "undo_weights" not in [button.key for button in page.button]
    evaluation = page.session_state["seeded_for"]
    asked = ["rank", str(kept / case_of(page)), "--format", "json"]
    outcome = CliRunner().invoke(main, asked)
    assert outcome.exit_code == 0, outcome.output
    found = json.loads(outcome.stdout)["machines"]
    for machine in found:
        k = evaluation.index(machine["name"])
        told = machine["weighted_sum"]
        assert (told is None) == (not evaluation.is_ranked[k])
        if told is not None:
            assert told == pytest.approx(evaluation.weighted_sum[k], abs=1e-6)
    weights = {c: each["weight"] for c, each in found[0]["criteria"].items()}
    # Barron & Barrett (1996), rank order centroid for n = 3: 0.6111, 0.2778, 0.1111.
    told = [weights[name] for name in order]
    assert told == pytest.approx([11 / 18, 5 / 18, 2 / 18], abs=1e-5)
