"""Other ways than buying → sentences."""

from scoring.decision.waiting import BUY, STOP, WAIT
from scoring.words.figures import about, figure, number

STEADY = (
    "In a steady month, with the jobs, the hours and the own pay of the machine that "
    "leads; the business's fixed costs are paid. Lining up paying clients before "
    "buying is common practice, no source."
)
FIRST = {
    BUY: "Buy now.",
    STOP: "Do not begin: nothing that you tell pays at this work.",
    WAIT: "Wait: prices fall faster than the work would earn.",
}


def ways_in_words(evaluation, ways):
    """Return a sentence a way, the one that is worth most today first."""
    best_first = sorted(ways, key=lambda way: -way.npv)
    return [way_in_words(evaluation, way) for way in best_first]


def way_in_words(evaluation, way):
    """Return what a way leaves in a year, beside buying nothing."""
    currency = evaluation.brief.currency
    if way.left_per_job <= 0:
        return f"{way.name}: a job loses {about(-way.left_per_job, currency)}; no"
    return (
        f"{way.name}: a job leaves {about(way.left_per_job, currency)}, a year "
        f"{about(way.year_result, f'{currency}/year')}, in all today "
        f"{about(way.npv, currency)}"
    )


def steps_in_words(found):
    """Return what to do first, from how many jobs on to buy, what waiting is worth."""
    currency, plan = found.whole.brief.currency, found.plan
    return [
        _first(found),
        *_rule(found),
        f"Being able to wait is worth {about(plan.worth_of_waiting, currency)} today, "
        f"beside the better of buying now ({about(plan.buy_now, currency)}) and not "
        f"beginning (0). Learning first costs {about(plan.learning_cost, currency)} on "
        f"average; in {figure(plan.chance_bought, 'share')} of courses it ends in "
        f"buying.",
        f"Believed now: {number(found.a / found.b, 1)} jobs a month, as sure as if "
        f"{number(found.a, 1)} jobs had been seen in {number(found.b, 1)} months.",
    ]


def _first(found):
    if found.plan.first in FIRST:
        said = FIRST[found.plan.first]
        return f"{found.name}: {said[0].lower()}{said[1:]}"
    way = found.plan.first.capitalize()
    return f"{way} first, then see about {found.name}."


def _rule(found):
    """Return a line for each month from which on enough jobs mean buying."""
    if found.plan.first in (BUY, STOP, WAIT):
        return
    for months, jobs in enumerate(found.plan.buy_from.tolist()):
        if months and jobs >= 0:
            span = "1 month" if months == 1 else f"{months} months"
            n = "1 paid job" if jobs == 1 else f"{jobs} paid jobs"
            yield f"After {span}: buy if {n} or more came."
