"""What to find out before paying: each question, what settles it, what it is worth."""

from dataclasses import dataclass

from scoring.questions.swings import Swing, all_swings

SURE = 2.0  # standard errors above 0 at which a worth counts


@dataclass(frozen=True)
class Question:
    """One thing to find out: how to settle it, what it is worth, what it may turn."""

    owner: str  # a machine's name, or "brief"
    path: str
    record: object  # the Machine or the Brief that the figure stands in
    how: str
    where: str  # "visit", "letter", "owners" or "diary"
    is_quick: bool
    value: float  # money a year
    error: float
    swing: Swing | None

    @property
    def sure_value(self):
        """The value where it stands clear of chance, else 0."""
        return self.value if self.value > SURE * self.error else 0.0

    @property
    def turns_to(self):
        """The names of who would lead at either end, () where one leads at both."""
        if self.swing is None or self.swing.leader_low == self.swing.leader_high:
            return ()
        return tuple(sorted({self.swing.leader_low, self.swing.leader_high} - {""}))


# What settles a figure: first part of its key → (how, where, quick).
SETTLED = {
    "speed": ("time the same picture at the same pass mode twice", "visit", False),
    "assembly_time": ("time three builds by one person", "visit", False),
    "pack_down_time": ("time it being packed down, three times", "visit", False),
    "prime_time": ("time purge, nozzle check and head gap", "visit", False),
    "move_time": ("time the move to a second wall", "visit", False),
    "shift_time": ("time one shift along the wall", "visit", True),
    "effects": ("time it with the feature in use", "visit", False),
    "carriage": ("time two prints of one width and two heights", "visit", False),
    "heaviest_lift": ("put the heaviest piece on a scale", "visit", True),
    "pieces": ("put each piece on a scale", "visit", True),
    "vehicle": ("measure the crate and the longest piece, weigh it all", "visit", True),
    "odour": (
        "three noses on the words of VDI 3882, at once, after an hour, after a day",
        "visit",
        True,
    ),
    "ratings": ("look at your own sample boards with two others", "visit", True),
    "white": ("time one print with and without white underneath", "visit", False),
    "ink": ("weigh the ink before and after a print of known area", "visit", False),
    "spoilt_share": ("ring two owners: how many prints went wrong", "owners", True),
    "reliability": ("ring two owners: how often and how long it stood", "owners", True),
    "wear": ("ring two owners: how long heads and lamps lasted", "owners", True),
    "support": ("ask in writing, and ring an owner who needed it", "letter", True),
    "rail_length": ("measure the rail", "visit", True),
    "max_print_height": ("print up to the top and measure", "visit", True),
    "lowest_print_height": (
        "print to the floor and measure the strip left",
        "visit",
        True,
    ),
    "side_clearance": ("print into a corner and measure the strip left", "visit", True),
    "head_gap": (
        "measure the widest gap at which it still prints sharp",
        "visit",
        True,
    ),
}
MONEY_KEYS = ("price", "landed_cost", "subscription_fees", "resale", "upkeep")
IN_WRITING = ("ask the seller for it in writing", "letter", True)
PRICE_OF = ("ask the seller for the price in writing", "letter", True)
OF_THE_BRIEF = {
    "per_month": ("line up paying clients; ask for a deposit", "diary", False),
    "price": (
        "look at what clients have paid, or ask three for an offer",
        "diary",
        False,
    ),
    "exchange": ("ask your bank for a rate, and until when it holds", "letter", True),
}
DIARY = ("measure it on your next jobs and keep a diary", "diary", False)


def settled_by(owner, path):
    """Return (how, where, is quick): what would settle a figure.

    Examples
    --------
    >>> settled_by("Alder", "heaviest_lift")[0]
    'put the heaviest piece on a scale'
    """
    parts = path.split(".")
    if owner == "brief":
        keys = [key for key in (*parts[2:], parts[0]) if key in OF_THE_BRIEF]
        return OF_THE_BRIEF[keys[0]] if keys else DIARY
    if parts[0] in MONEY_KEYS or parts[-1] in ("smallest_order", "shelf_life"):
        return IN_WRITING
    if parts[-1].endswith("price"):
        return PRICE_OF
    return SETTLED[parts[0]]


def questions(firm):
    """Return every Question worth asking, the most worthwhile first."""
    evaluation = firm.evaluation
    turned = {(swing.owner, swing.path): swing for swing in all_swings(evaluation)}
    worths = {(worth.owner, worth.path): worth for worth in firm.worths}
    found = []
    for owner, path in dict.fromkeys([*worths, *turned]):
        worth = worths.get((owner, path))
        found.append(
            Question(
                owner,
                path,
                evaluation.record_of(owner),
                *settled_by(owner, path),
                worth.value if worth else 0.0,
                worth.error if worth else 0.0,
                turned.get((owner, path)),
            )
        )
    return tuple(sorted(found, key=_by_worth))


def _by_worth(question):
    swing = question.swing
    turns = bool(question.turns_to)
    return (-question.sure_value, not turns, -(swing.width if swing else 0.0))
