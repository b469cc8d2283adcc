"""People in a room: a nickname, a team, and nothing else about them."""

from contextlib import contextmanager
from dataclasses import dataclass

from sqlalchemy import delete, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from scoring.errors import ScoringError, shown
from scoring.workshop import keys
from scoring.workshop.guesses import check_may_guess, count_wrong, forget
from scoring.workshop.names import folded, nickname_of
from scoring.workshop.rooms import room_by_code
from scoring.workshop.seats import (
    PARTICIPANT,
    TRAINER,
    check_open,
    room_at,
    seat_of,
)
from scoring.workshop.store import reading, writing
from scoring.workshop.tables import people

MOST_PEOPLE = 200
MOST_TEAMS = 20


@dataclass(frozen=True)
class Person:
    """Somebody in a room."""

    id: int
    nickname: str
    team: int
    is_on_paper: bool


@dataclass(frozen=True)
class Joined:
    """Somebody who just joined, and the token that lets them come back."""

    token: str
    person: Person


def join(store, code, nickname, team, caller):
    """Return the Joined of somebody with a room's code.

    Raises
    ------
    ScoringError
        If the code is wrong, or was too often; the nickname is none, or taken; the room
        is full or closed.
    """
    check_may_guess(store, caller)
    with reading(store) as connection:
        row = room_by_code(store, connection, code)
    if row is None:
        count_wrong(store, caller)
        raise ScoringError("no room has this code; six letters, as on the screen")
    token = keys.new_token()
    person = _added(store, row.id, nickname, team, keys.token_hash(token))
    forget(store, caller)
    return Joined(token, person)


def add_on_paper(store, token, nickname, team):
    """Return the Person whose answers come on paper; the trainer types them in."""
    with reading(store) as connection:
        seat = seat_of(connection, token, TRAINER)
    return _added(store, seat.room_id, nickname, team, None)


def _added(store, room_id, nickname, team, hashed):
    name, team = nickname_of(nickname), _team_of(team)
    with _once(name), writing(store) as connection:
        # Waits for others who join: so nobody is one too many.
        check_open(room_at(store, connection, room_id, lock="update"))
        count = select(func.count()).where(people.c.room_id == room_id)
        if connection.execute(count).scalar_one() >= MOST_PEOPLE:
            raise ScoringError(f"the room is full; {MOST_PEOPLE} people or fewer")
        _check_free(connection, room_id, name)
        row = connection.execute(
            insert(people)
            .values(
                room_id=room_id,
                nickname=name,
                folded=folded(name),
                team=team,
                token_hash=hashed,
                joined=store.clock(),
            )
            .returning(people)
        ).one()
        return _person(row)


def _check_free(connection, room_id, name, but=None):
    query = select(people.c.id).where(
        people.c.room_id == room_id, people.c.folded == folded(name)
    )
    found = connection.execute(query).scalar()
    if found not in (None, but):
        raise _taken_by_another(name)


def _taken_by_another(name):
    return ScoringError(f"nickname: {shown(name)} is taken in this room; another one")


@contextmanager
def _once(name):
    """Say that a nickname is taken where two of the same come at once."""
    try:
        yield
    except ScoringError as error:
        if isinstance(error.__cause__, IntegrityError):
            raise _taken_by_another(name) from None
        raise


def _team_of(written):
    is_whole = isinstance(written, int) and not isinstance(written, bool)
    if not (is_whole and 1 <= written <= MOST_TEAMS):
        raise ScoringError(f"team: {shown(written)} is none; 1 to {MOST_TEAMS}")
    return written


def rename(store, token, nickname):
    """Return the Person under another nickname."""
    name = nickname_of(nickname)
    with _once(name), writing(store) as connection:
        seat = seat_of(connection, token, PARTICIPANT)
        check_open(room_at(store, connection, seat.room_id))
        _check_free(connection, seat.room_id, name, but=seat.person_id)
        told = {"nickname": name, "folded": folded(name)}
        return _updated(connection, seat.person_id, told)


def change_team(store, token, team):
    """Return the Person in another team, as long as no buyer was dealt."""
    team = _team_of(team)
    with writing(store) as connection:
        seat = seat_of(connection, token, PARTICIPANT)
        room = room_at(store, connection, seat.room_id, lock="share")
        check_open(room)
        if room.place > 1:
            raise ScoringError("team: the buyers are dealt; teams stay as they are")
        return _updated(connection, seat.person_id, {"team": team})


def _updated(connection, person_id, told):
    where = people.c.id == person_id
    row = connection.execute(
        update(people).where(where).values(told).returning(people)
    ).first()
    return _person(row)


def remove(store, token, person_id):
    """Remove a person and all their answers; the trainer alone may."""
    with writing(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        connection.execute(
            delete(people).where(
                people.c.id == person_id, people.c.room_id == seat.room_id
            )
        )


def people_in(store, token):
    """Return the Persons of a room, in the order in which they joined; for trainers."""
    with reading(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        return listed(connection, seat.room_id)


def myself(store, token):
    """Return the Person whose token it is."""
    with reading(store) as connection:
        seat = seat_of(connection, token, PARTICIPANT)
        query = select(people).where(people.c.id == seat.person_id)
        return _person(connection.execute(query).one())


def sitting(seat):
    """Return the Person who sits on a participant's Seat; it is no paper that sits."""
    return Person(seat.person_id, seat.nickname, seat.team, is_on_paper=False)


def listed(connection, room_id):
    """Return the Persons of a room; who may see what of them, `session` says."""
    query = select(people).where(people.c.room_id == room_id).order_by(people.c.id)
    return tuple(map(_person, connection.execute(query)))


def _person(row):
    return Person(row.id, row.nickname, row.team, row.token_hash is None)
