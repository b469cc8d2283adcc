"""A limit that may not hold → sentences: in how many draws, and what settles it."""

from scoring.answer.expected import HALF
from scoring.answer.limits import PRICED, LimitKind
from scoring.answer.one_machine import of_place
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
    limit = of_place(limit, k)
    often = f"in {in_100(float(limit.chance))} draws"
    told = figure(limit.told, limit.unit, is_us)
    counted = figure(limit.figure, limit.unit, is_us)
    allowed = figure(limit.allowed, limit.unit, is_us)
    if limit.kind == LimitKind.LIFT:
        basis = evaluation.evidence[evaluation.names[k], "heaviest_lift"].basis
        who = "the seller says" if basis == "quoted" else "the sheet says"
        return (
            f"Lifting: {who} {told}, you may lift {allowed}, and {often} it is more: "
            f"{settle_of('heaviest_lift').how} and it is settled."
        )
    if limit.kind in PRICED:
        what = {
            LimitKind.CASH: "it costs more to your door than cash and loan hold",
            LimitKind.LOW_POINT: "cash and unused credit run out on the way",
            LimitKind.HIGHEST_UPFRONT: "it costs more to your door than your own limit",
        }[limit.kind]
        told, counted, allowed = _money_apart(limit)
        rests = ""
        if limit.chance > HALF:  # as told it holds: only the ranges break it
            rests = "What is told keeps it; only what may come otherwise breaks it. "
        return (
            f"Money: {often} {what} ({told} if all is as told, {counted} on average, "
            f"{allowed} there is). {rests}A price in writing and work already sold "
            "settle it."
        )
    if limit.kind == LimitKind.VEHICLE:
        return (
            f"Vehicle: {often} it does not go in, by its {limit.subject} ({told} told, "
            f"{allowed} there is): {settle_of('vehicle.mass').how}."
        )
    if limit.kind == LimitKind.MUST_SERVE:
        j = [job.name for job in evaluation.brief.work].index(limit.subject)
        why = why_missed(evaluation, k, j)
        return (
            f"Work: {often} it cannot do “{limit.subject}”, which you must serve: "
            f"{why}. Test that before you pay."
        )
    return f"It has no {limit.subject.replace('_', ' ')} {often}."
