"""Errands of the same moment: each has its own outcome, none is told too early."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import func, select

from scoring.errors import ScoringError
from scoring.workshop import answers, tables
from scoring.workshop.answers import give, own_answers
from scoring.workshop.people import join
from scoring.workshop.rooms import move
from scoring.workshop.store import committed, reading
from scoring.workshop.together import Queue, done_together

PATIENCE_S = 10


def told(do):
    """Return what a function returned, or the exception it raised."""
    try:
        return do()
    except Exception as error:  # it is what is looked at
        return error


def waiting(queue, n):
    """Return once n errands wait."""
    end = time.monotonic() + PATIENCE_S
    while len(queue.waiting) < n:
        assert time.monotonic() < end
        time.sleep(0.002)


def behind_the_first(queue, ask, n):
    """Return what n errands were told that came while the first one was at work."""
    is_at_work, may_end = threading.Event(), threading.Event()

    def first():
        is_at_work.set()
        assert may_end.wait(PATIENCE_S)
        return "first"

    with ThreadPoolExecutor(n + 1) as threads:
        leading = threads.submit(told, lambda: ask(first))
        assert is_at_work.wait(PATIENCE_S)
        others = [threads.submit(told, lambda k=k: ask(lambda: k)) for k in range(n)]
        waiting(queue, n)
        assert not any(each.done() for each in others)
        may_end.set()
        return leading.result(PATIENCE_S), [e.result(PATIENCE_S) for e in others]


def test_all_that_wait_are_done_in_one_go():
    """The first is done alone, all that came meanwhile together, each told its own."""
    queue, sizes = Queue(), []

    def do_all(batch):
        sizes.append(len(batch))
        for errand in batch:
            errand.result = errand.do()

    found = behind_the_first(queue, lambda do: done_together(queue, do, do_all), 7)
    assert found == ("first", list(range(7)))
    assert sizes == [1, 7]
    assert not queue.is_led and queue.waiting == []


def test_what_befalls_all_is_told_to_all():
    """Where the whole cannot be kept, nobody is told that it was."""
    queue = Queue()

    def do_all(batch):
        for errand in batch:
            errand.result = errand.do()
        if len(batch) > 1:
            raise ScoringError("the disk is full")

    first, others = behind_the_first(
        queue, lambda do: done_together(queue, do, do_all), 3
    )
    assert first == "first"
    assert [str(each) for each in others] == ["the disk is full"] * 3
    assert done_together(queue, lambda: 5, do_all) == 5  # and it goes on


@pytest.fixture(params=["sqlite"])
def url(tmp_path):
    """Only there errands share a transaction."""
    return f"sqlite:///{tmp_path / 'rooms.sqlite'}"


def test_one_that_is_refused_takes_nobody_along(store, room, monkeypatch):
    """Of nine answers of one moment three are wrong: six are kept, three refused."""
    tokens = [join(store, room.code, f"P{n}", 1, "x").token for n in range(10)]
    move(store, room.token, "first_guess")
    keep, is_inside, may_go_on = answers._kept, threading.Event(), threading.Event()

    def slowly(*args):
        is_inside.set()
        assert may_go_on.wait(PATIENCE_S)
        return keep(*args)

    monkeypatch.setattr(answers, "_kept", slowly)

    def send(n):
        value = 200 if n % 3 == 0 and n else n
        return told(
            lambda: give(store, tokens[n], "first_guess", "sure", value, f"key-{n:05}")
        )

    with ThreadPoolExecutor(10) as threads:
        sent = [threads.submit(send, 0)]
        assert is_inside.wait(PATIENCE_S)
        sent += [threads.submit(send, n) for n in range(1, 10)]
        waiting(store.queue, 9)
        may_go_on.set()
        found = [each.result(PATIENCE_S) for each in sent]
    for n, said in enumerate(found):
        kept = [a.value for a in own_answers(store, tokens[n])]
        if n in (3, 6, 9):
            assert "0 to 100 %" in str(said) and kept == []
        else:
            assert said is True and kept == [n]
    with reading(store) as connection:
        query = select(func.count()).select_from(tables.receipts)
        assert connection.execute(query).scalar() == 7


def test_what_breaks_midway_is_undone_alone(store, room):
    """An errand that wrote and then failed leaves nothing, alone or among others."""
    row = {"role": "trainer", "room_id": 1}

    def seat(name, fails):
        def do(connection):
            connection.execute(tables.seats.insert().values(token_hash=name, **row))
            if fails:
                raise ValueError(name)
            return name

        return do

    assert isinstance(told(lambda: committed(store, seat("a", True))), ValueError)
    is_at_work, may_end = threading.Event(), threading.Event()

    def first(_connection):
        is_at_work.set()
        assert may_end.wait(PATIENCE_S)

    with ThreadPoolExecutor(4) as threads:
        threads.submit(committed, store, first)
        assert is_at_work.wait(PATIENCE_S)
        sent = [
            threads.submit(told, lambda n=n: committed(store, seat(f"s{n}", n == 1)))
            for n in range(3)
        ]
        waiting(store.queue, 3)
        may_end.set()
        found = [each.result(PATIENCE_S) for each in sent]
    assert found[0] == "s0" and found[2] == "s2" and isinstance(found[1], ValueError)
    with reading(store) as connection:
        names = set(connection.execute(select(tables.seats.c.token_hash)).scalars())
    assert names >= {"s0", "s2"} and not names & {"a", "s1"}
