"""What never changes an answer: order, losers, units; what never lowers a score."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.answer.evaluation import evaluate
from tests.cases import brief, machine

FIGURES = st.fixed_dictionaries(
    {
        "price": st.integers(5000, 60000),
        "speed": st.integers(2, 12).map(lambda v: f"4: {v} m²/h"),
        "assembly": st.integers(10, 60),
        "lift": st.integers(8, 25),
        "odour": st.integers(1, 6),
        "response": st.integers(0, 9),
        "quality": st.sampled_from([2, 2.5, 3, 3.5]),
    }
)
SEVERAL = st.lists(FIGURES, min_size=2, max_size=5)
WEIGHTS = st.lists(st.integers(1, 9), min_size=8, max_size=8)
IDS = ("upfront", "year_result", "ready_time", "heaviest_lift", "odour", "support")
IDS += ("print_quality", "software_ease")
FEW = 100  # draws: what holds holds for any number of them


def evaluated(figures, weights):
    """Return the Evaluation of random machines, named by their place."""
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(figures)]
    stated = dict(zip(IDS, weights, strict=True))
    return evaluate(brief(), machines, stated, n_draws=FEW)


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS, st.randoms())
def test_the_order_of_machines_changes_nothing(figures, weights, random):
    """Permuting the machines permutes the answer."""
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(figures)]
    stated = dict(zip(IDS, weights, strict=True))
    first = evaluate(brief(), machines, stated, n_draws=FEW)
    random.shuffle(machines)
    second = evaluate(brief(), machines, stated, n_draws=FEW)
    assert first.names == second.names
    assert first.weighted_sum.tolist() == second.weighted_sum.tolist()
    assert first.topsis.tolist() == second.topsis.tolist()


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS)
def test_a_dominated_machine_never_outranks_its_dominator(figures, weights):
    """Where one is at least as good on all that counts, it is at least as high."""
    evaluation = evaluated(figures, weights)
    scores = evaluation.scores[:, evaluation.weights > 0]
    for a, better in enumerate(scores):
        for b, worse in enumerate(scores):
            if np.all(better >= worse):
                slack = 1e-9
                assert evaluation.weighted_sum[a] >= evaluation.weighted_sum[b] - slack
                assert evaluation.topsis[a] >= evaluation.topsis[b] - slack


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS, st.sampled_from(["price", "lift", "odour", "response"]))
def test_improving_a_machine_never_lowers_its_score(figures, weights, what):
    """A lower price, lift, smell or response never lowers the weighted sum."""
    before = evaluated(figures, weights)
    improved = [dict(own) for own in figures]
    improved[0][what] = improved[0][what] * 0.9
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(improved)]
    stated = dict(zip(IDS, weights, strict=True))
    after = evaluate(brief(), machines, stated, before.scale, n_draws=FEW)
    assert after.weighted_sum[0] >= before.weighted_sum[0] - 1e-12


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS)
def test_leaving_a_loser_out_never_reorders_the_rest(figures, weights):
    """Without the last machine, the others keep their order by weighted sum."""
    evaluation = evaluated(figures, weights)
    loser = evaluation.order[-1]
    machines = evaluation.machines
    fewer = evaluate(
        evaluation.brief,
        machines,
        dict(zip(IDS, weights, strict=True)),
        left_out=[evaluation.names[loser]],
        n_draws=FEW,
    )
    assert fewer.order == evaluation.order[:-1]


@settings(max_examples=15)
@given(FIGURES)
def test_units_of_the_input_change_nothing(own):
    """The same machine in feet, pounds, hours and another currency is the same."""
    speed = int(own["speed"].split()[1])
    customary = machine(
        (
            f"heaviest_lift: {own['lift']} kg",
            f"heaviest_lift: {own['lift'] / 0.45359237:.12f} lb",
        ),
        (own["speed"], f"4: {speed / 0.3048**2:.12f} ft²/h"),
        (
            f"assembly_time: {own['assembly']} min",
            f"assembly_time: {own['assembly'] / 60:.12f} h",
        ),
        (f"price: {own['price']} EUR\n", f"price: {own['price'] / 0.8:.12f} USD\n"),
        name="A",
        **own,
    )
    metric = machine(name="A", **own)
    wanted = brief(more="exchange: {USD: 0.8 EUR}\n")
    other = machine(name="B")
    first, second = (
        evaluate(wanted, [one, other], n_draws=FEW) for one in (metric, customary)
    )
    assert first.raw == pytest.approx(second.raw, rel=1e-9)
    assert first.weighted_sum == pytest.approx(second.weighted_sum, rel=1e-9)
