"""What somebody sees of a room right now: one reading of the store, by their role."""

from collections import Counter
from dataclasses import dataclass, field

from scoring.workshop.answers import answers_in
from scoring.workshop.people import Person, listed, sitting
from scoring.workshop.seats import PARTICIPANT, TRAINER, Room, seat_and_room
from scoring.workshop.session import (
    Named,
    Tally,
    askings,
    buyer_of,
    is_dealt,
    may_see,
    named,
    seconds_left,
    tallies,
    tallies_for_participants,
)
from scoring.workshop.store import reading


@dataclass(frozen=True)
class View:
    """A room as one role sees it; what is not for it is empty or None."""

    role: str
    room: Room
    seconds_left: float
    n_people: int | None  # not for participants
    may_see: frozenset  # which of the toolkit's answers
    tallies: tuple[Tally, ...]
    named: tuple[Named, ...]
    person: Person | None = None  # oneself
    buyer: int | None = None  # the own team's, once it is dealt
    askings: tuple = ()  # what one is asked
    people: tuple[Person, ...] = ()  # for the trainer
    teams: dict = field(default_factory=dict)  # {team: how many}, not for participants


def what_is_seen(store, token, plan):
    """Return the View of whoever has this token.

    Parameters
    ----------
    plan : the ExercisePlan of the room's pack

    Raises
    ------
    ScoringError
        If the token is nobody's or the room has ended.
    """
    with reading(store) as connection:
        seat, room = seat_and_room(store, connection, token)
        # Of the others nothing is read that is not shown.
        alone = seat.person_id if not room.shown else None
        people = () if alone else listed(connection, seat.room_id)
        answers = answers_in(connection, room.id, room.stage, alone)
    left = seconds_left(room, store.clock())
    if seat.role == PARTICIPANT:
        return _participants(room, plan, seat, people, answers, left)
    is_trainer = seat.role == TRAINER
    return View(
        role=seat.role,
        room=room,
        seconds_left=left,
        n_people=len(people),
        may_see=may_see(room, is_trainer),
        tallies=tallies(room, people, answers, is_trainer),
        named=named(room, people, answers, is_trainer),
        people=people if is_trainer else (),
        teams=dict(sorted(Counter(person.team for person in people).items())),
    )


def _participants(room, plan, seat, people, answers, left):
    own = tuple(a for a in answers if a.person_id == seat.person_id)
    is_taken = not room.is_paused and room.closed is None
    return View(
        role=seat.role,
        room=room,
        seconds_left=left,
        n_people=None,
        may_see=may_see(room),
        tallies=tallies_for_participants(room, people, answers),
        named=named(room, people, answers),
        person=sitting(seat),
        buyer=buyer_of(seat.team) if is_dealt(room) else None,
        askings=askings(room, plan, own) if is_taken else (),
    )
