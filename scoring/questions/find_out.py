"""What to find out before paying: each question, what settles it, what it is worth."""

from dataclasses import dataclass

from scoring.evidence.sheet_figures import Settle, settle_of
from scoring.questions.swings import Swing, all_swings

SURE = 2.0  # standard errors above 0 at which a worth counts


@dataclass(frozen=True)
class OpenQuestion:
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


OF_THE_BRIEF = {
    "per_month": Settle("line up paying clients; ask for a deposit", "diary", False),
    "price": Settle(
        "look at what clients have paid, or ask three for an offer",
        "diary",
        False,
    ),
    "demand": Settle(
        "sell some of the work before you buy, and count how much of it comes",
        "diary",
        False,
    ),
    "trade": Settle(
        "ask two owners who began lately how work came and how soon clients paid",
        "owners",
        True,
    ),
    "payment": Settle("ask the seller and your bank for it in writing", "letter", True),
    "exchange": Settle(
        "ask your bank for a rate, and until when it holds", "letter", True
    ),
}
DIARY = Settle("measure it on your next jobs and keep a diary", "diary", False)


def settled_by(owner, path):
    """Return the Settle of a figure: how, where, whether it is quick.

    Examples
    --------
    >>> settled_by("Alder", "heaviest_lift").how
    'put the heaviest piece on a scale'
    """
    if owner == "brief":
        parts = path.split(".")
        keys = [key for key in (*parts[2:], parts[0]) if key in OF_THE_BRIEF]
        return OF_THE_BRIEF[keys[0]] if keys else DIARY
    return settle_of(path)


def questions(firm, swings=None):
    """Return every OpenQuestion worth asking, the most worthwhile first.

    `swings` are those of `all_swings`, where they are known.
    """
    evaluation = firm.evaluation
    swings = all_swings(evaluation) if swings is None else swings
    turned = {(swing.owner, swing.path): swing for swing in swings}
    worths = {(worth.owner, worth.path): worth for worth in firm.worths}
    found = []
    for owner, path in dict.fromkeys([*worths, *turned]):
        worth = worths.get((owner, path))
        found.append(
            OpenQuestion(
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
