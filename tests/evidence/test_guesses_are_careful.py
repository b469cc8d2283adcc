"""What nobody tells is guessed on the worse side, against figures from outside."""

from statistics import median

import pytest

from scoring.inputs.guesses import guesses
from scoring.inputs.quantity import quantity_at
from tests.cases import demo_machines

# What a sheet must name but may call unknown; True where more is worse.
WORSE_IF_MORE = {
    "assembly_time": True,
    "pack_down_time": True,
    "prime_time": True,
    "heaviest_lift": True,
    "speed": False,
}


@pytest.mark.parametrize(("path", "is_more_worse"), WORSE_IF_MORE.items())
def test_silence_is_no_better_than_what_most_sellers_tell(path, is_more_worse):
    """The likely guess is on the worse side of the middle of the demo's sheets."""
    told = list(filter(None, (told_of(sheet, path) for sheet in demo_machines())))
    guess = likely(guesses()[path])
    assert len(told) > 3
    assert guess >= median(told) if is_more_worse else guess <= median(told)


def test_an_untold_lift_is_more_than_one_person_should_lift():
    """25 kg close to the body at knuckle height: HSE, INDG143, from memory."""
    assert likely(guesses()["heaviest_lift"]) > 25


def told_of(sheet, path):
    """Return the likely figure of a sheet, the slowest of several speeds, or None."""
    if path == "speed":
        speeds = [each.likely for each in sheet.speed.values() if not each.is_unknown]
        return min(speeds, default=None)
    quantity = quantity_at(sheet, path)
    return None if quantity is None or quantity.is_unknown else quantity.likely


def likely(guess):
    """Return the middle figure of a guess, low..likely..high and its unit."""
    return float(guess.split("..")[1])
