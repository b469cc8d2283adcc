"""What a seller is asked to put in writing, and the figures that this settles."""

from typing import NamedTuple


class Ask(NamedTuple):
    """One thing to have in writing, and the keys that it settles."""

    how: str
    settles: tuple[str, ...]


LETTER = (
    Ask("the price, what it includes, until when it holds", ("price",)),
    Ask(
        "freight, insurance, duty, import tax, training and accessories, each on its "
        "own",
        ("landed_cost",),
    ),
    Ask(
        "each plan: fee, what it unlocks, whether it prints when the fee lapses, "
        "whether the licence goes with the machine",
        ("subscription_fees", "features"),
    ),
    Ask(
        "price of colour and of white ink by the litre, the smallest order, how long "
        "it keeps, who else sells it, and the safety data sheet",
        ("ink.price", "ink.white_price", "ink.smallest_order", "ink.shelf_life"),
    ),
    Ask(
        "price of a head and of a lamp, days until they arrive, whether you may change "
        "them yourself, and the lamp's wavelength",
        ("wear.head_price", "wear.lamp_price"),
    ),
    Ask(
        "days until somebody answers, days until parts arrive, the warranty; in your "
        "working hours and in your language or not",
        ("support",),
    ),
    Ask("yearly upkeep, and who may do it", ("upkeep",)),
    Ask("what it is bought back for, after how long", ("resale",)),
    Ask(
        "power and noise, and the surfaces it is meant for",
        ("power", "noise", "surfaces"),
    ),
    Ask("payment in stages, the balance after an acceptance print", ()),
)
