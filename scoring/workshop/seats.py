"""Who somebody is in a room, and what that lets them do: by role, checked here."""

import json
from dataclasses import dataclass
from functools import lru_cache

from sqlalchemy import select

from scoring.errors import ScoringError
from scoring.workshop.keys import token_hash
from scoring.workshop.tables import people, rooms, seats

TRAINER, PROJECTOR, PARTICIPANT = "trainer", "projector", "participant"
UNREAD = {"pack", "salt", "key_hash"}  # of a room: large, or for the door alone
ROOM = tuple(column for column in rooms.c if column.name not in UNREAD)
PERSON = (people.c.id.label("person_id"), people.c.team, people.c.nickname)
NOBODY = "you are not in this room (any more); join it anew"


@dataclass(frozen=True)
class Room:
    """A room as it stands."""

    id: int
    code: str
    title: str
    form: str
    stages: tuple  # ((stage, minutes), …)
    asked: dict  # {stage: {question: kind}}
    stage: str
    is_paused: bool
    shown: frozenset  # what the trainer shows by name
    opened: float
    stage_since: float
    ends: float
    closed: float | None

    @property
    def names(self):
        """The stages in order."""
        return tuple(stage for stage, _ in self.stages)

    @property
    def place(self):
        """Where the room is among its stages, 0 the first."""
        return self.names.index(self.stage)


@dataclass(frozen=True)
class Seat:
    """Somebody who was let in."""

    role: str
    room_id: int
    person_id: int | None = None
    team: int | None = None
    nickname: str | None = None


def seat_of(connection, token, *roles, is_locked=False):
    """Return the Seat of a token.

    Parameters
    ----------
    roles : the roles that may do what is asked; none, all
    is_locked : whether the person is to stay as they are until the transaction ends:
        not removed, and answering nothing else

    Raises
    ------
    ScoringError
        If the token is nobody's, or its role may not.
    """
    hashed = token_hash(token)
    query = select(people).where(people.c.token_hash == hashed)
    if is_locked:
        query = query.with_for_update()
    person = connection.execute(query).first()
    if person is not None:
        found = Seat(
            PARTICIPANT, person.room_id, person.id, person.team, person.nickname
        )
    else:
        row = connection.execute(
            select(seats).where(seats.c.token_hash == hashed)
        ).first()
        if row is None:
            raise ScoringError(NOBODY)
        found = Seat(row.role, row.room_id)
    return _allowed(found, roles)


def _allowed(seat, roles):
    if roles and seat.role not in roles:
        raise ScoringError(f"a {seat.role} may not do that; {' or '.join(roles)} only")
    return seat


def seat_and_room(store, connection, token, *roles, lock=None):
    """Return (Seat, Room) of a token, of a participant's in one query.

    As `seat_of` and `room_at` in turn, which say what is raised.
    """
    query = (
        select(*PERSON, *ROOM)
        .join(rooms, rooms.c.id == people.c.room_id)
        .where(people.c.token_hash == token_hash(token))
    )
    row = connection.execute(_locked(query, lock)).first()
    if row is None:
        seat = seat_of(connection, token, *roles)
        return seat, room_at(store, connection, seat.room_id, lock)
    seat = Seat(PARTICIPANT, row.id, row.person_id, row.team, row.nickname)
    return _allowed(seat, roles), _going_on(store, row)


def room_at(store, connection, room_id, lock=None):
    """Return the Room; ScoringError if it has ended or was deleted.

    Parameters
    ----------
    lock : "share" keeps its stage as it is until the transaction ends, "update" waits
        for those who do, and keeps others away
    """
    query = select(*ROOM).where(rooms.c.id == room_id)
    return _going_on(store, connection.execute(_locked(query, lock)).first())


def _locked(query, lock):
    return query.with_for_update(read=lock == "share", of=rooms) if lock else query


def _going_on(store, row):
    """Return the Room of a row; ScoringError if it has ended or is gone."""
    if row is None or row.ends <= store.clock():
        raise ScoringError("this room has ended; its trainer can open another")
    return Room(
        id=row.id,
        code=row.code,
        title=row.title,
        form=row.form,
        stages=_stages(row.stages),
        asked=_asked(row.asked),
        stage=row.stage,
        is_paused=row.is_paused,
        shown=frozenset(json.loads(row.shown)),
        opened=row.opened,
        stage_since=row.stage_since,
        ends=row.ends,
        closed=row.closed,
    )


@lru_cache(maxsize=64)
def _stages(written):
    return tuple(map(tuple, json.loads(written)))


@lru_cache(maxsize=64)
def _asked(written):
    """Return {stage: {question: kind}}; it never changes while a room lasts."""
    return {stage: dict(kinds) for stage, kinds in json.loads(written).items()}


def check_open(room):
    """Raise ScoringError if a room takes nothing more."""
    if room.closed is not None:
        raise ScoringError("this room is closed; nothing more is taken")
