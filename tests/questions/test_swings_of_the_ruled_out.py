"""A machine that is out in every draw may be in at the very end of a range."""

from scoring import evaluate
from scoring.questions.swings import all_swings
from tests.cases import brief, job, machine


def lifted(mass):
    """Return (Evaluation, {path: Swing} of Birch's figures) where it is so heavy."""
    piece = ("mass: 20 kg, wheels: true", f"mass: {mass} kg, wheels: false")
    told = ("heaviest_lift: 20 kg", f"heaviest_lift: {mass} kg")
    alder = machine(name="Alder", price=12000, lift=25)
    birch = machine(piece, told, name="Birch", price=6000)
    evaluation = evaluate(brief(job()), [alder, birch])
    found = {s.path: s for s in all_swings(evaluation) if s.owner == "Birch"}
    return evaluation, found


def test_the_end_that_lets_a_cheaper_machine_in_turns_the_answer():
    """25 kg are what one person may lift; drawn from 25 to 60 it is always more."""
    evaluation, found = lifted("25..45..60")
    assert evaluation.expected.chance_in[0].tolist() == [1, 0]
    lift = found["heaviest_lift"]
    assert (lift.leader_low, lift.leader_high) == ("Birch", "Alder")
    assert lift.turns


def test_no_end_that_lets_it_in_no_swing():
    """From 26 kg on nothing of the machine changes who leads."""
    evaluation, found = lifted("26..45..60")
    assert evaluation.expected.chance_in[0].tolist() == [1, 0]
    assert not found
