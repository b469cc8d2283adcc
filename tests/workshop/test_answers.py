"""Answers: kept once, in their stage, acknowledged only then; on both stores."""

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import func, select

from scoring.errors import ScoringError
from scoring.workshop import answers, tables
from scoring.workshop.answers import give, give_on_paper, own_answers, room_answers
from scoring.workshop.people import add_on_paper, join
from scoring.workshop.rooms import close, move, pause
from scoring.workshop.store import reading


@pytest.fixture
def ash(store, room):
    """The token of somebody in the room, which is at the first guess."""
    token = join(store, room.code, "Ash", 1, "phone").token
    move(store, room.token, "first_guess")
    return token


def receipts(store):
    """Return how many answers were acknowledged."""
    with reading(store) as connection:
        query = select(func.count()).select_from(tables.receipts)
        return connection.execute(query).scalar()


def test_the_latest_answer_counts(store, room, ash):
    """One current answer a question; the same key sent again changes nothing."""
    assert give(store, ash, "first_guess", "sure", 40, "key-00001")
    assert give(store, ash, "first_guess", "sure", 60, "key-00002")
    assert not give(store, ash, "first_guess", "sure", 40, "key-00001")
    assert [a.value for a in own_answers(store, ash)] == [60]
    assert receipts(store) == 2


def test_a_lost_acknowledgement_comes_again_after_the_move(store, room, ash):
    """An answer that was kept is acknowledged again, whatever the room does since."""
    give(store, ash, "first_guess", "sure", 40, "key-00001")
    move(store, room.token, "buyer")
    assert not give(store, ash, "first_guess", "sure", 40, "key-00001")
    close(store, room.token)
    assert not give(store, ash, "first_guess", "sure", 40, "key-00001")
    assert [(a.stage, a.value) for a in own_answers(store, ash)] == [
        ("first_guess", 40)
    ]


def test_what_comes_too_late_is_refused(store, room, ash):
    """After the stage, before it, or while the room is paused: a sentence each."""
    for stage in ("join", "buyer", "party"):
        with pytest.raises(ScoringError, match="moved on to first guess; .* not kept"):
            give(store, ash, stage, "ranks", list("ABCDEFGH"), "key-00001")
    pause(store, room.token, True)
    with pytest.raises(ScoringError, match="is paused"):
        give(store, ash, "first_guess", "sure", 40, "key-00001")
    pause(store, room.token, False)
    assert give(store, ash, "first_guess", "sure", 40, "key-00001")


ANSWERS = {
    "ranks": (list("HGFEDCBA"), [list("ABC"), "ABCDEFGH", list("AABCDEFG"), [[]], 1]),
    "sure": (100, [-1, 101, "50", True, None, float("nan"), [50]]),
    "before.heavy_base": (4, [0, 5, 1.0, "1", True, None]),
}


@pytest.mark.parametrize("question", ANSWERS)
def test_what_may_be_answered(store, ash, question):
    """A right answer is kept; anything else gets what is allowed, and is not kept."""
    right, wrong = ANSWERS[question]
    for n, value in enumerate(wrong):
        with pytest.raises(ScoringError, match="is not allowed here; "):
            give(store, ash, "first_guess", question, value, f"key-{n:05}")
    assert own_answers(store, ash) == ()
    assert give(store, ash, "first_guess", question, right, "key-90000")


def test_a_move_waits_for_an_answer_that_is_being_kept(store, room, ash, monkeypatch):
    """While an answer is on its way into the store, the stage stays what it was."""
    keep, is_inside, may_go_on = answers._kept, threading.Event(), threading.Event()

    def slowly(*told):
        is_inside.set()
        assert may_go_on.wait(10)
        return keep(*told)

    monkeypatch.setattr(answers, "_kept", slowly)
    with ThreadPoolExecutor(2) as threads:
        told = ("first_guess", "sure", 40, "key-00001")
        given = threads.submit(give, store, ash, *told)
        assert is_inside.wait(10)
        moved = threads.submit(move, store, room.token, "buyer")
        with pytest.raises(TimeoutError):
            moved.result(timeout=0.5)
        may_go_on.set()
        assert given.result() and moved.result().stage == "buyer"
    assert [(a.stage, a.value) for a in own_answers(store, ash)] == [
        ("first_guess", 40)
    ]


def test_a_prediction_is_made_once(store, room, ash):
    """Who leads is predicted before the outcome is seen: another letter is refused."""
    for stage in ("buyer", "prices", "reveal", "swap"):
        move(store, room.token, stage)
    said = {"letter": "C", "sure": 70}
    assert give(store, ash, "swap", "leads.next", said, "key-00001")
    assert give(store, ash, "swap", "leads.next", said, "key-00002")
    for n, other in enumerate(
        [{"letter": "D", "sure": 70}, {"letter": "C", "sure": 9}]
    ):
        with pytest.raises(ScoringError, match="you have predicted C; that stands"):
            give(store, ash, "swap", "leads.next", other, f"key-1000{n}")
    assert [a.value for a in own_answers(store, ash)] == [said]


def test_an_envelope_stays_open(store, room, ash):
    """The order of envelopes only grows."""
    for stage in ("buyer", "prices", "reveal", "swap", "visit"):
        move(store, room.token, stage)
    for n, order in enumerate([[], [2], [2, 5]]):
        assert give(store, ash, "visit", "order", order, f"key-0000{n}")
    for n, order in enumerate([[5, 2], [2], [], [1, 2, 5]]):
        with pytest.raises(ScoringError, match="stays open"):
            give(store, ash, "visit", "order", order, f"key-1000{n}")
    assert give(store, ash, "visit", "order", [2, 5, 1], "key-20000")


@pytest.mark.parametrize("key", ["", "short", "x" * 65, "with space", None, 12345678])
def test_keys_of_answers_that_are_none(store, ash, key):
    """A client key is 8 to 64 letters and digits."""
    with pytest.raises(ScoringError, match="8 to 64 letters and digits"):
        give(store, ash, "first_guess", "sure", 40, key)


def test_paper_answers_are_typed_in(store, room, ash):
    """The trainer types in paper for this stage or an earlier one, for nobody else."""
    person = add_on_paper(store, room.token, "Paper 1", 2)
    move(store, room.token, "buyer")
    told = (person.id, "first_guess", "sure", 30)
    assert give_on_paper(store, room.token, *told, "key-00001")
    assert not give_on_paper(store, room.token, *told, "key-00001")
    with pytest.raises(ScoringError, match="has not come yet"):
        give_on_paper(store, room.token, person.id, "prices", "prices", {}, "key-00002")
    of_ash = person.id - 1
    with pytest.raises(ScoringError, match="nobody on paper"):
        give_on_paper(store, room.token, of_ash, "buyer", "sure", 30, "key-00003")
    with pytest.raises(ScoringError, match="trainer only"):
        give_on_paper(store, ash, *told, "key-00004")
    assert [a.person_id for a in room_answers(store, room.token)] == [person.id]


def test_the_same_answer_twice_at_once_counts_once(store, room, ash):
    """Eight sends of one key at the same moment: one is new, all are acknowledged."""
    gate = threading.Barrier(8)

    def send(_):
        gate.wait()
        return give(store, ash, "first_guess", "sure", 55, "key-00001")

    with ThreadPoolExecutor(8) as threads:
        found = list(threads.map(send, range(8)))
    assert sorted(found) == [False] * 7 + [True]
    assert receipts(store) == len(own_answers(store, ash)) == 1


def test_the_stage_moves_while_answers_arrive(store, room, ash):
    """Each answer is acknowledged and kept in its stage, or refused with a sentence."""
    tokens = [join(store, room.code, f"P{n}", 1, "phone").token for n in range(12)]
    kept, refused, gate = [], [], threading.Barrier(13)

    def send(n):
        gate.wait()
        for k in range(12):
            try:
                give(store, tokens[n], "first_guess", "sure", k, f"key-{n:03}-{k:03}")
                kept.append((n, k))
            except ScoringError as error:
                refused.append(str(error))

    def step():
        gate.wait()
        for _ in range(3):
            move(store, room.token, "buyer")
            move(store, room.token, "first_guess")
        move(store, room.token, "buyer")

    with ThreadPoolExecutor(13) as threads:
        done = [threads.submit(send, n) for n in range(12)] + [threads.submit(step)]
        for each in done:
            each.result()
    assert len(kept) + len(refused) == 144
    assert all("moved on to buyer; this answer was not kept" in r for r in refused)
    assert receipts(store) == len(kept)
    last = {n: k for n, k in sorted(kept)}
    found = {a.person_id: a for a in room_answers(store, room.token)}
    assert len(found) == len(last)
    assert sorted(a.value for a in found.values()) == sorted(last.values())
    assert {a.stage for a in found.values()} <= {"first_guess"}
