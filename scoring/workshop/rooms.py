"""Rooms: opened, entered, moved on, paused, closed, deleted."""

import json
from dataclasses import dataclass

from sqlalchemy import delete, func, insert, select, update

from scoring.errors import ScoringError, shown
from scoring.workshop import keys
from scoring.workshop.asked import asked_of
from scoring.workshop.guesses import (
    FORGOTTEN_S,
    check_may_guess,
    count_wrong,
    forget,
)
from scoring.workshop.pack import MOST_MINUTES, NEEDED, STAGES
from scoring.workshop.pack_files import packed
from scoring.workshop.seats import (
    PROJECTOR,
    TRAINER,
    check_open,
    room_at,
    seat_and_room,
    seat_of,
)
from scoring.workshop.store import reading, take_turn, writing
from scoring.workshop.tables import guesses, rooms, seats

MOST_ROOMS = 50
DAYS = 30
FORMS = ("long", "hour")
SHOWABLE = ("answers", "results", "names")
TRIES = 20  # to draw a code that no other room has


@dataclass(frozen=True)
class Opened:
    """A room that was just opened; the key is shown once and kept nowhere."""

    code: str
    key: str
    token: str


def open_room(store, pack, form="long", minutes=None):
    """Return the Opened of a new room.

    Parameters
    ----------
    minutes : {stage: minutes}, optional
        The stages that the room has; left out, all of the form, as the pack times them.

    Raises
    ------
    ScoringError
        If the form is none of the two, a stage is lacking or unknown, its minutes are
        not 1 to 120, or there are too many rooms.
    """
    if form not in FORMS:
        raise ScoringError(f"form: {shown(form)} is none; one of {', '.join(FORMS)}")
    if minutes is None:
        minutes = {s.stage: s.minutes for s in getattr(pack.plan.stages, form)}
    stages = _checked_stages(minutes)
    with writing(store) as connection:
        take_turn(store, connection)
        now = store.clock()
        _sweep(connection, now)
        n_open = connection.execute(
            select(func.count()).where(rooms.c.closed.is_(None))
        ).scalar_one()
        if n_open >= MOST_ROOMS:
            raise ScoringError(f"{n_open} rooms are open; close one first")
        key, salt = keys.new_key(), keys.new_salt()
        code = _free_code(connection)
        room_id = connection.execute(
            insert(rooms)
            .values(
                code=code,
                salt=salt,
                key_hash=keys.key_hash(key, salt),
                title=pack.plan.title,
                pack=packed(pack),
                form=form,
                stages=json.dumps(stages),
                asked=json.dumps(asked_of(pack.plan, [name for name, _ in stages])),
                stage=stages[0][0],
                is_paused=False,
                shown="[]",
                opened=now,
                stage_since=now,
                ends=now + DAYS * 86_400,
            )
            .returning(rooms.c.id)
        ).scalar_one()
        return Opened(code, key, _new_seat(connection, room_id, TRAINER))


def _checked_stages(minutes):
    """Return [(stage, minutes)] in the order of the exercise."""
    if lacking := [stage for stage in NEEDED if stage not in minutes]:
        raise ScoringError(f"stages: without {', '.join(lacking)}; they are needed")
    for stage, length in minutes.items():
        if stage not in STAGES:
            raise ScoringError(f"stages: {shown(stage)}; of {', '.join(STAGES)}")
        is_whole = isinstance(length, int) and not isinstance(length, bool)
        if not (is_whole and 1 <= length <= MOST_MINUTES):
            what = f"stages: {stage}: {shown(length)} min"
            raise ScoringError(f"{what}; 1 to {MOST_MINUTES}")
    return [(stage, minutes[stage]) for stage in STAGES if stage in minutes]


def _sweep(connection, now):
    """Delete what has ended, and guesses that are forgotten."""
    connection.execute(delete(rooms).where(rooms.c.ends <= now))
    connection.execute(delete(guesses).where(guesses.c.last < now - FORGOTTEN_S))


def _free_code(connection):
    for _ in range(TRIES):
        code = keys.new_code()
        if connection.execute(select(rooms.c.id).where(rooms.c.code == code)).first():
            continue
        return code
    raise ScoringError("no code is free; try again")


def _new_seat(connection, room_id, role):
    token = keys.new_token()
    connection.execute(
        insert(seats).values(
            room_id=room_id, role=role, token_hash=keys.token_hash(token)
        )
    )
    return token


def room_by_code(store, connection, code):
    """Return the row of a code that is open to be entered, None if there is none."""
    typed = keys.typed_code(code)
    query = select(rooms).where(rooms.c.code == typed, rooms.c.ends > store.clock())
    return connection.execute(query).first() if typed else None


def enter_as_trainer(store, code, key, caller):
    """Return the token of a trainer who has the key, on another device or anew.

    Raises
    ------
    ScoringError
        If code or key are wrong – which of them is not said – or were too often.
    """
    check_may_guess(store, caller)
    with reading(store) as connection:
        row = room_by_code(store, connection, code)
    # A hash is made for a wrong code too, so that the time tells nothing.
    salt, kept = (row.salt, row.key_hash) if row else (b"-" * 16, b"")
    if not keys.is_key(key, salt, kept):
        count_wrong(store, caller)
        raise ScoringError("code and key do not belong together; as on the first page")
    forget(store, caller)
    with writing(store) as connection:
        return _new_seat(connection, row.id, TRAINER)


def leave(store, token):
    """Give a trainer's or a projector's token up; the room stays as it is."""
    with writing(store) as connection:
        hashed = keys.token_hash(token)
        connection.execute(delete(seats).where(seats.c.token_hash == hashed))


def projector_token(store, token):
    """Return a token for a screen that all can see; its trainer asks for it."""
    with writing(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        return _new_seat(connection, seat.room_id, PROJECTOR)


def room_of(store, token):
    """Return the Room that a token is for."""
    with reading(store) as connection:
        return seat_and_room(store, connection, token)[1]


def pack_bytes(store, token):
    """Return the .zip that the room was opened with."""
    with reading(store) as connection:
        seat = seat_of(connection, token)
        query = select(rooms.c.pack).where(rooms.c.id == seat.room_id)
        return connection.execute(query).scalar_one()


def move(store, token, stage):
    """Return the Room moved to a stage, the next one or the one before.

    It waits for answers that are just being kept, and whoever comes later finds the new
    stage. Asked twice, it moves once. What was shown at a stage is hidden at another:
    nobody is to see there what others say before having said it.
    """

    def moved(room):
        if stage not in room.names:
            raise ScoringError(
                f"stage: {shown(stage)} is none of this room; {', '.join(room.names)}"
            )
        away = abs(room.names.index(stage) - room.place)
        if away > 1:
            raise ScoringError(
                f"stage: from {room.stage} one stage on or back, not to {stage}"
            )
        told = {"stage": stage, "stage_since": store.clock(), "shown": "[]"}
        return told if away else {}

    return _changed(store, token, moved)


def pause(store, token, is_paused):
    """Return the Room paused, or going on: paused, it takes no answers."""
    return _changed(store, token, lambda room: {"is_paused": bool(is_paused)})


def show(store, token, what, is_shown=True):
    """Return the Room that shows the `answers`, `results` or `names`, or hides them."""
    if what not in SHOWABLE:
        raise ScoringError(f"show: {shown(what)}; one of {', '.join(SHOWABLE)}")

    def changed(room):
        left = room.shown - {what}
        return {"shown": json.dumps(sorted(left | {what} if is_shown else left))}

    return _changed(store, token, changed)


def close(store, token):
    """Return the Room closed: it can be read until it ends, and takes nothing more."""
    return _changed(store, token, lambda room: {"closed": store.clock()})


def _changed(store, token, change):
    with writing(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        room = room_at(store, connection, seat.room_id, lock="update")
        check_open(room)
        if told := change(room):
            connection.execute(update(rooms).where(rooms.c.id == room.id).values(told))
        return room_at(store, connection, seat.room_id)


def delete_room(store, token):
    """Delete a room and all that was said in it."""
    with writing(store) as connection:
        seat = seat_of(connection, token, TRAINER)
        connection.execute(delete(rooms).where(rooms.c.id == seat.room_id))
