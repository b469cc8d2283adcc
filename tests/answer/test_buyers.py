"""Many buyers in one call, against the answer of each buyer by itself."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from scoring.answer.buyers import answered
from scoring.answer.evaluation import evaluated
from scoring.answer.preferences import criteria_of, ratings_of
from scoring.evidence.buyers import sampled
from scoring.evidence.buyers_rows import own_brief, own_figures
from scoring.evidence.draws import drawn
from scoring.evidence.gathered import gather
from scoring.inputs.template_files import load_template
from tests import cases

N_DRAWS = 60
TEMPLATE = cases.PROFILES / "populations/quenby.yaml"


@cache
def crowd():
    return load_template(TEMPLATE)


def alone(brief, machines, number, seed=1):
    """Return the Evaluation of one buyer on the draws that its number names."""
    evidence = gather(brief, machines, ratings_of(criteria_of(brief)))
    start = number * N_DRAWS
    figures = drawn(evidence, brief, seed, start, start + N_DRAWS)
    rows = {
        key: np.concatenate([[figure.told], _own(figure, brief, figures, key)])
        for key, figure in evidence.items()
    }
    return evaluated(brief, machines, evidence, rows, seed)


def _own(figure, brief, figures, key):
    """Return the draws in the figure's own currency again."""
    if figure.currency in (None, brief.currency) or key[1].startswith("exchange."):
        return figures[key]
    return figures[key] / figures["brief", f"exchange.{figure.currency}"]


@pytest.mark.parametrize("kind", range(4))
def test_each_of_many_buyers_is_answered_as_alone(kind):
    """A column of the crowd is what `evaluated` says of that buyer's own brief."""
    machines = cases.demo_machines()
    sample, brief = sampled(crowd(), 60, 1), crowd().briefs[kind]
    first = int(np.flatnonzero(sample.kind == kind)[0])
    values = sample.values[first : first + 3]
    evidence = gather(brief, machines, ratings_of(criteria_of(brief)))
    own = own_figures(crowd().differ, brief, values)
    found = answered(brief, machines, evidence, own, 1, first, 3, N_DRAWS)
    for k in range(3):
        one = alone(own_brief(crowd().differ, brief, values[k]), machines, first + k)
        assert found.points[k] == pytest.approx(one.scores @ one.weights, rel=1e-6)
        assert found.chance_in[k] == pytest.approx(one.chance_in)
        assert found.is_out[k].tolist() == [one.is_out(m) for m in range(len(machines))]
        result = one.outcome.year.result[0, :, 0]
        assert found.year_result[k] == pytest.approx(result, rel=1e-6)
        assert found.plan[k].tolist() == [v.plan for v in one.variants]


def at_price(machines, name, times):
    """Return the machines with one's price so many times what it is."""

    def moved(machine):
        if machine.name != name:
            return machine
        price = machine.price
        ends = {e: times * getattr(price, e) for e in ("low", "likely", "high")}
        return machine.model_copy(update={"price": replace(price, **ends)})

    return tuple(map(moved, machines))


def best_of(found):
    """Return the place of each buyer's best machine, −1 for none."""
    points = np.where(found.is_out, -np.inf, found.points)
    return np.where(found.is_out.all(axis=1), -1, points.argmax(axis=1))


@pytest.mark.parametrize("name", ["Lindqvar Plain", "Thrumble Lite"])
def test_the_map_by_price_is_that_of_reruns(name):
    """At five prices as many buyers are best served as a run at that price says."""
    machines, brief = cases.demo_machines(), crowd().briefs[3]
    k = [machine.name for machine in machines].index(name)
    sample = sampled(crowd(), 60, 1)
    first = int(np.flatnonzero(sample.kind == 3)[0])
    values = sample.values[sample.kind == 3]
    own = own_figures(crowd().differ, brief, values)
    criteria = ratings_of(criteria_of(brief))

    def answers(machines):
        evidence = gather(brief, machines, criteria)
        of = own, 1, first, len(values), N_DRAWS
        return answered(brief, machines, evidence, *of)

    up_to = answers(machines).best_up_to[:, k]
    shares = []
    for times in (0.4, 0.7, 0.95, 1.05, 1.4):
        again = best_of(answers(at_price(machines, name, times))) == k
        assert (again == (up_to >= times)).all()
        shares.append(again.mean())
    assert shares[0] > shares[-1]
