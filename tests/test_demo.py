"""The invented demo shows what it is there to show."""

import numpy as np
import pytest

from scoring.words.ruled_out import reasons
from scoring.words.verdict import who_leads
from tests import cases

BRIEFS = ("new-entrant", "workshop", "second-rig")


@pytest.fixture(scope="module")
def demo():
    """The Evaluation of each brief of the demo."""
    return {name: cases.demo(name) for name in BRIEFS}


def figures(evaluation, array):
    """Return an array of the model as {(machine, job): figure}."""
    shape = evaluation.outcome.can_do.shape
    table = np.broadcast_to(array, shape)[0]
    return {
        (name, job.name): table[k, j].item()
        for k, name in enumerate(evaluation.names)
        for j, job in enumerate(evaluation.brief.work)
    }


def test_each_brief_has_another_leader(demo):
    """The three users of the toolkit are told to buy three different machines."""
    leaders = {evaluation.names[evaluation.order[0]] for evaluation in demo.values()}
    assert len(leaders) == len(BRIEFS)
    assert (
        len({who_leads(evaluation).split(". ")[1] for evaluation in demo.values()}) == 3
    )


def test_no_machine_is_best_or_worst_at_everything(demo):
    """Each machine is beaten on some criterion and beats another on some."""
    for evaluation in demo.values():
        scores = evaluation.scores
        for k, name in enumerate(evaluation.names):
            others = np.delete(scores, k, axis=0)
            assert np.any(scores[k] < others.max(axis=0)), name
            assert np.any(scores[k] > others.min(axis=0)), name


def test_one_machine_is_dominated_and_the_front_shows_it(demo):
    """Pellimar Dovetail alone is off the Pareto front wherever it is ranked."""
    shown = set()
    for name, evaluation in demo.items():
        off = {
            evaluation.names[k]
            for k in evaluation.order
            if evaluation.is_ranked[k] and not evaluation.is_on_pareto_front[k]
        }
        ranked = {
            evaluation.names[k] for k in evaluation.order if evaluation.is_ranked[k]
        }
        assert off == {"Pellimar Dovetail"} & ranked, name
        shown |= off
    assert shown == {"Pellimar Dovetail"}


def test_the_demo_differs_as_real_machines_do(demo):
    """Two currencies, timed prints alone, several unknowns, plans that unlock."""
    machines = demo["workshop"].machines
    assert len(machines) >= 7
    assert {m.price.currency for m in machines} == {"EUR", "USD"}
    assert any(m.print_tests and not m.speed for m in machines)
    silent = {e.owner for e in demo["workshop"].evidence.values() if e.is_unknown}
    assert "Corrandale Frame" in silent
    assert any(p.unlocks for m in machines for p in m.subscription_fees)
    movable = {m.name for m in machines if "movable_rail" in m.features}
    assert 0 < len(movable) < len(machines)


def test_speed_that_frees_no_day_shows(demo):
    """The fastest machine takes a day for a child's bedroom, as a slower one does."""
    days = figures(demo["new-entrant"], demo["new-entrant"].outcome.site.days)
    fast, slow = (
        days[name, "child's bedroom"] for name in ("Quillow Sprint", "Ossery Twin")
    )
    assert fast == slow == 1


def test_a_slow_build_costs_a_second_day(demo):
    """At the café, to be cleared each night, slow machines need two days."""
    evaluation = demo["new-entrant"]
    days = figures(evaluation, evaluation.told.outcome.site.days)
    assert days["Ossery Twin", "café back wall"] == 1
    assert days["Pellimar Dovetail", "café back wall"] == 2


def test_a_short_rail_costs_shifts(demo):
    """Along an aisle of 14 m a rail of 2 m stands seven times, of 6 m three times."""
    # ceil(14/2) = 7, ceil(14/6) = 3
    evaluation = demo["second-rig"]
    stands = figures(evaluation, evaluation.told.outcome.site.stands)
    assert stands["Thrumble Lite", "warehouse aisle"] == 7
    assert stands["Varnholt Column", "warehouse aisle"] == 3


def test_limits_rule_out_with_a_way_back(demo):
    """Whoever is ruled out is told the limit, by how much, and the smallest change."""
    for evaluation in demo.values():
        out = [k for k in evaluation.order if not evaluation.is_ranked[k]]
        assert out
        for k in out:
            assert len(reasons(evaluation, k)) >= 1
            for sentence in reasons(evaluation, k):
                assert "Smallest change: " in sentence
