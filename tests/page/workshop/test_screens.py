"""The room's screens without a browser: each role sees and may do what is its own."""

import html
import re
import time

import pytest
from sqlalchemy import update
from streamlit.testing.v1 import AppTest

from scoring.page.workshop import seat
from scoring.workshop.answers import room_answers
from scoring.workshop.people import join, people_in
from scoring.workshop.rooms import move, open_room, projector_token, room_of, show
from scoring.workshop.store import open_store, writing
from scoring.workshop.tables import guesses
from tests.page.pages import ROOT, at_screen, markup, shown
from tests.workshop.packs import own_pack

HOSTILE = ("<img src=x onerror=alert(1)>", "=HYPERLINK(1)", "**b** :red[x] $x$")


@pytest.fixture
def store(tmp_path, monkeypatch):
    """The store that the page uses too."""
    url = f"sqlite:///{tmp_path / 'rooms.sqlite'}"
    monkeypatch.setenv("MURAL_ROOMS", url)
    monkeypatch.setenv("MURAL_KEEP_NOTHING", "1")
    found = open_store(url)
    yield found
    found.engine.dispose()


@pytest.fixture
def room(store):
    return open_room(store, own_pack(), "hour")


def opened(**address):
    """Return the screen with this address, run once."""
    page = AppTest.from_file(str(ROOT / "app.py"), default_timeout=60)
    for name, value in address.items():
        page.query_params[name] = value
    return sound(at_screen(page, "workshop").run())


def sound(page):
    assert not page.exception, page.exception[0].stack_trace
    return page


def press(page, key):
    return sound(page.button(key=key).click().run())


def sat_down(page):
    """Return the token in a page's address."""
    found = page.query_params["seat"]
    return found if isinstance(found, str) else found[0]


def joined(room, name="Ash", team=1):
    """Return a participant's screen after joining by the link."""
    page = opened(room=room.code)
    page.text_input(key="join_name").set_value(name)
    page.segmented_control(key="join_team").set_value(team)
    return press(page, "join_go")


def texts(page):
    """Return all that stands on a page, its buttons too."""
    labels = " ".join(button.label for button in page.button)
    said = re.sub(r"<[^>]*>", " ", markup(page))
    return html.unescape(f"{said} {labels} {shown(page)}")


def test_a_wrong_code_is_refused_and_nobody_sits_down(store, room):
    """The sentence says what a code is; the address gets no token."""
    page = opened(room="BCDFGH" if room.code != "BCDFGH" else "BCDFGJ")
    page.text_input(key="join_name").set_value("Ash")
    press(page, "join_go")
    assert "no room has this code" in page.error[0].value.replace("\\", "")
    assert "seat" not in page.query_params
    assert people_in(store, room.token) == ()


def test_guessing_is_slowed_down(store, room, monkeypatch):
    """After a few wrong keys the door asks to wait, even for the right one."""
    monkeypatch.setattr(seat, "caller", lambda: "a phone")  # AppTest knows no address
    page = opened()
    page.text_input(key="back_code").set_value(room.code)
    page.text_input(key="back_key").set_value("wrong")
    press(page, "back_go")
    assert "do not belong together" in page.error[0].value
    with writing(store) as connection:  # whoever it is has guessed seven times
        connection.execute(update(guesses).values(wrong=7, until=time.time() + 60))
    page.text_input(key="back_code").set_value(room.code)
    page.text_input(key="back_key").set_value(room.key)
    press(page, "back_go")
    assert "try again in" in page.error[0].value
    assert "seat" not in page.query_params


def test_a_room_is_opened_and_its_key_is_shown_once(store):
    """The key leaves the screen for good once the trainer has it."""
    page = press(opened(), "open_go")
    key = page.code[0].value
    assert re.fullmatch(r"(\w{4}-){3}\w{4}", key)
    assert room_of(store, sat_down(page)).names[0] == "join"
    press(page, "key_seen")
    assert key not in texts(page)
    again = opened(seat=sat_down(page))
    assert key not in texts(again)


def test_minutes_and_stages_are_the_trainers(store):
    """A stage that is added is in the room, with the minutes that were set."""
    page = opened()
    page.checkbox(key="with_hour_visit").check()
    page.number_input(key="minutes_hour_join").set_value(7)
    sound(page.run())
    page = press(page, "open_go")
    stages = dict(room_of(store, sat_down(page)).stages)
    assert stages["join"] == 7
    assert "visit" in stages and "prices" not in stages


def test_a_participant_answers_one_question_at_a_time(store, room):
    """Each answer is kept at once; the next question comes by itself."""
    page = joined(room)
    move(store, room.token, "first_guess")
    sound(page.run())
    for letter in "BACDEFGH":
        press(page, f"q_first_guess_ranks_{letter}")
    press(page, "q_first_guess_ranks_send")
    page.slider(key="q_first_guess_sure_sure").set_value(70)
    sound(page.run())
    press(page, "q_first_guess_sure_send")
    kept = {a.question: a.value for a in room_answers(store, room.token)}
    assert kept == {"ranks": list("BACDEFGH"), "sure": 70}
    assert "3 of 10" in texts(page) or len(page.button) > 4


def test_a_reload_brings_one_back_to_the_question(store, room):
    """The token in the address is enough; what was answered is not asked first."""
    token = join(store, room.code, "Ash", 1, "x").token
    move(store, room.token, "first_guess")
    page = opened(seat=token)
    for letter in "BACDEFGH":
        press(page, f"q_first_guess_ranks_{letter}")
    press(page, "q_first_guess_ranks_send")
    again = opened(seat=token)
    assert "How sure are you" in texts(again)


def test_another_rooms_code_in_the_address_changes_nothing(store, room):
    """A token is for its own room, whatever else the address says."""
    other = open_room(store, own_pack(), "hour")
    token = join(store, room.code, "Ash", 1, "x").token
    page = opened(seat=token, room=other.code)
    assert "You: Ash" in texts(page).replace("\\", "")
    assert people_in(store, other.token) == ()


def test_a_stage_skipped_by_hand_is_not_kept(store, room):
    """An answer to a stage that has gone is refused in a sentence."""
    token = join(store, room.code, "Ash", 1, "x").token
    move(store, room.token, "first_guess")
    page = opened(seat=token)
    for letter in "BACDEFGH":
        press(page, f"q_first_guess_ranks_{letter}")
    move(store, room.token, "buyer")
    press(page, "q_first_guess_ranks_send")
    assert room_answers(store, room.token) == ()


def test_others_are_hidden_until_they_are_shown(store, room):
    """Counts and answers of others come with the trainer's word, names with another."""
    mine = join(store, room.code, "Ash", 1, "x").token
    theirs = join(store, room.code, "Beech", 1, "y").token
    move(store, room.token, "first_guess")
    page = opened(seat=theirs)
    for letter in "BACDEFGH":
        press(page, f"q_first_guess_ranks_{letter}")
    press(page, "q_first_guess_ranks_send")
    assert "What the room said" not in texts(opened(seat=mine))
    show(store, room.token, "answers")
    seen = texts(opened(seat=mine))
    assert "What the room said" in seen and "Beech" not in seen
    show(store, room.token, "names")
    assert "Beech" in texts(opened(seat=mine))


def test_the_wall_shows_no_name_before_the_trainer_does(store, room):
    """The wall has a seat of its own, counts people and names nobody."""
    for name in ("Ash", "Beech", "Cedar"):
        join(store, room.code, name, 1, name)
    wall = projector_token(store, room.token)
    seen = texts(opened(seat=wall))
    assert room.code in seen and "3 people" in seen
    assert not re.search("Ash|Beech|Cedar", seen)
    move(store, room.token, "first_guess")
    assert not re.search("Ash|Beech|Cedar", texts(opened(seat=wall)))


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_nickname_is_shown_as_it_is_written(store, room, name):
    """No element is made of it on the trainer's screen or the person's own."""
    page = joined(room, name)
    trainer = opened(seat=room.token)
    assert "<img src=x" not in markup(page) + markup(trainer)
    assert name in html.unescape(markup(trainer))
    label = page.expander[-1].label
    assert name not in label or not re.search(r"[*<$:]", name)


def test_a_nickname_of_a_thousand_characters_is_refused(store, room):
    """The limit is said; nobody is added."""
    page = opened(room=room.code)
    page.text_input(key="join_name").set_value("N" * 150)
    press(page, "join_go")
    assert "60 or fewer" in page.error[0].value
    assert people_in(store, room.token) == ()


def test_answers_on_paper_are_typed_in(store, room):
    """The trainer adds somebody on paper and sends their answer."""
    move(store, room.token, "first_guess")
    page = opened(seat=room.token)
    page.text_input(key="paper_name").set_value("Paper one")
    press(page, "paper_add")
    (person,) = people_in(store, room.token)
    assert person.is_on_paper
    for letter in "HGFEDCBA":
        press(page, f"paper_{person.id}_first_guess_ranks_{letter}")
    press(page, f"paper_{person.id}_first_guess_ranks_send")
    assert [a.value for a in room_answers(store, room.token)] == [list("HGFEDCBA")]


def test_the_trainer_moves_on_goes_back_and_pauses(store, room):
    """Each button does it once; the buttons name the stages."""
    page = press(opened(seat=room.token), "move_on")
    assert room_of(store, room.token).stage == "first_guess"
    press(page, "move_back")
    assert room_of(store, room.token).stage == "join"
    press(page, "pause")
    assert room_of(store, room.token).is_paused


def test_closing_and_deleting(store, room):
    """Closed, the room can be read; deleted, its people are at the door again."""
    token = join(store, room.code, "Ash", 1, "x").token
    page = press(opened(seat=room.token), "close_go")
    assert "closed" in " ".join(info.value for info in opened(seat=token).info)
    page.checkbox(key="delete_sure").check()
    sound(page.run())
    press(page, "delete_go")
    gone = opened(seat=token)
    assert "join" in gone.warning[0].value.replace("\\", "")


def test_somebody_removed_is_at_the_door_again(store, room):
    """The trainer removes a nickname with all its answers."""
    token = join(store, room.code, "Ash", 1, "x").token
    press(opened(seat=room.token), "remove_go")
    assert people_in(store, room.token) == ()
    assert opened(seat=token).warning


def test_a_nickname_may_change(store, room):
    """The new one is kept, one that is taken is refused."""
    token = join(store, room.code, "Ash", 1, "x").token
    join(store, room.code, "Beech", 1, "y")
    page = opened(seat=token)
    page.text_input(key="me_name").set_value("Elm")
    press(page, "me_go")
    assert people_in(store, room.token)[0].nickname == "Elm"
    page.text_input(key="me_name").set_value("beech")
    press(page, "me_go")
    assert "is taken" in page.error[0].value


def reloaded(page):
    """Return a new page at a page's address, as after a reload or a lost network."""
    told = {name: page.query_params[name] for name in page.query_params}
    return opened(**{k: v if isinstance(v, str) else v[0] for k, v in told.items()})


def test_letters_that_were_tapped_come_back_after_a_reload(store, room):
    """Three of eight letters stand where they stood; the store has seen none."""
    token = join(store, room.code, "Ash", 1, "x").token
    move(store, room.token, "first_guess")
    page = opened(seat=token)
    for letter in "DBH":
        press(page, f"q_first_guess_ranks_{letter}")
    press(page, "q_first_guess_ranks_undo")
    page = reloaded(page)
    assert "D B" in texts(page)
    assert room_answers(store, room.token) == ()
    for letter in "ACEFGH":
        press(page, f"q_first_guess_ranks_{letter}")
    press(page, "q_first_guess_ranks_send")
    assert [a.value for a in room_answers(store, room.token)] == [list("DBACEFGH")]
    assert "draft" not in page.query_params


def at_stage(store, room, *stages):
    """Return the screen of somebody in a room that was moved through these stages."""
    token = join(store, room.code, "Ash", 1, "x").token
    for stage in stages:
        move(store, room.token, stage)
    return opened(seat=token)


def test_a_prediction_half_given_comes_back_after_a_reload(store, room):
    """Letter and per cent stand where they stood; sent, they are what was seen."""
    page = at_stage(store, room, "first_guess", "buyer", "reveal", "swap")
    page.segmented_control(key="q_swap_leads.next_letter").set_value("F")
    sound(page.run())
    page.slider(key="q_swap_leads.next_sure").set_value(80)
    page = reloaded(sound(page.run()))
    assert room_answers(store, room.token) == ()
    press(page, "q_swap_leads.next_send")
    kept = [a.value for a in room_answers(store, room.token)]
    assert kept == [{"letter": "F", "sure": 80}]


def test_a_range_half_typed_comes_back_after_a_reload(store, room):
    """Of three ends two were typed: they stand there, and the third makes an answer."""
    page = at_stage(store, room, "first_guess", "buyer")
    page.toggle(key="q_buyer_days.0_is_range").set_value(True)
    sound(page.run())
    page.number_input(key="q_buyer_days.0_B_lowest").set_value(1.5)
    sound(page.run())
    page.number_input(key="q_buyer_days.0_B_highest").set_value(4.0)
    page = reloaded(sound(page.run()))
    assert room_answers(store, room.token) == ()
    page.number_input(key="q_buyer_days.0_B_likely").set_value(2.0)
    sound(page.run())
    assert [a.value for a in room_answers(store, room.token)] == [{"B": [1.5, 2, 4]}]
    assert "draft" not in page.query_params


@pytest.mark.parametrize(
    "draft", ["AAB", "XY", "<img src=x>", "'; DROP TABLE person; --", "A" * 5_000]
)
def test_a_draft_changed_by_hand_is_no_draft(store, room, draft):
    """What is none of the letters, or one twice, is as if nothing had been tapped."""
    token = join(store, room.code, "Ash", 1, "x").token
    move(store, room.token, "first_guess")
    page = opened(seat=token, draft=f"q_first_guess_ranks~{draft}")
    assert "tap the best one first" in texts(page)


SQL = "x'; DROP TABLE person; --"


@pytest.mark.parametrize(
    ("fields", "button"),
    [
        (("join_code", "join_name"), "join_go"),
        (("back_code", "back_key"), "back_go"),
    ],
)
def test_sql_in_the_fields_of_the_door_is_a_text(store, room, fields, button):
    """It is refused in a sentence, and all tables are there."""
    page = opened()
    for field in fields:
        page.text_input(key=field).set_value(SQL)
    press(page, button)
    assert page.error and "seat" not in page.query_params
    assert people_in(store, room.token) == ()


def test_sql_as_a_nickname_is_a_nickname(store, room):
    """In a person's own field and on paper it is kept as it was typed."""
    page = joined(room)
    page.text_input(key="me_name").set_value(SQL)
    press(page, "me_go")
    trainer = opened(seat=room.token)
    trainer.text_input(key="paper_name").set_value(f"{SQL} too")
    press(trainer, "paper_add")
    names = [person.nickname for person in people_in(store, room.token)]
    assert names == [SQL, f"{SQL} too"]


def test_marks_of_direction_turn_nothing_around(store, room):
    """A nickname with a right-to-left mark is shown without it."""
    page = joined(room, "Ash\u202egrove")
    assert people_in(store, room.token)[0].nickname == "Ashgrove"
    assert "\u202e" not in texts(page) + texts(opened(seat=room.token))


@pytest.mark.parametrize("stage", ["join", "first_guess", "reveal"])
def test_answers_are_shown_where_there_are_none(store, room, stage):
    """At a stage that asks nothing, or before anybody answered, nothing is drawn."""
    token = join(store, room.code, "Ash", 1, "x").token
    for each in room_of(store, room.token).names:
        move(store, room.token, each)
        if each == stage:
            break
    show(store, room.token, "answers")
    show(store, room.token, "names")
    assert "You: Ash" in texts(opened(seat=token)).replace("\\", "")
