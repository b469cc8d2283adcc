"""What ties the buyer to the seller: fee plans, licence, ink, parts."""

from scoring.page import text
from scoring.questions.from_jobs import plan_break_evens
from scoring.words.figures import about, figure, number

LOCK_IN = (
    ("support.prints_if_fee_lapses", "prints on if the fee is not paid"),
    ("support.licence_transfers", "the licence goes with the machine when you sell it"),
    ("ink.sold_by_others", "ink is to be had from others too"),
    ("support.owner_may_swap_heads", "you may change heads yourself"),
    ("wear.head_price", "a new head costs"),
    ("support.head_lead_time", "a new head takes"),
    ("support.in_your_hours", "answers in your working hours"),
    ("support.in_your_language", "answers in your language"),
)


def plans(evaluation, name):
    """Draw what each fee plan would leave, and from when the dearer one pays."""
    k = evaluation.index(name)
    text.heading("Fee plans")
    currency = f"{evaluation.brief.currency}/year"
    rows = [
        [
            plan.name + (" (chosen)" if plan.is_chosen else ""),
            figure(plan.fee, currency),
            about(plan.year_result, currency),
        ]
        for plan in evaluation.plans[k]
    ]
    text.table(["plan", "fee", "would leave in a year"], rows, [1, 2], "fee plans")
    for cheap, dear, n_jobs in plan_break_evens(evaluation, k):
        if n_jobs == float("inf"):
            text.say(f"{dear} never pays against {cheap} with this mix of work.")
        else:
            text.say(
                f"{dear} pays against {cheap} from {number(n_jobs, 1)} jobs a month."
            )


def lock_in(evaluation, name):
    """Draw what ties the buyer to the seller."""
    text.heading("What ties you to the seller")
    machine = evaluation.machines[evaluation.index(name)]
    rows = [[words, tie(machine, key)] for key, words in LOCK_IN]
    text.table(["tie", "as told"], rows, label="ties to the seller")
    if machine.support.licence_transfers is False:
        text.say(
            "Without the licence a used machine is worth nothing: resale counts 0."
        )


def tie(machine, key):
    """Return what a sheet tells of one tie to the seller."""
    told = machine
    for part in key.split("."):
        told = getattr(told, part)
    if told is None or getattr(told, "is_unknown", False):
        return "not told: ask in writing"
    if isinstance(told, bool):
        return "yes" if told else "no"
    return figure(told.likely, told.unit)
