"""A code and the trainer's key → the workbook of the room."""

from scoring.workshop.answers import room_answers
from scoring.workshop.pack_files import load_pack
from scoring.workshop.people import people_in
from scoring.workshop.results import room_result
from scoring.workshop.rooms import enter_as_trainer, leave, pack_bytes, room_of
from scoring.workshop.solved import solved
from scoring.workshop.store import open_store
from scoring.workshop.workbook import workbook

CALLER = "the command line"


def results_workbook(code, key, store=None):
    """Return the bytes of the .xlsx file of a room.

    Raises
    ------
    ScoringError
        If code and key do not belong together, or were wrong too often.
    """
    if store is None:
        store = open_store()
        try:
            return results_workbook(code, key, store)
        finally:
            store.engine.dispose()
    token = enter_as_trainer(store, code, key, CALLER)
    try:
        return room_workbook(store, token)
    finally:
        leave(store, token)


def room_workbook(store, token, found=None):
    """Return the bytes of the .xlsx file of a trainer's room.

    Parameters
    ----------
    found : sequence of Solved, optional
        The room's pack, where it is solved already.
    """
    room, people = room_of(store, token), people_in(store, token)
    answers = room_answers(store, token)
    pack = load_pack((f"{room.code}.zip", pack_bytes(store, token)))
    known = {person.id for person in people}
    answers = tuple(a for a in answers if a.person_id in known)
    result = room_result(pack, found or solved(pack), people, answers)
    return workbook(room, pack, result, people, answers)
