"""Who somebody is in a room, and what that lets them do: by role, checked here."""

import json
from dataclasses import dataclass

from sqlalchemy import select

from scoring.errors import ScoringError
from scoring.workshop.keys import token_hash
from scoring.workshop.tables import people, rooms, seats

TRAINER, PROJECTOR, PARTICIPANT = "trainer", "projector", "participant"


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
        found = Seat(PARTICIPANT, person.room_id, person.id, person.team)
    else:
        row = connection.execute(
            select(seats).where(seats.c.token_hash == hashed)
        ).first()
        if row is None:
            raise ScoringError("you are not in this room (any more); join it anew")
        found = Seat(row.role, row.room_id)
    if roles and found.role not in roles:
        raise ScoringError(f"a {found.role} may not do that; {' or '.join(roles)} only")
    return found


def room_at(store, connection, room_id, lock=None):
    """Return the Room; ScoringError if it has ended or was deleted.

    Parameters
    ----------
    lock : "share" keeps its stage as it is until the transaction ends, "update" waits
        for those who do, and keeps others away
    """
    query = select(rooms).where(rooms.c.id == room_id)
    if lock:
        query = query.with_for_update(read=lock == "share")
    row = connection.execute(query).first()
    if row is None or row.ends <= store.clock():
        raise ScoringError("this room has ended; its trainer can open another")
    return room_of_row(row)


def room_of_row(row):
    """Return the Room of a row."""
    return Room(
        id=row.id,
        code=row.code,
        title=row.title,
        form=row.form,
        stages=tuple(map(tuple, json.loads(row.stages))),
        asked=json.loads(row.asked),
        stage=row.stage,
        is_paused=row.is_paused,
        shown=frozenset(json.loads(row.shown)),
        opened=row.opened,
        stage_since=row.stage_since,
        ends=row.ends,
        closed=row.closed,
    )


def check_open(room):
    """Raise ScoringError if a room takes nothing more."""
    if room.closed is not None:
        raise ScoringError("this room is closed; nothing more is taken")
