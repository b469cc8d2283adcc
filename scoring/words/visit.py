"""The plan for a visit, and the order of sellers → sentences."""

from scoring.questions.advice import advice
from scoring.words.figures import about, figure, joined, number
from scoring.words.keys import what_of
from scoring.words.verdict import what_to_do

NOT_WORTH = "not worth the way: what the tests tell leaves less than the visit costs"
LESS = "less than they cost"
STOP = "Stop here: what is left is worth less than it takes, or does not fit."
SEEN_FIRST = (
    "Pay for nothing that you have not seen printing (common practice, no source)."
)


def plan_in_words(found, is_us=False):
    """Return the plan of one seller's visit, a sentence a line, the verdict first."""
    if not found.plan.steps:
        return [f"{found.name}: no test that fits is worth what it takes."]
    lines = [f"{found.name}: {verdict(found)}."]
    for n in range(len(found.plan.steps)):
        lines.append(f"{number(n + 1)}. {step_in_words(found, n, is_us)}")
    return [*lines, STOP]


def verdict(found):
    """Return whether the visit is worth the way, and what its tests are worth."""
    currency, plan = found.evaluation.brief.currency, found.plan
    worth = (
        f"the tests are worth {about(plan.worth, currency)} together today and cost "
        f"{about(plan.cost, currency)}, the way {about(found.visit_cost, currency)}"
        f"{_by_score(found)}"
    )
    return worth if found.is_worth_it else f"{NOT_WORTH} ({worth})"


def _by_score(found):
    """Return what the tests are worth to one who buys by score; "" where not money."""
    if found.by_score is None:
        return ""
    worth = LESS
    if found.by_score > found.plan.cost:
        worth = about(found.by_score, found.evaluation.brief.currency)
    return f"; to one who buys by score, {worth}"


def step_in_words(found, n, is_us=False):
    """Return the nth test of a plan: what, how long, and when to leave after it."""
    step = found.plan.steps[n]
    trial = found.tests[step.test]
    took, until = (figure(x, "min") for x in (trial.estimate.minutes, step.minutes))
    leave = found.leave.get(step.test)
    return f"{trial.title}, {took} (until {until}){_leave(found, leave, is_us)}."


def _leave(found, leave, is_us):
    if leave is None:
        return ""
    evidence = found.evaluation.evidence[found.name, leave.path]
    record = found.evaluation.record_of(found.name)
    what = what_of(record, found.name, leave.path).removeprefix(f"{found.name}: ")
    value = figure(leave.value, evidence.currency or evidence.unit, is_us)
    return f": if {what} is {value} or {'more' if leave.is_above else 'less'}, leave"


def round_in_words(found):
    """Return in which order to visit sellers, and when to stop, a sentence a line."""
    if not found.visits:
        return []
    currency = found.visits[0].evaluation.brief.currency
    going = [found.visits[box] for box in found.search.order]
    others = [v.name for n, v in enumerate(found.visits) if n not in found.search.order]
    if not going:
        return ["No seller is worth a visit: at best it leaves less than it costs."]
    lines = []
    if not any(visit.is_worth_it for visit in going):
        lines.append(
            "No visit tells enough to be worth its way: what tests could show would "
            "hardly change what you buy. If you go all the same:"
        )
    lines.append(f"Go first to {going[0].name}.")
    for visit, value in zip(going[1:], found.search.values[1:], strict=False):
        lines.append(
            f"Then to {visit.name}, unless what you have seen is worth "
            f"{about(value, currency)} or more to you today."
        )
    if others:
        lines.append(f"Leave out {joined(others)}: not worth a visit.")
    n_visits = number(float(found.search.chance_opened.sum()), 1)
    visits = "1 visit" if n_visits == "1" else f"{n_visits} visits"
    lines.append(
        f"On average that is {visits}, and leaves "
        f"{about(found.search.worth, currency)} today, visits paid. {SEEN_FIRST}"
    )
    return lines


def whether_it_changed(before, after):
    """Return whether what was measured changes what to do, and what that is now."""
    was, now = (_to_do(evaluation) for evaluation in (before, after))
    if was[0] == now[0]:
        return f"What you measured does not change the answer. {now[1]}"
    return f"What you measured changes the answer. Before: {was[1]} Now: {now[1]}"


def _to_do(evaluation):
    found = advice(evaluation)
    name = None if found.k is None else evaluation.names[found.k]
    said = what_to_do(evaluation, found).strip()
    return (found.kind, name), said or "No machine is left within your limits."
