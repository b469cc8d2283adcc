"""What nobody tells: filled from one table of wide guesses, so that silence never pays.

The guesses hang on no other sheet: loading one more machine changes nothing here.
"""

from dataclasses import replace

from scoring.errors import InputFault, InputFaults
from scoring.evidence.ranges import Evidence
from scoring.inputs.brief import Brief
from scoring.inputs.dimensions import SHARE
from scoring.inputs.guesses import guesses
from scoring.inputs.machine import Machine
from scoring.inputs.quantity import Wrong
from scoring.inputs.records import dimension_of

OF_PRICE = "of the price"
# Keys that a sheet may leave out, and what stands for the whole list of them.
LIKE = {"speed": "speed.4", "pieces": "pieces.0.mass", "odour": "odour.printing"}
LIKE |= {"ratings": "ratings.any"}
LISTS = ("subscription_fees", "pieces", "ratings", "odour", "speed", "effects")


def guess_of(path, brief):
    """Return (key, text) of the guess for a figure, the brief's own where it has one.

    None for a figure of which the toolkit has no guess.
    """
    first, _, last = path.partition(".")
    key = first if first in LISTS else path
    if first == "effects":
        key = last.partition(".")[2]
    if first == "surfaces" and last:
        key = f"surfaces.{last.rpartition('.')[2]}"
    for known in (path, key):
        for table in (brief.guesses, guesses()):
            if known in table:
                return known, table[known]
    return None


def untold(path):
    """Return the unknown figure of a sheet that has no such key; None without a guess.

    Only what the toolkit guesses is asked for: a rail is taken to be unlimited.
    """
    if path not in guesses():
        return None
    return dimension_of(Machine, path).unknown


def read_guess(path, text):
    """Return the Quantity of a guess of a sheet's figure; Wrong if it is none."""
    share_text, of_price, rest = text.partition(OF_PRICE)
    if of_price and not rest.strip():
        return SHARE.parse(share_text.strip())
    first, _, last = path.partition(".")
    one = LIKE.get(first, path)  # of a list, as each in it is
    if first == "surfaces":
        one = f"surfaces.any.{last}"
    owner = Machine if first in Machine.model_fields else Brief
    return dimension_of(owner, one).parse(text.strip())


def filled(brief, machines, found):
    """Return the unknown figures with the range of their guess.

    Raises
    ------
    InputFaults
        For each guess of the brief that cannot be read.
    """
    faults, again = [], {}
    # prices first: what is guessed as a share of one needs it
    for (owner, path), figure in sorted(
        found.items(), key=lambda it: it[0][1] != "price"
    ):
        if figure.is_unknown:
            try:
                price = again.get((owner, "price"), found.get((owner, "price")))
                again[owner, path] = _guessed(figure, path, brief, price, found)
            except Wrong as wrong:
                key = f"guesses.{guess_of(path, brief)[0]}"
                fault = InputFault(
                    brief.source, brief.line_of(key), key, wrong.what, wrong.allowed
                )
                faults += [fault] if fault not in faults else []
    if faults:
        raise InputFaults(faults)
    return again


def _guessed(figure: Evidence, path, brief, price, found):
    """Return an unknown figure with low, likely and high of its guess."""
    _, text = guess_of(path, brief)
    share_text, _, rest = text.partition(OF_PRICE)
    note = f"not told: a wide guess, {text}"
    if share_text != text and not rest.strip():
        share = SHARE.parse(share_text.strip())
        ends = [each * price.likely for each in (share.low, share.likely, share.high)]
        currency = price.currency
    else:
        dimension = dimension_of(Brief if figure.owner == "brief" else Machine, path)
        guess = dimension.parse(text)
        ends, currency = [guess.low, guess.likely, guess.high], guess.currency
        rate = f"exchange.{currency}"
        if currency != brief.currency and ("brief", rate) not in found:
            currency = None  # taken as the brief's own
    low, likely, high = ends
    return replace(
        figure,
        low=low,
        likely=likely,
        high=high,
        told=likely,
        currency=currency,
        note=note,
    )
