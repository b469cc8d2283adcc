"""The table of what turns out bad: the place now beside the place then."""

from contextlib import nullcontext
from types import SimpleNamespace

from scoring.page.firm import turning


def test_place_now_and_place_then_stand_in_their_columns(monkeypatch):
    """Alder falls from first to third, Cedar, second, is out then; Birch tells all."""
    evaluation = SimpleNamespace(
        order=[0, 2, 1], names=["Alder", "Birch", "Cedar"], rank_weighted_sum=[1, 3, 2]
    )
    found = SimpleNamespace(evaluation=evaluation, bad_ranks=[3, 1, 0])
    shown = []
    page = SimpleNamespace(
        container=lambda key: nullcontext(),
        expander=lambda name: nullcontext(),
        caption=lambda said: None,
    )
    words = SimpleNamespace(
        heading=lambda said: None,
        table=lambda head, rows, *rest: shown.append((head, rows)),
        listed=lambda rows: None,
    )
    monkeypatch.setattr(turning, "st", page)
    monkeypatch.setattr(turning, "text", words)
    monkeypatch.setattr(turning, "unknowns", lambda evaluation, k: k != 1)
    turning.bad_news(found)
    ((head, rows),) = shown
    assert head == ["machine", "place now", "place then"]
    assert rows == [["Alder", "1st", "3rd"], ["Cedar", "2nd", turning.OUT]]
