"""A room in real browsers: trainer, wall and three participants, each on its own."""

import time

import pytest

from scoring.workshop.rooms import move, open_room, projector_token, show
from scoring.workshop.store import open_store
from tests.browser import driving, rooms
from tests.workshop.a_class import run_through
from tests.workshop.packs import own_pack

pytestmark = pytest.mark.browser

HOUR = ("join", "first_guess", "buyer", "reveal", "swap", "debrief")
LONG = (*HOUR[:3], "prices", "reveal", "swap", "visit", "debrief")
NICKNAMES = (
    "<img src=x onerror=document.title='bad'>",
    "=HYPERLINK(1)",
    "Ash\u202eevil",
)
SQL = "x'; DROP TABLE people; --"
WALL_MS = 2_000  # from a tap on a phone to the wall
LARGE_PX = 28


@pytest.fixture(scope="module")
def room_address(tmp_path_factory):
    """Where a server of its own keeps its rooms in a folder of its own."""
    folder = tmp_path_factory.mktemp("rooms")
    with driving.served(env={"MURAL_DATA": str(folder)}) as address:
        yield address


def phones(opened):
    return [
        opened(width, height=780, has_touch=True, is_mobile=True)
        for width in (390, 360, 390)
    ]


@pytest.mark.parametrize(("form", "stages"), [("hour", HOUR), ("long", LONG)])
def test_a_room_goes_through_all_stages(opened, room_address, form, stages):
    """All five come along; reloads come back; nothing overflows; the wall is large."""
    trainer = opened(1400)
    wall = opened(1920, height=1080)
    code, key = rooms.open_room(trainer, room_address, form)
    assert key not in trainer.url
    rooms.press(trainer, "key_seen")
    driving.visit(wall, room_address + rooms.path(rooms.wall_of(trainer)))
    people = phones(opened)
    for person, name in zip(people, NICKNAMES, strict=True):
        rooms.join(person, room_address, code, name, 1)
    for n, stage in enumerate(stages):
        if n:
            rooms.press(trainer, "move_on")
        for page in (*people, wall):
            rooms.at_stage(page, stage)
        if stage not in ("join", "reveal"):
            rooms.answer_all(people[0])
            for person in people[1:]:
                rooms.answer_one(person)
        for page in (*people, wall, trainer):
            page.reload()
            rooms.at_stage(page, stage)
            assert driving.overflow(page) <= 0
            assert driving.exceptions(page) == []
            assert page.title() != "bad"
        if stage not in ("join", "reveal"):
            people[0].wait_for_selector(rooms.key("all_sent"))
        assert rooms.smallest_text(wall, rooms.key("projector")) >= LARGE_PX
        for page, name in ((people[1], "phone"), (wall, "wall"), (trainer, "trainer")):
            driving.keep(page, f"room-{form}-{n}-{stage}-{name}")
    assert trainer.outside == wall.outside == people[0].outside == []


def test_what_a_class_of_24_found_is_shown(opened, tmp_path):
    """The whole hour by made-up people: wall, phones and trainer at reveal and end."""
    url = f"sqlite:///{tmp_path / 'rooms.sqlite'}"
    store = open_store(url)
    room = open_room(store, own_pack(), "hour")
    names = [*NICKNAMES, *(f"Tree {n}" for n in range(21))]
    phone = run_through(store, room, names=names)[0]
    wall = projector_token(store, room.token)
    screens = ((wall, 1920), (room.token, 1400), (phone, 390), (phone, 360))
    env = {"MURAL_ROOMS": url, "MURAL_KEEP_NOTHING": "1"}
    with driving.served(env=env) as address:
        for stage, what in (("swap", ""), ("reveal", "answers"), ("swap", "")):
            move(store, room.token, stage)
            if stage == "reveal":
                show(store, room.token, what)
                look_at(opened, address, screens, stage, "Attic rooms in Sallowmere")
        move(store, room.token, "debrief")
        show(store, room.token, "results")
        look_at(opened, address, screens, "debrief", "What decides who leads")
    store.engine.dispose()


def look_at(opened, address, screens, stage, said):
    """Each screen says it, nothing overflows, and on the wall nothing is small."""
    for token, width in screens:
        page = opened(width, height=1080 if width > 1400 else 780)
        page.goto(f"{address}/workshop?seat={token}")
        page.wait_for_selector("[data-echo]", state="attached", timeout=120_000)
        rooms.at_stage(page, stage)
        if width != 1400:
            assert said in page.locator(".stMain").inner_text()
        assert driving.overflow(page) <= 0
        assert driving.exceptions(page) == []
        assert page.title() != "bad"
        driving.keep(page, f"class-{stage}-{width}")
        if width == 1920:
            assert rooms.smallest_text(page, rooms.key("projector")) >= LARGE_PX


def test_half_an_order_comes_back_after_a_reload(opened, room_address):
    """Three letters tapped and not sent stand there again; the wall counts none."""
    trainer, phone = opened(1400), phones(opened)[1]
    code, _ = rooms.open_room(trainer, room_address)
    rooms.press(trainer, "key_seen")
    rooms.join(phone, room_address, code, "Ash", 1)
    rooms.press(trainer, "move_on")
    rooms.at_stage(phone, "first_guess")
    letters = phone.locator("[class*='st-key-letters_'] button")
    for letter in "DBH":
        letters.filter(has_text=letter).first.click()
        driving.settled(phone)
    phone.reload()
    rooms.at_stage(phone, "first_guess")
    assert phone.locator(".order").inner_text() == "D B H"
    assert "0 sent" in phone.locator(rooms.key("question")).inner_text()
    assert letters.filter(has_text="D").first.is_disabled()


def test_the_wall_follows_within_two_seconds(opened, room_address):
    """From the tap on a phone to the changed count on the wall, five times."""
    trainer, wall, phone = opened(1400), opened(1920, height=1080), opened(390)
    code, _ = rooms.open_room(trainer, room_address)
    rooms.press(trainer, "key_seen")
    driving.visit(wall, room_address + rooms.path(rooms.wall_of(trainer)))
    rooms.join(phone, room_address, code, "Elm", 1)
    rooms.press(trainer, "move_on")
    rooms.at_stage(phone, "first_guess")
    rooms.at_stage(wall, "first_guess")
    rooms.answer_one(phone)
    rooms.answer_one(phone)
    took = []
    for n in range(3, 8):
        button = phone.locator(
            f"{rooms.key('question')} [class*='choices_'] button"
        ).first
        begun = time.perf_counter()
        button.click()
        wall.wait_for_function(
            "said => document.body.innerText.includes(said)", arg=f"{n} of 10"
        )
        took.append(1000 * (time.perf_counter() - begun))
        driving.settled(phone)
    print("tap to wall, ms:", [round(each) for each in took])
    assert max(took) < WALL_MS


def test_what_somebody_else_types_is_only_text(opened, room_address):
    """SQL and 1,000 characters in every field of the door: a sentence, no harm."""
    page = opened(390)
    for code, name in ((SQL, SQL), ("BCDFGH", "N" * 1_000)):
        driving.visit(page, f"{room_address}/workshop?room=BCDFGH")
        rooms.fill(page, "join_code", code)
        rooms.fill(page, "join_name", name)
        rooms.press(page, "join_go")
        assert page.locator(rooms.key("shown_fault_join")).count() == 1
        assert driving.exceptions(page) == []
    trainer = opened(1400)
    code, _ = rooms.open_room(trainer, room_address)  # the tables are there
    rooms.join(page, room_address, code, SQL, 2)
    assert rooms.is_in(page)
    rooms.press(trainer, "key_seen")
    rooms.tab(trainer, "People and paper")
    trainer.locator(rooms.key("on_paper")).locator("summary").click()
    driving.settled(trainer)
    rooms.fill(trainer, "paper_name", f"{SQL} too")
    rooms.press(trainer, "paper_add")
    rooms.tab(trainer, "Now")
    trainer.wait_for_function("said => document.body.innerText.includes(said)", arg=SQL)


def test_another_rooms_seat_and_no_seat(opened, room_address):
    """A token opens its own room whatever code stands beside it; a made-up one none."""
    first, second, phone = opened(1400), opened(1400), opened(390)
    code, _ = rooms.open_room(first, room_address)
    other, _ = rooms.open_room(second, room_address)
    rooms.join(phone, room_address, code, "Fir", 1)
    driving.visit(phone, f"{phone.url}&room={other}")
    assert rooms.is_in(phone)
    driving.visit(phone, f"{room_address}/workshop?seat={'x' * 43}")
    assert not rooms.is_in(phone)
    assert phone.locator(rooms.key("door_fault")).count() == 1


def test_guessing_is_slowed_down_then_refused(opened, room_address):
    """Keys are guessed until the door asks to wait; it is the last test of the room."""
    page = opened(1400)
    code, key = rooms.open_room(page, room_address)
    driving.visit(page, f"{room_address}/workshop")
    page.get_by_role("tab", name="Back to my room").click()
    said = ""
    for n in range(40):
        rooms.fill(page, "back_code", code)
        rooms.fill(page, "back_key", f"wrong {n}")
        rooms.press(page, "back_go")
        said = page.locator(rooms.key("shown_fault_back")).inner_text()
        if "try again in" in said:
            break
    assert "try again in" in said
    rooms.fill(page, "back_key", key)
    rooms.press(page, "back_go")
    assert page.locator(rooms.key("room_trainer")).count() == 0
