"""What a room's screens say at each stage and of each question."""

from scoring.decision.criteria import STANDARD
from scoring.workshop.pack import N_BUYERS
from scoring.workshop.papers import SWAP_WORDS

LABELS = {criterion.id: criterion.label for criterion in STANDARD}
TO_DO = {
    "join": "Wait for the others. Have a look at the eight machines.",
    "first_guess": "No buyer yet: which machine would you say is best?",
    "buyer": "Your team has a buyer. Reckon days by hand, then order the machines.",
    "prices": "What is each step worth to your buyer, in money a year?",
    "reveal": "Your team beside the toolkit.",
    "swap": "The machines stay, the buyer changes. Say who leads, then see.",
    "visit": "Time at a seller's is short. Open what could change the choice.",
    "debrief": "A buyer nobody has seen, and the questions once more.",
}
FOR_TRAINER = {
    "join": "Let the wall show the code. Move on once everybody is in.",
    "first_guess": "Each alone, without talking. Nobody has a buyer, so nobody can be "
    "right: that is the point. Then show the answers and let two people argue.",
    "buyer": "Each team has its own buyer, on its phones. Days come whole: build, "
    "print and moves, against the working day.",
    "prices": "Ask: what would this buyer pay a year to go from the worst to the best?",
    "reveal": "The wall shows each team beside the toolkit. Ask each team for the one "
    "figure that decided; the workings are in the key.",
    "swap": "Nobody sees who leads before having said it. Ask: which limit binds now?",
    "visit": "One envelope after another; an opened one stays open. Then the key: what "
    "was each worth?",
    "debrief": "Let them answer first. Then show the results.",
}
SHOW_WORDS = {
    "answers": "Show the answers, without names",
    "names": "Show who said what",
    "results": "Show what the exercise showed",
}


def title_of(plan, name, buyer=None):
    """Return a question in words.

    Parameters
    ----------
    buyer : the place of the buyer that is asked about, None if the room has several
    """
    head, _, rest = name.partition(".")
    if head in ("before", "after"):
        return next(q.text for q in plan.questions if q.id == rest)
    if head == "days":
        job = "" if buyer is None else plan.all_buyers[buyer].predict[int(rest)]
        return f"{job or f'Job {int(rest) + 1}'}: how many days on site?"
    if head == "leads":
        who = "the buyer nobody has seen" if rest == "sixth" else SWAP_WORDS[rest]
        return (
            f"Who leads for {who}?"
            if rest in ("sixth", "next")
            else (f"Who leads with {who}?")
        )
    return {
        "ranks": "Which machine is best? The best first",
        "sure": "How sure are you of the first one?",
        "prices": "What is each step worth, a year?",
        "order": "Which envelope first?",
    }[head]


def short_title(plan, name):
    """Return a question in a few words, for the wall."""
    head, _, rest = name.partition(".")
    if head == "leads":
        return "The unseen buyer" if rest == "sixth" else SWAP_WORDS[rest].capitalize()
    if head == "days":
        return f"Days of job {int(rest) + 1}"
    return {
        "ranks": "Points of all orders",
        "sure": "How sure, %",
        "prices": "Prices, shares",
        "order": "Opened first",
    }.get(head) or title_of(plan, name)


def is_test(name):
    """Return whether a question is one of the two tests."""
    return name.startswith(("before.", "after."))


def plan_buyer(view):
    """Return the place of the buyer that a view's stage asks about, None if several."""
    return N_BUYERS if view.room.stage == "debrief" else view.buyer


def clock(seconds):
    """Return the time left in words.

    Examples
    --------
    >>> clock(61), clock(-5)
    ('1:01 left', 'time is up')
    """
    if seconds <= 0:
        return "time is up"
    return f"{int(seconds) // 60}:{int(seconds) % 60:02} left"
