"""Results of a room against arithmetic by hand and the engine asked directly."""

import numpy as np
import pytest
from scipy.stats import kendalltau

from scoring import evaluate
from scoring.inputs.brief_files import load_brief
from scoring.questions.firmness import WorthOfKnowing
from scoring.workshop.answers import Answer
from scoring.workshop.pack import LETTERS
from scoring.workshop.people import Person
from scoring.workshop.results import (
    hits,
    leader_of,
    learnt,
    room_result,
    swapped_leader,
)
from scoring.workshop.solved import equal_weights
from scoring.workshop.visit import best_worth, opened, visitors_firmness, worth_found
from tests.workshop.packs import own_pack, own_solved

PACK = own_pack()
PEOPLE = tuple(Person(n, f"P{n}", 1 + (n > 2), False) for n in range(1, 5))
# persons 1 and 2 in team 1, persons 3 and 4 in team 2


def said(*rows):
    return tuple(Answer(*row) for row in rows)


def result(*rows):
    return room_result(PACK, own_solved(), PEOPLE, said(*rows))


def test_a_team_that_ranks_as_the_toolkit():
    """τ-b of team's and toolkit's ranks is scipy's; of two alike W is 1."""
    order = list("BDACEFGH")
    found = result((1, "buyer", "ranks", order), (2, "buyer", "ranks", order))
    team = found.teams[0]
    assert team.order == tuple(order) and team.toolkit_order == ("B", "D")
    places = [1 + order.index(letter) for letter in LETTERS]
    expected = kendalltau(places, own_solved()[0].ranks).statistic
    assert team.tau == pytest.approx(expected)
    assert team.agreement.w == pytest.approx(1)
    assert found.teams[1].tau is None and found.teams[1].order == ()


def test_two_who_disagree_wholly():
    """Reversed orders: W is 0, all points level at 9, the room's Borda too."""
    order = list("ABCDEFGH")
    found = result(
        (1, "first_guess", "ranks", order), (3, "first_guess", "ranks", order[::-1])
    )
    assert found.first_guess.w == pytest.approx(0)
    assert set(found.points.values()) == {9.0}


def test_days_beside_the_toolkits():
    """1..1..1 and 2..3..4 pool to 1..2..4; the toolkit's days stand beside."""
    found = result(
        (1, "buyer", "days.0", {"B": 1}), (2, "buyer", "days.0", {"B": [2, 3, 4]})
    )
    (beside,) = found.teams[0].days
    assert (beside.job, beside.letter) == ("room under the roof", "B")
    assert (beside.said.low, beside.said.likely, beside.said.high) == (1, 2, 4)
    assert beside.said.share_no_overlap == 1
    evaluation = own_solved()[0].evaluation
    k = evaluation.index("Thrumble Lite")
    assert beside.toolkit == evaluation.outcome.site.days[0, k, 0]


def test_hits_by_hand():
    """One of two right at 80 % and 40 %: half; Brier (0.2² + 0.4²)/2; chance 1/8."""
    found = hits([("A", 80), ("B", 40)], ["A", "C"])
    assert (found.n, found.share, found.by_chance) == (2, 0.5, 0.125)
    assert found.brier == pytest.approx((0.04 + 0.16) / 2)
    assert np.isnan(hits([], []).share)


def test_predictions_of_the_own_buyer_and_of_the_sixth():
    """Team 1 has the attic, where B leads; the unseen sixth is led by C."""
    found = result(
        (1, "buyer", "ranks", list("BDACEFGH")),
        (1, "buyer", "sure", 100),
        (3, "buyer", "ranks", list("ABCDEFGH")),
        (3, "buyer", "sure", 0),
        (1, "debrief", "leads.sixth", {"letter": "C", "sure": 100}),
        (2, "debrief", "leads.sixth", {"letter": "A", "sure": 100}),
    )
    assert [leader_of(own_solved()[k]) for k in (0, 5)] == ["B", "C"]
    assert (found.own.n, found.own.share, found.own.brier) == (2, 0.5, 0.0)
    assert (found.sixth.n, found.sixth.share, found.sixth.brier) == (2, 0.5, 0.5)


def test_the_next_buyer_is_the_next_teams():
    """“next” for the last buyer is the first one again."""
    found = own_solved()
    assert swapped_leader(PACK, found, 4, "next") == leader_of(found[0])
    assert swapped_leader(PACK, found, 0, "next") == leader_of(found[1])


def test_swaps_are_the_engine_asked_anew():
    """One more flight of stairs in the attic: as a brief that says so is led."""
    text = PACK.buyers[0].text
    again = text.replace("stairs: 3", "stairs: 4").replace("stairs: 2", "stairs: 3")
    brief = load_brief(("more.yaml", again.encode()))
    scale = own_solved()[0].evaluation.scale
    direct = evaluate(
        brief, PACK.machines, equal_weights(brief), scale, n_draws=200, seed=11
    )
    leader = direct.names[int(np.flatnonzero(direct.rank_weighted_sum == 1)[0])]
    assert swapped_leader(PACK, own_solved(), 0, "stair") == PACK.letter_of(leader)


def test_swap_predictions_are_counted():
    """Two predictions of the next buyer in team 1, where D leads: one is right."""
    found = result(
        (1, "swap", "leads.next", {"letter": "D", "sure": 50}),
        (2, "swap", "leads.next", {"letter": "F", "sure": 50}),
    )
    assert (found.swap.n, found.swap.share, found.swap.brier) == (2, 0.5, 0.25)


def test_learnt_by_hand():
    """Of eight 2, then 6 right, 25 % and 75 %: gain 50/75; one test alone: out."""
    right = [(f"{q.id}", q.right) for q in PACK.plan.questions]
    rows = [(1, "first_guess", f"before.{i}", r) for i, r in right[:2]]
    rows += [(1, "first_guess", f"before.{i}", r % 4 + 1) for i, r in right[2:5]]
    rows += [(1, "debrief", f"after.{i}", r) for i, r in right[:6]]
    rows += [(2, "first_guess", f"before.{i}", r) for i, r in right]
    found = learnt(PACK.plan, said(*rows))
    assert (found.n, found.before, found.after) == (1, 25, 75)
    assert found.gain == pytest.approx(50 / 75)
    assert learnt(PACK.plan, ()).n == 0


def test_envelopes_until_the_time_is_up():
    """60 minutes: 5, 30 and 25 fit exactly; a 40 before leaves 20 for the 5 alone."""
    visit = PACK.plan.visit
    assert [e.minutes for e in opened(visit, [1, 2, 3, 6])] == [5, 30, 25]
    assert [e.minutes for e in opened(visit, [4, 1, 2])] == [40, 5]
    assert opened(visit, []) == ()


def test_worth_of_envelopes_by_hand():
    """The worths of the opened figures add up; the best set is the best that fits."""

    class Firm:
        worths = (
            WorthOfKnowing("Corrandale Frame", "odour.preparing", 600.0, 1.0),
            WorthOfKnowing("Corrandale Frame", "heaviest_lift", 100.0, 1.0),
            WorthOfKnowing("Corrandale Frame", "speed.4", 50.0, 1.0),
            WorthOfKnowing("Thrumble Lite", "assembly_time", 70.0, 1.0),
            WorthOfKnowing("brief", "demand", 900.0, 1.0),
        )

    visit = PACK.plan.visit
    assert worth_found(PACK, Firm, opened(visit, [2, 1])) == 700
    # 60 min: 30 + 5 + 25 → 750; 40 + 5 → 170
    assert best_worth(PACK, Firm) == 750


def test_our_visit_is_worth_making():
    """For the buyer in doubt, time spent on what is in doubt finds most worth."""
    firm = visitors_firmness(PACK, 4_000)
    best = best_worth(PACK, firm)
    assert best > 0
    assert worth_found(PACK, firm, opened(PACK.plan.visit, [1, 2, 5])) > 0.9 * best
    assert worth_found(PACK, firm, opened(PACK.plan.visit, [4, 6])) < 0.1 * best
