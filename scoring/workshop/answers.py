"""Answers: acknowledged once they are kept, in the stage in which they were given."""

import json
from dataclasses import dataclass

from sqlalchemy import select

from scoring.errors import ScoringError, shown
from scoring.workshop.asked import checked_answer
from scoring.workshop.keys import CLIENT_KEY
from scoring.workshop.seats import (
    PARTICIPANT,
    TRAINER,
    check_open,
    room_at,
    seat_and_room,
    seat_of,
)
from scoring.workshop.store import committed, reading, upsert, writing
from scoring.workshop.tables import answers, people, receipts


@dataclass(frozen=True)
class Answer:
    """What a person said to a question in a stage; the latest counts."""

    person_id: int
    stage: str
    question: str
    value: object


def give(store, token, stage, question, value, client_key):
    """Return whether the answer is new; it is kept by then, also where it is not new.

    Parameters
    ----------
    stage : the stage that the person sees
    value : as `checked_answer` takes it
    client_key : 8 to 64 letters and digits, another for each answer; sent again after a
        lost network, the answer counts once

    Raises
    ------
    ScoringError
        If the room has moved on, is paused or closed, or the answer is none.
    """
    _check_key(client_key)
    told = stage, question, value, client_key
    return committed(store, lambda connection: _given(store, connection, token, *told))


def _given(store, connection, token, stage, question, value, client_key):
    # The room first, then the person: as whoever deletes a room takes them.
    seat, room = seat_and_room(store, connection, token, PARTICIPANT, lock="share")
    if not store.is_sqlite:  # there nobody else writes meanwhile
        seat = seat_of(connection, token, PARTICIPANT, is_locked=True)
    try:
        kind = _kind_taken(room, stage, question)
        written = checked_answer(kind, value)
        _check_may_change(connection, seat.person_id, stage, question, kind, value)
    except ScoringError:
        if _is_known(connection, seat.person_id, client_key):
            return False
        raise
    where = (room.id, seat.person_id, stage, question)
    return _kept(store, connection, where, written, client_key)


def _kind_taken(room, stage, question):
    """Return the kind of a question that the room takes answers to just now."""
    check_open(room)
    if room.stage != stage:
        raise ScoringError(
            f"the room has moved on to {room.stage.replace('_', ' ')}; this answer "
            "was not kept"
        )
    if room.is_paused:
        raise ScoringError("the room is paused; wait for the trainer")
    return _kind(room, stage, question)


def give_on_paper(store, token, person_id, stage, question, value, client_key):
    """Return whether an answer on paper is new; its stage is this one or an earlier."""
    _check_key(client_key)
    with writing(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        room = room_at(store, connection, seat.room_id, lock="share")
        check_open(room)
        query = select(people).where(
            people.c.id == person_id, people.c.room_id == seat.room_id
        )
        person = connection.execute(query).first()
        if person is None or person.token_hash is not None:
            raise ScoringError("nobody on paper is called that; add the person first")
        if stage not in room.names[: room.place + 1]:
            raise ScoringError(f"stage: {shown(stage)} has not come yet")
        written = checked_answer(_kind(room, stage, question), value)
        where = (room.id, person.id, stage, question)
        return _kept(store, connection, where, written, client_key)


def _check_key(client_key):
    if not isinstance(client_key, str) or not CLIENT_KEY.fullmatch(client_key):
        raise ScoringError(
            f"key: {shown(client_key)} is none; 8 to 64 letters and digits"
        )


def _is_known(connection, person_id, client_key):
    query = select(receipts.c.id).where(
        receipts.c.person_id == person_id, receipts.c.client_key == client_key
    )
    return connection.execute(query).first() is not None


def _kind(room, stage, question):
    """Return the kind of a question of a stage."""
    asked = room.asked[stage]
    if not isinstance(question, str) or question not in asked:
        raise ScoringError(
            f"question: {shown(question)} is not asked in {stage}; "
            f"{', '.join(asked) or 'nothing is'}"
        )
    return asked[question]


def _check_may_change(connection, person_id, stage, question, kind, value):
    """Raise ScoringError where an answer stands: its outcome may have been seen.

    A prediction of who leads is made once; an envelope that was opened stays open.
    """
    name = kind.partition(" ")[0]
    if name not in ("leader", "order"):
        return
    query = select(answers.c.value).where(
        answers.c.person_id == person_id,
        answers.c.stage == stage,
        answers.c.question == question,
    )
    written = connection.execute(query).scalar()
    before = None if written is None else json.loads(written)
    if name == "leader" and before not in (None, value):
        raise ScoringError(f"you have predicted {before['letter']}; that stands")
    if name == "order" and before and value[: len(before)] != before:
        raise ScoringError("an envelope that was opened stays open; open another")


def _kept(store, connection, where, written, client_key):
    """Return whether the answer is new, after it was written with its receipt."""
    room_id, person_id, stage, question = where
    insert, now = upsert(store), store.clock()
    receipt = connection.execute(
        insert(receipts)
        .values(person_id=person_id, client_key=client_key, given=now)
        .on_conflict_do_nothing(index_elements=["person_id", "client_key"])
        .returning(receipts.c.id)
    ).first()
    if receipt is None:  # the same answer came twice at once
        return False
    told = {"value": written, "given": now}
    connection.execute(
        insert(answers)
        .values(
            room_id=room_id,
            person_id=person_id,
            stage=stage,
            question=question,
            **told,
        )
        .on_conflict_do_update(
            index_elements=["person_id", "stage", "question"], set_=told
        )
    )
    return True


def own_answers(store, token):
    """Return the Answers of the person whose token it is."""
    with reading(store) as connection:
        seat = seat_of(connection, token, PARTICIPANT)
        return _listed(connection, answers.c.person_id == seat.person_id)


def room_answers(store, token):
    """Return all Answers of a room, without names; for its trainer alone."""
    with reading(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        return answers_in(connection, seat.room_id)


def answers_in(connection, room_id, stage=None, person_id=None):
    """Return the Answers of a room, of one stage or person alone where it is named.

    Who may see what of them, `session` says.
    """
    where = [answers.c.room_id == room_id]
    if stage is not None:
        where.append(answers.c.stage == stage)
    if person_id is not None:
        where.append(answers.c.person_id == person_id)
    return _listed(connection, *where)


def _listed(connection, *where):
    query = select(answers).where(*where).order_by(answers.c.id)
    return tuple(
        Answer(row.person_id, row.stage, row.question, json.loads(row.value))
        for row in connection.execute(query)
    )
