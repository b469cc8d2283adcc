"""A machine's other price, as it is asked for."""

from scoring.answer.buyers_prices import LEAST, MOST
from scoring.errors import ScoringError
from scoring.inputs.dimensions import MONEY
from scoring.inputs.quantity import STATED, Wrong


def times_of(population, machine, price):
    """Return (the machine's place, so many times its price); (None, 1) for none asked.

    Raises
    ------
    ScoringError
        If one is asked for without the other, or the price cannot be.
    """
    if machine is None and price is None:
        return None, 1.0
    if machine is None or price is None:
        raise ScoringError("--machine and --price: one without the other; both")
    k = population.index(machine)
    told, currency = population.prices[k]
    if told is None:
        raise ScoringError(f"{machine}: its sheet tells no price to move; another one")
    try:
        asked = MONEY.parse(price, STATED)
    except Wrong as wrong:
        raise ScoringError(f"--price: {wrong}") from None
    if asked.currency != currency:
        raise ScoringError(
            f"--price: {price!r} is not in {currency}, as its sheet tells the price"
        )
    times = asked.likely / told if told else 0.0
    if not LEAST <= times <= MOST:
        low, high = (f"{end * told:.6g} {currency}" for end in (LEAST, MOST))
        raise ScoringError(f"--price: {price!r} is out of range; {low} to {high}")
    return k, times
