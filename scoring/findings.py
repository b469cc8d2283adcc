"""Firmness → advice in words: how surely who leads, what would turn it, what to ask.

The money worth of a question comes first; where knowing one thing alone is worth
nothing in money, what moves the lead most comes next.
"""

from dataclasses import dataclass

from scoring.explain import unknowns
from scoring.firmness import NOTHING
from scoring.inputs import leads
from scoring.keys import in_words
from scoring.model.money.job_money import revenue
from scoring.whatif import Swing, is_beyond_talk, swings
from scoring.wording import figure, joined, number

SURE = 2.0  # standard errors above 0 at which a worth counts
FIRST = 3  # questions that the verdict names
NO_PRICE = "no such price"
UNITLESS = {"ratings": "1–5", "odour": "0–6", "odour_limit": "0–6"}
UNITLESS["per_month"] = "a month"
LIMITS = {
    "lift": "the lift",
    "vehicle": "your vehicle",
    "cash": "cash and loan on the day",
    "low_point": "cash and credit by the month",
    "highest_upfront": "the most you would pay",
    "must_have": "what you must have",
    "must_serve": "work you must serve",
}
RARE = 0.005  # shares below it are not worth a word
BASES = {"sold": "sold work", "enquiries": "enquiries", "guess": "guesses"}


@dataclass(frozen=True)
class Question:
    """One thing to find out: how to settle it, what it is worth, what it may turn."""

    owner: str  # a machine's name, or "brief"
    path: str
    what: str
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
        """Who would lead at either end instead, "" if nobody."""
        if self.swing is None or self.swing.leader_low == self.swing.leader_high:
            return ""
        return joined(sorted({self.swing.leader_low, self.swing.leader_high} - {""}))


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
    turned = {(swing.owner, swing.path): swing for swing in swings(evaluation)}
    worths = {(worth.owner, worth.path): worth for worth in firm.worths}
    found = []
    for owner, path in dict.fromkeys([*worths, *turned]):
        worth = worths.get((owner, path))
        found.append(
            Question(
                owner,
                path,
                what_of(evaluation, owner, path),
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


def what_of(evaluation, owner, path):
    """Return a figure in words, with whose it is."""
    if owner == "brief":
        return in_words(evaluation.brief, path).removeprefix("work: ")
    machine = evaluation.machines[evaluation.index(owner)]
    if path.startswith("speed."):
        return f"{owner}: printing speed"
    return f"{owner}: {in_words(machine, path)}"


def how_surely(firm):
    """Return the verdict's second half: how often the leader is first, and the rest."""
    evaluation = firm.evaluation
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    if not order:
        return "No machine is within your limits with the figures as they are."
    leader = order[0]
    share = figure(firm.acceptability[leader, 0], "share")
    said = (
        f"With all figures and weights drawn within what is known, "
        f"{evaluation.names[leader]} is first in {share} of {number(firm.n_draws)} "
        "draws"
    )
    rivals = [k for k in range(len(evaluation.names)) if k != leader]
    rivals = sorted(rivals, key=lambda k: -firm.acceptability[k, 0])
    named = [
        f"{evaluation.names[k]} in {figure(firm.acceptability[k, 0], 'share')}"
        for k in rivals[:2]
        if firm.acceptability[k, 0] >= RARE
    ]
    often = f", {joined(named)}" if named else ""
    return f"{said}{often}.{_at_risk(firm, leader)}"


def _at_risk(firm, leader):
    share = firm.ruled_out[leader]
    if share < RARE:
        return ""
    return f" In {figure(share, 'share')} of them it breaks one of your limits."


def kept_out_by(firm):
    """Return a sentence for each machine that a limit rules out now and then."""
    said = []
    for k, name in enumerate(firm.evaluation.names):
        if name in firm.evaluation.left_out:
            continue
        shares = sorted(
            ((share[k], key) for key, share in firm.broken.items() if share[k] >= RARE),
            key=lambda pair: -pair[0],
        )
        if shares:
            whys = joined(
                f"by {_limit_in_words(*key)} in {figure(share, 'share')}"
                for share, key in shares
            )
            said.append(f"{name} is ruled out {whys} of draws.")
    return said


def _limit_in_words(name, subject):
    words = LIMITS[name]
    return f"{words} ({subject.replace('_', ' ')})" if subject else words


def money_differs(firm):
    """Return a sentence where money chooses another than the score, else ""."""
    evaluation = firm.evaluation
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    if not order or firm.money_choice == evaluation.names[order[0]]:
        return ""
    currency = f"{evaluation.brief.currency}/year"
    leader = order[0]
    cost = figure(firm.regret[leader], currency)
    if firm.money_choice == NOTHING:
        return (
            f"In money alone, buying nothing is better than any of them: "
            f"{evaluation.names[leader]} would leave "
            f"{figure(firm.benefit[leader], currency)}."
        )
    return (
        f"In money alone the choice would be {firm.money_choice}: by net benefit a "
        f"year, choosing {evaluation.names[leader]} costs {cost} on average. The score "
        "also weighs what money does not."
    )


def first_questions(firm, asked=None):
    """Return sentences on the first things to find out, with what each is worth."""
    asked = questions(firm) if asked is None else asked
    currency = f"{firm.evaluation.brief.currency}/year"
    return [
        f"{question.what}: {question.how}. {_worth(question, currency)}"
        for question in asked[:FIRST]
    ]


def _worth(question, currency):
    if question.sure_value > 0:
        error = figure(question.error, currency)
        worth = f"Worth {figure(question.value, currency)} (± {error})."
    else:
        worth = "Alone it changes the money too little to measure."
    return f"{worth} {_turn(question)}".strip()


def _turn(question):
    if not question.turns_to:
        return ""
    return f"Within its range the lead changes hands between {question.turns_to}."


def when_to_stop(firm):
    """Return when more questions are not worth their while."""
    evaluation = firm.evaluation
    currency = evaluation.brief.currency
    worth = figure(firm.evpi, f"{currency}/year")
    business = evaluation.figures[2]
    a_day = business.own_hour[0, 0, 0] * business.day_min[0, 0, 0] / 60
    said = f"Knowing everything before you buy would be worth {worth} at the most."
    if a_day == a_day:
        said += (
            f" A day of your own time costs about {figure(a_day, currency)}: stop "
            "asking when what is left is worth less than it takes."
        )
    return said


def said_of_leads(brief):
    """Return how many leads there are, and how much is sold, asked, guessed."""
    shares = leads.rests_on(brief.leads_read)
    months = leads.months_spanned(brief.leads_read)
    parts = [
        f"{figure(share, 'share')} {LEADS[basis]}" for basis, share in shares.items()
    ]
    return (
        f"{len(brief.leads_read)} leads over {months} months; "
        f"of the work expected from them {joined(parts)}."
    )


LEADS = {"sold": "sold", "enquiry": "from enquiries", "guess": "guessed"}


def price_in_words(evaluation, name, price):
    """Return up to which price a machine is the best buy, as people say it.

    `price` is what `whatif.best_buy_price` returns.
    """
    if price is None:
        return NO_PRICE
    said = figure(price, evaluation.brief.currency)
    return f"{said} and more" if is_beyond_talk(evaluation, name, price) else said


def revenue_by_basis(evaluation):
    """Return {basis: share} of what clients would pay for the whole mix.

    Empty where nobody pays anything.
    """
    jobs = evaluation.figures[1]
    paid = (jobs.per_month * revenue(jobs))[0, 0]
    total = float(paid.sum())
    shares = dict.fromkeys(BASES, 0.0) if total > 0 else {}
    for job, amount in zip(evaluation.brief.work, paid, strict=True):
        if shares:
            shares[job.basis] += float(amount) / total
    return shares


def mix_rests_on(evaluation):
    """Return a sentence on how much of the revenue is sold, asked for, or guessed."""
    if evaluation.brief.leads_read:
        return said_of_leads(evaluation.brief)
    shares = revenue_by_basis(evaluation)
    if not shares:
        return "There is no work that anybody pays for."
    said = [f"{figure(shares[basis], 'share')} on {BASES[basis]}" for basis in BASES]
    return f"What clients would pay for your mix of work rests {joined(said)}."


def value_of(swing, value, is_us=False):
    """Return a value of a swing's figure in its unit, ratings out of their scale."""
    parts = swing.path.split(".")
    unit = swing.unit or UNITLESS.get(parts[0]) or UNITLESS.get(parts[-1], "")
    return figure(value, unit, is_us)


def level_in_words(evaluation, swing, value, is_us=False):
    """Return at which value of a figure today's leader loses its lead, and to whom.

    `value` is what `whatif.level_value` returns for a swing that turns.
    """
    what = what_of(evaluation, swing.owner, swing.path)
    is_below = swing.lead_low < 0
    winner = swing.leader_low if is_below else swing.leader_high
    side = "below" if is_below else "above"
    said = f"{what}: {side} {value_of(swing, value, is_us)}"
    return f"{said} {f'{winner} leads' if winner else 'none is within your limits'}."


def untold(evaluation, k):
    """Return what the seller of machine k leaves unknown, in words; "" for nothing."""
    machine = evaluation.machines[k]
    return joined(in_words(machine, path) for path in unknowns(evaluation, k))
