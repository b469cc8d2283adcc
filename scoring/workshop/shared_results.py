"""What the exercise showed, for whoever may see it at the room's stage."""

from dataclasses import replace

from scoring.workshop.answers import answers_in
from scoring.workshop.people import listed
from scoring.workshop.results import room_result, said_in, team_result
from scoring.workshop.seats import TRAINER, room_at, seat_of
from scoring.workshop.session import FEWEST, may_see
from scoring.workshop.store import reading


def teams_seen(store, token, pack, found):
    """Return the TeamResult of each team, () before the toolkit's answer is shown.

    What fewer than three people of a team said has a face: only the trainer sees it,
    until the answers are shown.
    """
    room, people, answers, is_trainer = _read(store, token)
    if "toolkit" not in may_see(room, is_trainer):
        return ()
    is_all = is_trainer or "answers" in room.shown
    return tuple(
        _without_faces(
            team_result(pack, found, team, ids, answers), answers, ids, is_all
        )
        for team, ids in sorted(_by_team(people).items())
    )


def _without_faces(result, answers, ids, is_all):
    said = set(said_in(answers, "buyer", "ranks")) & set(ids)
    if is_all or len(said) >= FEWEST:
        return result
    nothing = {"order": (), "tau": None, "agreement": None, "days": (), "prices": None}
    return replace(result, **nothing)


def _by_team(people):
    teams = {}
    for person in people:
        teams.setdefault(person.team, []).append(person.id)
    return teams


def result_seen(store, token, pack, found):
    """Return the RoomResult, None to whom it is not shown yet."""
    room, people, answers, is_trainer = _read(store, token)
    if "results" not in may_see(room, is_trainer):
        return None
    return room_result(pack, found, people, answers)


def _read(store, token):
    """Return (room, its people, their answers, whether it is for the trainer)."""
    with reading(store) as connection:
        seat = seat_of(connection, token)
        room = room_at(store, connection, seat.room_id)
        people = listed(connection, room.id)
        answers = answers_in(connection, room.id)
    return room, people, answers, seat.role == TRAINER
