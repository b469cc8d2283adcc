"""A question that many ask at once is worked out once, and nothing grows for ever."""

import threading
import time

import pytest

from scoring.page.state import shared as module
from scoring.page.state.shared import MOST, forget, n_kept, shared


@pytest.fixture(autouse=True)
def nothing_kept():
    """Each test begins without answers."""
    forget("firm")
    yield
    forget("firm")


def test_whoever_asks_at_once_waits_for_one_answer():
    """Twenty-five threads ask the same: one works it out, all get that very object."""
    model, made, got = object(), [], []

    def make():
        time.sleep(0.05)
        made.append(object())
        return made[-1]

    asked = [
        threading.Thread(
            target=lambda: got.append(shared("firm", (model,), (1,), make))
        )
        for _ in range(25)
    ]
    for one in asked:
        one.start()
    for one in asked:
        one.join()
    assert len(made) == 1
    assert len(got) == 25 and all(one is made[0] for one in got)


def test_other_objects_or_values_are_other_questions():
    """Equal is not the same: an answer belongs to the objects it was made for."""
    first, second = [1], [1]
    answers = [
        shared("firm", (model,), value, object)
        for model in (first, second)
        for value in ("a", "b")
    ]
    assert len({id(answer) for answer in answers}) == 4


def test_only_so_many_answers_are_kept():
    """The one not asked for longest goes first."""
    models = [object() for _ in range(MOST["firm"] + 1)]
    first = shared("firm", models[:1], 0, object)
    for model in models[1:-1]:
        shared("firm", (model,), 0, object)
    assert shared("firm", models[:1], 0, object) is first  # asked for again
    shared("firm", models[-1:], 0, object)
    assert n_kept("firm") == MOST["firm"]
    assert shared("firm", models[:1], 0, object) is first
    assert (id(models[1]), 0) not in module._kept["firm"]


def test_what_is_broken_off_leaves_nothing_and_blocks_nobody():
    """An answer that failed is asked for again."""
    model = object()

    def fail():
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        shared("firm", (model,), 0, fail)
    assert n_kept("firm") == 0
    assert shared("firm", (model,), 0, lambda: "found") == "found"
