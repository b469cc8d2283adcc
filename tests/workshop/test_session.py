"""What each role sees, stage by stage; never a name before the trainer shows it."""

import pytest

from scoring.errors import ScoringError
from scoring.workshop.answers import Answer, give
from scoring.workshop.people import join, remove
from scoring.workshop.rooms import move, open_room, pause, projector_token, show
from scoring.workshop.session import predicted, prices_of, seconds_left, spread
from scoring.workshop.views import what_is_seen
from tests.workshop.a_class import run_through
from tests.workshop.packs import own_pack

PLAN = own_pack().plan
SECRET = "Zebulon Quill"


@pytest.fixture(params=["sqlite"])
def url(tmp_path):
    """What is seen does not hang on the kind of store: one is enough."""
    return f"sqlite:///{tmp_path / 'rooms.sqlite'}"


@pytest.fixture
def wall(store, room):
    """The projector's token."""
    return projector_token(store, room.token)


def seen(store, token):
    return what_is_seen(store, token, PLAN)


def test_each_role_at_each_stage(store):
    """In all stages the wall shows counts and no name; the trainer sees who is who."""
    room = open_room(store, own_pack())
    wall = projector_token(store, room.token)
    names = [SECRET, "Ash", "Birch", "Cedar", "Elm", "Fir"]
    for stage in [step.stage for step in PLAN.stages.long]:
        if stage == "join":
            tokens = run_through(store, room, names=names, until="join")
        else:
            move(store, room.token, stage)
        for view in (seen(store, wall), seen(store, tokens[1])):
            assert SECRET not in repr(view), (stage, view.role)
            assert view.named == () and view.people == ()
            assert view.room.stage == stage
        assert seen(store, wall).n_people == 6
        assert seen(store, tokens[1]).n_people is None
        assert SECRET in repr(seen(store, room.token).people)
        own = seen(store, tokens[0])
        assert own.person.nickname == SECRET
        is_dealt = stage not in ("join", "first_guess")
        assert own.buyer == (0 if is_dealt else None)
        assert [a.id for a in own.askings] == list(own.room.asked[stage])


def test_the_wall_waits_for_three_answers(store, room, wall):
    """Of one or two answers the wall shows how many, not what they say."""
    tokens = [
        join(store, room.code, f"P{n}", 1 + n % 2, "phone").token for n in range(4)
    ]
    move(store, room.token, "first_guess")
    for n, token in enumerate(tokens[:3]):
        give(store, token, "first_guess", "sure", 10 * n + 5, f"key-{n:05}")
        tally = seen(store, wall).tallies[1]
        assert (tally.question, tally.n, tally.of) == ("sure", n + 1, 4)
        assert (tally.spread is None) == (n < 2)
    assert tally.by_team == {1: (2, 2), 2: (1, 2)}
    assert {k: n for k, n in tally.spread.items() if n} == {0: 1, 10: 1, 20: 1}


def test_a_participant_sees_others_once_they_are_shown(store, room):
    """Nothing of the others before; counts without names after; hidden again, gone."""
    ash = run_through(store, room, names=[SECRET, "Ash"], until="first_guess")[1]
    assert seen(store, ash).tallies == ()
    show(store, room.token, "answers")
    assert seen(store, ash).tallies[0].n == 2
    assert SECRET not in repr(seen(store, ash))
    show(store, room.token, "names")
    view = seen(store, ash)
    assert (SECRET, "ranks") in {(n.nickname, n.question) for n in view.named}
    assert not any(n.question.startswith("before.") for n in view.named)
    show(store, room.token, "names", False)
    assert SECRET not in repr(seen(store, ash))


def test_a_reload_brings_one_back(store, room):
    """The token alone brings back the stage and what was said."""
    ash = join(store, room.code, "Ash", 1, "phone").token
    move(store, room.token, "first_guess")
    give(store, ash, "first_guess", "sure", 35, "key-00001")
    asked = {a.id: a.said for a in seen(store, ash).askings}
    assert asked["sure"] == 35 and asked["ranks"] is None
    question = next(a for a in seen(store, ash).askings if a.id == "before.smell")
    assert question.text == PLAN.questions[5].text and len(question.choices) == 4


def test_no_view_tells_the_right_answer(store, room):
    """Neither right places nor reasons are in what a participant or the wall gets."""
    ash = run_through(store, room, names=["Ash", "B", "C"])[0]
    show(store, room.token, "answers")
    for token in (ash, projector_token(store, room.token)):
        told = repr(seen(store, token))
        for question in PLAN.questions:
            assert question.why not in told
        for name in PLAN.letters.values():
            assert name not in told


def test_the_toolkits_answers_wait_for_their_stage(store, room):
    """Days and ranking from the reveal on, the sixth at the debrief, results shown."""
    ash = join(store, room.code, "Ash", 1, "phone").token
    wall = projector_token(store, room.token)
    for stage in [step.stage for step in PLAN.stages.long]:
        move(store, room.token, stage)
        expected = set()
        if stage in ("reveal", "swap", "visit", "debrief"):
            expected = {"toolkit"} | ({"sixth"} if stage == "debrief" else set())
        assert seen(store, ash).may_see == seen(store, wall).may_see == expected
        assert "results" in seen(store, room.token).may_see
    show(store, room.token, "results")
    assert "results" in seen(store, ash).may_see & seen(store, wall).may_see


def test_a_swaps_outcome_is_seen_once_it_is_predicted():
    """Of four swaps one was predicted: its leader is told, the others' are not."""
    own = [Answer(1, "swap", "leads.person", {"letter": "A", "sure": 5})]
    leaders = {"next": "D", "person": "B", "kilos": "B", "stair": "D"}
    assert predicted(own, leaders) == {"person": "B"}
    assert predicted([], leaders) == {}


def test_paused_or_removed(store, room):
    """Paused, nothing is asked; removed, nothing is seen."""
    ash = join(store, room.code, "Ash", 1, "phone").token
    move(store, room.token, "first_guess")
    pause(store, room.token, True)
    assert seen(store, ash).askings == ()
    remove(store, room.token, seen(store, room.token).people[0].id)
    with pytest.raises(ScoringError, match="not in this room"):
        seen(store, ash)


def test_the_time_left(store, room, clock):
    """Five minutes to join; a minute later four, six minutes later one too many."""
    view = seen(store, room.token)
    assert view.seconds_left == 300
    assert seconds_left(view.room, clock.now + 60) == 240
    assert seconds_left(view.room, clock.now + 360) == -60


def test_spreads_by_hand():
    """Distributions of each kind, counted by hand."""
    orders = [list("ABCDEFGH"), list("ABCDEFGH"), list("BACDEFGH")]
    found = spread("ranks", orders)
    assert found["A"] == {"first": 2, "points": 8 + 8 + 7}
    assert found["B"] == {"first": 1, "points": 7 + 7 + 8}
    assert found["H"] == {"first": 0, "points": 3}
    assert {k: n for k, n in spread("percent", [0, 9, 10, 100]).items() if n} == {
        0: 2,
        10: 1,
        90: 1,
    }
    assert spread("choice 3", [1, 3, 3]) == {1: 1, 2: 0, 3: 2}
    assert spread("order 2", [[2, 1], [2], []]) == {1: 0, 2: 2}
    assert spread("days", [{"A": 1, "B": [1, 2, 4]}, {"A": 2}, {"A": 4}]) == {
        "A": (1, 2, 4),
        "B": (2, 2, 2),
    }
    leads = spread("leader", [{"letter": "C", "sure": 5}, {"letter": "C", "sure": 9}])
    assert leads["C"] == 2 and sum(leads.values()) == 2


def test_prices_of_two_by_hand():
    """100 : 300 and 300 : 100 meet at half and half; what is not named keeps 1/1000."""
    found = prices_of([{"upfront": 100, "odour": 300}, {"upfront": 300, "odour": 100}])
    upfront, odour = found[0], found[4]
    assert upfront == pytest.approx(odour)
    # √(100 · 300) to 0.4 (of 400 in all, a thousandth)
    assert found[1] / upfront == pytest.approx(0.4 / (100 * 300) ** 0.5)


def test_what_was_shown_at_a_stage_is_hidden_at_the_next(store, room):
    """Nobody sees at the next stage what others say before having said it."""
    ash = run_through(store, room, names=[SECRET, "Ash"], until="first_guess")[1]
    for what in ("answers", "names"):
        show(store, room.token, what)
    move(store, room.token, "first_guess")  # a move to where it is changes nothing
    assert seen(store, ash).tallies and seen(store, ash).named
    move(store, room.token, "buyer")
    assert seen(store, ash).tallies == () and seen(store, ash).named == ()
