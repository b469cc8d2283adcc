"""Rooms and people: who may do what, codes, keys, bounds; on both stores."""

import re

import pytest
from sqlalchemy import func, insert, select, update

from scoring.errors import ScoringError
from scoring.page.state import kept
from scoring.workshop import tables
from scoring.workshop.answers import give, own_answers, room_answers
from scoring.workshop.guesses import MOST
from scoring.workshop.keys import LETTERS, new_code
from scoring.workshop.pack_files import load_pack
from scoring.workshop.people import (
    MOST_PEOPLE,
    add_on_paper,
    change_team,
    join,
    myself,
    people_in,
    remove,
    rename,
)
from scoring.workshop.rooms import (
    MOST_ROOMS,
    close,
    delete_room,
    enter_as_trainer,
    move,
    open_room,
    pack_bytes,
    pause,
    projector_token,
    room_of,
    show,
)
from scoring.workshop.store import data_folder, open_store, reading, writing
from tests.workshop.packs import own_pack

RANKS = list("BDACEFGH")


def joined(store, room, nickname="Ash", team=1):
    """Return the token of somebody who joined."""
    return join(store, room.code, nickname, team, caller=f"phone of {nickname}").token


def count(store, table):
    """Return how many rows a table has."""
    with reading(store) as connection:
        return connection.execute(select(func.count()).select_from(table)).scalar()


def test_codes_have_no_look_alikes():
    """Six letters, none of them I, L, O, Q, S, U, Z or a vowel."""
    for _ in range(200):
        assert re.fullmatch("[A-Z]{6}", code := new_code())
        assert not set(code) & set("AEIOULQSZ")
    assert len(LETTERS) ** 6 > 20_000_000


def test_a_room_comes_back_as_it_was(store, url, room):
    """Opened again, as after the trainer's computer restarts, all is where it was."""
    ash = joined(store, room, "Ash", team=2)
    move(store, room.token, "first_guess")
    give(store, ash, "first_guess", "ranks", RANKS, "key-00001")
    store.engine.dispose()
    again = open_store(url, store.clock)
    assert room_of(again, ash).stage == "first_guess"
    assert myself(again, ash).team == 2
    assert [a.value for a in own_answers(again, ash)] == [RANKS]
    token = enter_as_trainer(again, room.code.lower(), room.key, "laptop")
    assert [p.nickname for p in people_in(again, token)] == ["Ash"]
    pack = load_pack(("p.zip", pack_bytes(again, token)))
    assert pack.plan.model_dump() == own_pack().plan.model_dump()
    again.engine.dispose()


def test_neither_key_nor_token_is_kept(store, room):
    """The store holds hashes: nobody who reads it can enter as trainer."""
    ash = joined(store, room)
    with reading(store) as connection:
        held = [
            str(row)
            for table in tables.metadata.sorted_tables
            for row in connection.execute(select(table))
        ]
    for secret in (room.key, room.key.replace("-", ""), room.token, ash):
        assert not any(secret in row for row in held)


def test_wrong_key_and_wrong_code_say_the_same(store, room):
    """A wrong key, a wrong code and a code that is none get one sentence."""
    said = set()
    for n, (code, key) in enumerate(
        [(room.code, "BCDF-3GHJ"), ("BBBBBB", room.key), ("' OR 1=1", room.key)]
    ):
        with pytest.raises(ScoringError) as found:
            enter_as_trainer(store, code, key, caller=f"guesser {n}")
        said.add(str(found.value))
    assert len(said) == 1


def test_guesses_are_slowed_down_then_refused(store, room, clock):
    """Three are free; then 1, 2, 4 … seconds; after ten, a quarter of an hour."""
    waits = []
    for _ in range(MOST):
        with pytest.raises(ScoringError, match="no room has this code"):
            join(store, "BBBBBB", "Ash", 1, "guesser")
        try:
            join(store, room.code, "Ash", 99, "guesser")  # right code, no such team
        except ScoringError as error:
            found = re.search(r"in (\d+) (s|min)", str(error))
            waits.append(
                int(found[1]) * (60 if found[2] == "min" else 1) if found else 0
            )
        clock.now += waits[-1]
    assert waits == [0, 0, 0, 1, 2, 4, 8, 16, 32, 900]
    assert join(store, room.code, "Ash", 1, "guesser").person.nickname == "Ash"


def test_one_callers_guesses_are_not_anothers(store, room):
    """Whoever guesses locks out nobody else; a right code forgets the wrong ones."""
    for _ in range(MOST):
        try:
            enter_as_trainer(store, room.code, "wrong", "guesser")
        except ScoringError:
            pass
    assert joined(store, room)
    with pytest.raises(ScoringError, match="try again in"):
        enter_as_trainer(store, room.code, room.key, "guesser")


ROLES_MAY_NOT = {
    "move": lambda s, t: move(s, t, "first_guess"),
    "pause": lambda s, t: pause(s, t, True),
    "show": lambda s, t: show(s, t, "answers"),
    "close": close,
    "delete": delete_room,
    "see who is in": people_in,
    "read all answers": room_answers,
    "remove": lambda s, t: remove(s, t, 1),
    "type in paper": lambda s, t: add_on_paper(s, t, "Paper", 1),
    "open a projector": projector_token,
}


@pytest.mark.parametrize("deed", ROLES_MAY_NOT)
def test_the_trainer_alone_may(store, room, deed):
    """Neither participant nor projector nor a stranger may do a trainer's deeds."""
    ash = joined(store, room)
    for token in (ash, projector_token(store, room.token), "nobody", "", None, 7):
        with pytest.raises(ScoringError, match="only|not in this room"):
            ROLES_MAY_NOT[deed](store, token)
    assert room_of(store, room.token).stage == "join"
    assert len(people_in(store, room.token)) == 1


def test_another_rooms_trainer_may_not(store, room):
    """A trainer removes nobody from another room, and deletes only their own."""
    other = open_room(store, own_pack())
    ash = joined(store, room)
    person = people_in(store, room.token)[0]
    remove(store, other.token, person.id)
    assert myself(store, ash).nickname == "Ash"
    delete_room(store, other.token)
    assert myself(store, ash).nickname == "Ash"


def test_stages_go_one_on_or_back(store, room):
    """A stage cannot be skipped; asked twice, the room moves once."""
    with pytest.raises(ScoringError, match="one stage on or back"):
        move(store, room.token, "buyer")
    with pytest.raises(ScoringError, match="is none of this room"):
        move(store, room.token, "party'; DROP TABLE room; --")
    assert move(store, room.token, "first_guess").stage == "first_guess"
    assert move(store, room.token, "first_guess").stage == "first_guess"
    assert move(store, room.token, "join").stage == "join"


def test_the_short_form_drops_prices_and_visit(store):
    """60 minutes: neither prices nor the seller's day."""
    room = open_room(store, own_pack(), "hour")
    stages = room_of(store, room.token).stages
    assert {name for name, _ in stages}.isdisjoint({"prices", "visit"})
    assert sum(minutes for _, minutes in stages) == 60
    with pytest.raises(ScoringError, match="long, hour"):
        open_room(store, own_pack(), "week")


def test_a_removed_nickname_is_gone(store, room):
    """With a person go all their answers; the token lets nobody in any more."""
    ash = joined(store, room)
    move(store, room.token, "first_guess")
    give(store, ash, "first_guess", "sure", 70, "key-00001")
    remove(store, room.token, people_in(store, room.token)[0].id)
    with pytest.raises(ScoringError, match="not in this room"):
        give(store, ash, "first_guess", "sure", 70, "key-00002")
    assert count(store, tables.answers) == count(store, tables.receipts) == 0
    assert joined(store, room, "Ash")  # the nickname is free again


def test_all_of_a_room_can_be_deleted(store, room):
    """Deleted, nothing of it is left in any table."""
    ash = joined(store, room)
    move(store, room.token, "first_guess")
    give(store, ash, "first_guess", "sure", 70, "key-00001")
    projector_token(store, room.token)
    delete_room(store, room.token)
    for table in tables.metadata.sorted_tables:
        if table not in (tables.version, tables.guesses):
            assert count(store, table) == 0, table.name


def test_a_closed_room_takes_nothing_and_can_be_read(store, room):
    """After closing: no answer, nobody joins, no move; results can still be read."""
    ash = joined(store, room)
    close(store, room.token)
    for deed in (
        lambda: joined(store, room, "Birch"),
        lambda: move(store, room.token, "first_guess"),
        lambda: rename(store, ash, "Birch"),
        lambda: give(store, ash, "join", "sure", 1, "key-00001"),
    ):
        with pytest.raises(ScoringError, match="closed"):
            deed()
    assert room_of(store, ash).closed and people_in(store, room.token)


def test_rooms_end_after_thirty_days(store, room, clock):
    """A day before it is there; on the day it is refused, and then deleted."""
    ash = joined(store, room)
    clock.now += 29 * 86_400
    assert room_of(store, ash)
    clock.now += 86_400
    with pytest.raises(ScoringError, match="has ended"):
        room_of(store, ash)
    with pytest.raises(ScoringError, match="no room has this code"):
        joined(store, room, "Birch")
    open_room(store, own_pack())
    assert count(store, tables.people) == 0


def test_fifty_rooms_and_no_more(store, room, monkeypatch):
    """The 51st open room is refused; a closed one makes place."""
    monkeypatch.setattr("scoring.workshop.keys.SCRYPT", {"n": 2, "r": 1, "p": 1})
    for _ in range(MOST_ROOMS - 1):
        open_room(store, own_pack())
    with pytest.raises(ScoringError, match="50 rooms are open; close one first"):
        open_room(store, own_pack())
    close(store, room.token)
    assert open_room(store, own_pack())


def test_two_hundred_people_and_no_more(store, room):
    """The 201st is refused with a sentence."""
    with writing(store) as connection:
        room_id = connection.execute(select(tables.rooms.c.id)).scalar()
        for n in range(MOST_PEOPLE):
            told = {"nickname": f"n{n}", "folded": f"n{n}", "team": 1, "joined": 0.0}
            connection.execute(insert(tables.people).values(room_id=room_id, **told))
    with pytest.raises(ScoringError, match="200 people or fewer"):
        joined(store, room)


def test_teams_stay_once_buyers_are_dealt(store, room):
    """A team can be changed until the buyers are dealt."""
    ash = joined(store, room)
    assert change_team(store, ash, 3).team == 3
    move(store, room.token, "first_guess")
    assert change_team(store, ash, 4).team == 4
    move(store, room.token, "buyer")
    with pytest.raises(ScoringError, match="teams stay"):
        change_team(store, ash, 5)
    for team in (0, 21, "1", 1.5, True, None):
        with pytest.raises(ScoringError, match="1 to 20"):
            change_team(store, ash, team)


HOSTILE = {
    "markup": ("<img src=x onerror=alert(1)>", "<img src=x onerror=alert(1)>"),
    "a formula": ('=HYPERLINK("http://x","y")', '=HYPERLINK("http://x","y")'),
    "SQL": ("'; DROP TABLE person; --", "'; DROP TABLE person; --"),
    "turned round": ("Ash\u202egnp.exe\u200f\u2066", "Ashgnp.exe"),
    "a nought": ("As\x00h", "Ash"),
    "lines": ("As\nh\r\nGrove", "As h Grove"),
    "half a sign": ("Ash\ud800", "Ash"),
    "60 long": ("ä" * 60, "ä" * 60),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_nicknames_are_kept_as_text(store, room, name):
    """Whatever is typed is one line of text; what turns or hides others is dropped."""
    typed, kept = HOSTILE[name]
    ash = joined(store, room, typed)
    assert myself(store, ash).nickname == kept
    assert [p.nickname for p in people_in(store, room.token)] == [kept]


@pytest.mark.parametrize("typed", ["", "  ", "\u202e\u200b", "x" * 61, "x" * 1000, 7])
def test_nicknames_that_are_none(store, room, typed):
    """Empty, unseen or too long gets a sentence with what is allowed."""
    with pytest.raises(ScoringError, match="nickname: .*(1 to 60|60 or fewer)"):
        joined(store, room, typed)


def test_a_nickname_is_one_persons(store, room):
    """The same in other letters is taken, also on renaming; one's own is not."""
    ash, birch = joined(store, room, "Ash"), joined(store, room, "Birch")
    with pytest.raises(ScoringError, match="'ＡＳＨ' is taken"):
        joined(store, room, "ＡＳＨ")
    with pytest.raises(ScoringError, match="is taken"):
        rename(store, birch, "ash")
    assert rename(store, ash, "ASH").nickname == "ASH"


SQL = "x'; DELETE FROM room; DROP TABLE answer; --"


def test_sql_in_every_field_is_text(store, room):
    """SQL typed into any field changes nothing but that field's own sentence."""
    ash = joined(store, room, SQL)
    move(store, room.token, "first_guess")
    deeds = [
        lambda: join(store, SQL, SQL, 1, SQL),
        lambda: enter_as_trainer(store, SQL, SQL, SQL),
        lambda: room_of(store, SQL),
        lambda: change_team(store, ash, SQL),
        lambda: give(store, ash, SQL, "sure", 1, "key-00001"),
        lambda: give(store, ash, "first_guess", SQL, 1, "key-00001"),
        lambda: give(store, ash, "first_guess", "sure", SQL, "key-00001"),
        lambda: give(store, ash, "first_guess", "sure", 1, SQL),
        lambda: show(store, room.token, SQL),
    ]
    for deed in deeds:
        with pytest.raises(ScoringError):
            deed()
    assert myself(store, ash).nickname == SQL
    assert room_of(store, room.token).stage == "first_guess"
    assert count(store, tables.answers) == 0


def test_a_store_of_another_version_is_refused(store, url):
    """What a newer toolkit wrote is not touched, and the sentence says so."""
    with writing(store) as connection:
        connection.execute(update(tables.version).values(version=99))
    with pytest.raises(ScoringError, match="of version 99; this toolkit knows 1"):
        open_store(url)
    with writing(store) as connection:
        connection.execute(update(tables.version).values(version=1))
    open_store(url).engine.dispose()


@pytest.mark.parametrize(
    "url", ["nonsense", "oracle9://x", "sqlite:////nowhere/at/all/x.sqlite"]
)
def test_a_store_that_cannot_be(url):
    """No URL, an unknown kind, a folder that is not there: a sentence."""
    with pytest.raises(ScoringError, match="no place to keep rooms|did not answer"):
        open_store(url)


def test_the_default_store_is_in_the_users_folder(tmp_path, monkeypatch):
    """Without a URL the file lies where cases do, made for its owner alone."""
    monkeypatch.delenv("MURAL_ROOMS", raising=False)
    folder = tmp_path / "own"
    monkeypatch.setenv("MURAL_DATA", str(folder))
    open_store().engine.dispose()
    assert (folder / "workshop.sqlite").is_file()
    assert folder.stat().st_mode & 0o077 == 0
    monkeypatch.delenv("MURAL_DATA")
    assert data_folder() == kept.folder()
    monkeypatch.setenv("MURAL_ROOMS", f"sqlite:///{tmp_path / 'other.sqlite'}")
    open_store().engine.dispose()
    assert (tmp_path / "other.sqlite").is_file()


def test_stages_and_minutes_are_the_trainers(store):
    """A room has the stages and minutes that are set, in the exercise's order."""
    form = {s.stage: s.minutes for s in own_pack().plan.stages.hour}
    room = open_room(store, own_pack(), "hour", {"visit": 9} | form | {"join": 7})
    found = room_of(store, room.token)
    assert found.names[-2:] == ("visit", "debrief")
    assert dict(found.stages)["join"] == 7
    assert found.asked["visit"] == {"order": "order 9"}
    for wrong, said in (
        ({"join": 5}, "without first_guess"),
        (form | {"lunch": 5}, "'lunch'"),
        (form | {"join": 0}, "join: '0' min; 1 to 120"),
        (form | {"join": True}, "join: 'True' min"),
    ):
        with pytest.raises(ScoringError, match=said):
            open_room(store, own_pack(), "hour", wrong)
