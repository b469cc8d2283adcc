"""A limit that may not hold → sentences: in how many draws, and what settles it."""

from scoring.answer.expected import HALF
from scoring.answer.limits import LimitKind
from scoring.evidence.sheet_figures import settle_of
from scoring.words.figures import about, figure, in_100
from scoring.words.ruled_out import reasons, why_missed


def why_not_in(evaluation, k, is_us=False):
    """Return why a machine is ruled out or in doubt; [] where it is neither."""
    status = evaluation.status(k)
    if status == "ranked":
        return []
    out = reasons(evaluation, k, is_us) if status == "ruled_out" else []
    return out or doubts(evaluation, k, is_us)


def doubts(evaluation, k, is_us=False):
    """Return a sentence for each limit that machine k may break, most often first."""
    return [_sentence(evaluation, k, x, is_us) for x in evaluation.broken(k)]


def _money_apart(limit):
    """Return sums to three digits, but in full where two would read the same."""
    sums = limit.told, limit.figure, limit.allowed
    shown = [about(float(each), limit.unit) for each in sums]
    is_apart = shown[2] not in shown[:2]
    return shown if is_apart else [figure(each, limit.unit) for each in sums]


def _sentence(evaluation, k, limit, is_us):
    often = f"in {in_100(float(limit.chance))} draws"
    return DOUBTS[limit.kind](evaluation, k, limit, often, is_us)


def _lift_doubt(evaluation, k, limit, often, is_us):
    basis = evaluation.evidence[evaluation.names[k], "heaviest_lift"].basis
    who = "the seller says" if basis == "quoted" else "the sheet says"
    told, allowed = (figure(x, "kg", is_us) for x in (limit.told, limit.allowed))
    return (
        f"Lifting: {who} {told}, you may lift {allowed}, and {often} it is more: "
        f"{settle_of('heaviest_lift').how} and it is settled."
    )


def _money_doubt(evaluation, k, limit, often, is_us):
    told, counted, allowed = _money_apart(limit)
    rests = ""
    if limit.chance > HALF:  # as told it holds: only the ranges break it
        rests = "What is told keeps it; only what may come otherwise breaks it. "
    return (
        f"Money: {often} {MONEY_WORDS[limit.kind]} ({told} if all is as told, "
        f"{counted} on average, {allowed} there is). {rests}A price in writing and "
        "work already sold settle it."
    )


def _vehicle_doubt(evaluation, k, limit, often, is_us):
    sides = limit.told, limit.allowed
    told, allowed = (figure(x, limit.unit, is_us) for x in sides)
    return (
        f"Vehicle: {often} it does not go in, by its {limit.subject} ({told} told, "
        f"{allowed} there is): {settle_of('vehicle.mass').how}."
    )


def _must_serve_doubt(evaluation, k, limit, often, is_us):
    j = [job.name for job in evaluation.brief.work].index(limit.subject)
    return (
        f"Work: {often} it cannot do “{limit.subject}”, which you must serve: "
        f"{why_missed(evaluation, k, j)}. Test that before you pay."
    )


def _feature_doubt(evaluation, k, limit, often, is_us):
    return f"It has no {limit.subject.replace('_', ' ')} {often}."


MONEY_WORDS = {
    LimitKind.CASH: "it costs more to your door than cash and loan hold",
    LimitKind.LOW_POINT: "cash and unused credit run out on the way",
    LimitKind.HIGHEST_UPFRONT: "it costs more to your door than your own limit",
}
DOUBTS = {
    LimitKind.LIFT: _lift_doubt,
    LimitKind.VEHICLE: _vehicle_doubt,
    LimitKind.MUST_SERVE: _must_serve_doubt,
    LimitKind.MUST_HAVE: _feature_doubt,
    **dict.fromkeys(MONEY_WORDS, _money_doubt),
}
