"""An id in the address leads to a case's own file, or nowhere."""

from types import SimpleNamespace

import pytest

from scoring.page.state import kept

OURS = "aB3_-" * 4 + "zz"  # 22 letters, digits, _ and -


@pytest.fixture
def opened(monkeypatch, tmp_path):
    """Return the function that opens the page with an id: what was read of it."""
    folder = tmp_path / "kept"
    folder.mkdir()
    for place in (tmp_path / "outside.json", folder / f"{OURS}.json"):
        place.write_text("{}", "utf-8")

    def open_(case):
        page = SimpleNamespace(query_params={"case": case}, session_state={})
        read = []
        monkeypatch.setattr(kept, "st", page)
        monkeypatch.setattr(kept, "folder", lambda: folder)
        monkeypatch.setattr(
            kept, "bring_back_own", lambda place, case: read.append(case)
        )
        monkeypatch.setattr(kept, "_set", read.append)
        kept.bring_back()
        return read, page.session_state.get("case")

    return open_


def test_an_id_of_ours_opens_its_case(opened):
    """What was kept under the id is brought back, and the id stays."""
    assert opened(OURS) == ([OURS, {}], OURS)


@pytest.mark.parametrize(
    "case", ["../outside", f"../kept/{OURS}", f"{OURS}.json", OURS[1:], f"{OURS}\n"]
)
def test_an_id_that_leads_elsewhere_reads_nothing(opened, case):
    """There is a file at each of these places or near it, and none is opened."""
    assert opened(case) == ([], None)
