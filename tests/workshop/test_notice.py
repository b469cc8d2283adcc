"""The page for the notice board, and what teams see: no name, no single face."""

from scoring.workshop.answers import room_answers
from scoring.workshop.notice import notice_board
from scoring.workshop.people import people_in
from scoring.workshop.results import room_result
from scoring.workshop.rooms import move, projector_token, show
from scoring.workshop.shared_results import result_seen, teams_seen
from tests.workshop.a_class import run_through
from tests.workshop.packs import own_pack, own_solved


def test_the_notice_board_names_leaders_and_nobody_else(store, room):
    """Each buyer with its leader, shares, gain and hits; no nickname."""
    run_through(store, room, names=[f"<b>Zq{n}" for n in range(12)])
    pack, found = own_pack(), own_solved()
    people = people_in(store, room.token)
    result = room_result(pack, found, people, room_answers(store, room.token))
    page = notice_board(pack, found, result)
    for each in found:
        assert each.title in page
        assert f"<b>{pack.letters[each.leader]}</b>" in page
    assert "Zq" not in page
    assert "12 people took part" in page
    assert "W = " in page and "Gain: " in page and "by chance" in page
    assert not any(name in page for name in pack.plan.letters.values())


def test_the_wall_sees_results_once_they_are_shown(store, room):
    """Before the trainer's word there is nothing, then what the trainer sees."""
    run_through(store, room, n_people=10)
    wall = projector_token(store, room.token)
    pack, found = own_pack(), own_solved()
    assert result_seen(store, wall, pack, found) is None
    show(store, room.token, "results")
    assert result_seen(store, wall, pack, found).learnt == (
        result_seen(store, room.token, pack, found).learnt
    )


def test_a_team_of_two_has_no_order_on_the_wall(store, room):
    """From three answers on, or once answers are shown; before the reveal nothing."""
    wall = projector_token(store, room.token)
    run_through(store, room, n_people=11, until="buyer")  # team 1 has three
    pack, found = own_pack(), own_solved()
    assert teams_seen(store, wall, pack, found) == ()
    for stage in ("prices", "reveal"):
        move(store, room.token, stage)
    seen = teams_seen(store, wall, pack, found)
    assert [bool(team.order) for team in seen] == [True, False, False, False, False]
    show(store, room.token, "answers")
    assert all(team.order for team in teams_seen(store, wall, pack, found))
