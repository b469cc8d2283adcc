"""Two imaginary machines in words: figures by hand from the scale."""

from scoring.decision.picked_pairs import FIRST, Offer, Pick
from scoring.words.picked_pairs import contradiction, offered, picked_in_words
from tests.cases import demo


def test_the_two_machines_differ_in_half_of_each_scale():
    """Cost 0 to 40 000: a quarter is 30 000, three quarters 10 000; half of a lift.

    The lift runs from 25 kg (worst) to 0: a quarter is 18.75 kg, and half of a half
    further 12.5 kg.
    """
    evaluation = demo("new-entrant")
    ids = [criterion.id for criterion in evaluation.criteria]
    cost, lift = ids.index("upfront"), ids.index("heaviest_lift")
    assert evaluation.scale[cost].tolist() == [40000, 0]
    assert evaluation.scale[lift].tolist() == [25, 0]
    first, second = offered(evaluation, Offer(cost, lift, 0.5))
    thin = "\u202f"
    assert first == f"cost to your door 10{thin}000 EUR, but heaviest lift 18.8 kg"
    assert second == f"heaviest lift 12.5 kg, but cost to your door 30{thin}000 EUR"
    told = picked_in_words(evaluation, Pick(Offer(cost, lift, 0.5), FIRST))
    assert told.endswith(": the first.") and first in told
    assert told in contradiction(evaluation, [Pick(Offer(cost, lift, 0.5), FIRST)])
