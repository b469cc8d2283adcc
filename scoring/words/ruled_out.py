"""What a machine cannot do for this buyer → sentences: why, and the smallest change."""

from typing import NamedTuple

from scoring.answer.expected import DOUBT
from scoring.answer.limits import LimitKind
from scoring.answer.one_machine import at, of_place, told_at
from scoring.questions.years import years
from scoring.words.figures import about, figure, in_100, joined, number
from scoring.words.workings.carrying import smallest_lift_change

VEHICLE_WORDS = {
    "length": "length for its longest piece",
    "volume": "room to load",
    "payload": "payload",
}


def reasons(evaluation, k, is_us=False):
    """Return a sentence for each limit broken as told, with the smallest change."""
    return [
        REASONS[limit.kind](evaluation, k, limit, is_us)
        for limit in evaluation.broken(k)
        if limit.is_broken_as_told
    ]


def _sides(limit):
    """Return (figure, allowed): as told where that breaks the limit, else expected."""
    if limit.is_broken_as_told:
        return limit.told, limit.allowed_as_told
    return limit.figure, limit.allowed


def _by(limit, is_us):
    asked, allowed = _sides(limit)
    return figure(asked - allowed, limit.unit, is_us)


def _in_money(limit):
    """Return (figure, allowed, what mends it), to three digits; the mean beside.

    In full where the first two would read the same. What mends it holds on average too.
    """
    asked, allowed = _sides(limit)
    gap = about(max(asked - allowed, limit.figure - limit.allowed), limit.unit)
    cost, has = about(asked, limit.unit), about(allowed, limit.unit)
    mean = about(limit.figure, limit.unit)
    apart = "" if mean == cost else f" ({mean} on average)"
    if cost == has:
        cost, has = figure(asked, limit.unit), figure(allowed, limit.unit)
    return f"{cost}{apart}", has, gap


def _lift_reason(evaluation, k, limit, is_us):
    mass, allowed = (figure(side, "kg", is_us) for side in _sides(limit))
    mean = figure(limit.figure, "kg", is_us)
    mass += "" if mean == mass else f" ({mean} on average)"
    one = evaluation.brief.crew.people == 1
    who = "one person lifts" if one else "by the filter for teams your crew lifts"
    broken = (
        f"The heaviest piece lifted by hand is reckoned at {mass}; {who} up to "
        f"{allowed}, {_by(limit, is_us)} less."
    )
    return f"{broken} Smallest change: {smallest_lift_change(evaluation, k, is_us)}."


def _vehicle_reason(evaluation, k, limit, is_us):
    asked, has = (figure(side, limit.unit, is_us) for side in _sides(limit))
    return (
        f"It asks {asked} of {VEHICLE_WORDS[limit.subject]}; your vehicle has {has}, "
        f"{_by(limit, is_us)} less. Smallest change: a larger vehicle; write under "
        "vehicle in the brief what one costs to hire for a day, or to buy."
    )


def _cash_reason(evaluation, k, limit, is_us):
    cost, funds, gap = _in_money(limit)
    return (
        f"It costs {cost} to your door; cash and loan come to {funds}. "
        f"Smallest change: {gap} more, or as much off the price."
    )


def _low_point_reason(evaluation, k, limit, is_us):
    need, funds, gap = _in_money(limit)
    month = int(of_place(years(evaluation).worth, k).low_month)
    when = f"by month {month} after signing" if month else "at signing"
    said = (
        f"Paid for as you say, it has taken {need} more than it has brought {when}; "
        f"cash and unused credit come to {funds}."
    )
    if at(evaluation, k).year.result <= 0:
        return (
            f"{said} Smallest change: work that leaves more than a year costs; no "
            "terms of payment mend it."
        )
    return (
        f"{said} Smallest change: {gap} more, paying later, or clients who pay sooner."
    )


def _upfront_reason(evaluation, k, limit, is_us):
    cost, allowed, gap = _in_money(limit)
    return (
        f"It costs {cost} to your door; your own limit is {allowed}. "
        f"Smallest change: {gap} off the price."
    )


def _feature_reason(evaluation, k, limit, is_us):
    feature = limit.subject.replace("_", " ")
    return (
        f"It has no {feature} under any of its plans, and you must have it. "
        "Smallest change: a later model or an add-on that brings it, or doing without."
    )


def _must_serve_reason(evaluation, k, limit, is_us):
    j = [job.name for job in evaluation.brief.work].index(limit.subject)
    job, missed = evaluation.brief.work[j], _missed(evaluation, k, j)
    changes = "; ".join(
        _said(MISSES[name].change, job, by, is_us) for name, by in missed
    )
    why = not_served(evaluation, k, j, is_us)
    return (
        f"It cannot do “{limit.subject}”, which you must serve: {why} "
        f"Smallest change: {changes}."
    )


REASONS = {
    LimitKind.LIFT: _lift_reason,
    LimitKind.VEHICLE: _vehicle_reason,
    LimitKind.CASH: _cash_reason,
    LimitKind.LOW_POINT: _low_point_reason,
    LimitKind.HIGHEST_UPFRONT: _upfront_reason,
    LimitKind.MUST_HAVE: _feature_reason,
    LimitKind.MUST_SERVE: _must_serve_reason,
}


def not_served(evaluation, k, j, is_us=False):
    """Return why machine k does not do job type j, by how much; "" if it does."""
    if _lived(evaluation, k, j).can_do:
        return _declined(evaluation, k, j)
    missed = _missed(evaluation, k, j)
    job = evaluation.brief.work[j]
    whys = [_why(MISSES[name], job, by, is_us) for name, by in missed]
    return f"{'; '.join(whys)}."


def _lived(evaluation, k, j):
    """Return what the machine does as told where that rules a job out, else expected.

    So that the amount by which it misses is one that somebody told.
    """
    told = told_at(evaluation, k, j)
    return at(evaluation, k, j) if told.can_do else told


def why_missed(evaluation, k, j):
    """Return in a clause what most often keeps a machine from a job."""
    chances = of_place(evaluation.expected.chances.misses, k, j)._asdict()
    name = max(chances, key=chances.get)
    return MISSES[name].clause.format(surface=evaluation.brief.work[j].surface)


def why_doubtful(evaluation, k, j):
    """Return in how many draws what keeps a machine from a job, most often first."""
    chances = of_place(evaluation.expected.chances.misses, k, j)._asdict()
    often = sorted(chances, key=lambda name: -chances[name])
    told = [name for name in often if chances[name] > DOUBT][:2] or often[:1]
    surface = evaluation.brief.work[j].surface
    whys = [
        f"in {in_100(float(chances[name]))} draws "
        f"{MISSES[name].clause.format(surface=surface)}"
        for name in told
    ]
    return f"{joined(whys).capitalize()}."


class Miss(NamedTuple):
    """What keeps a machine from a job, in words: a row for each field of `Misses`.

    With {passes} and {surface} of the job, and by how much it is missed, as {strip},
    {depth}, {steps} or {mass}.
    """

    clause: str  # without a figure
    why: str
    change: str  # the smallest that would let it in


MISSES = {
    "pass_mode": Miss(
        "it has too few passes",
        "it has no mode with {passes} passes or more",
        "accept fewer passes",
    ),
    "white": Miss(
        "it prints no white",
        "it prints no white, and the wall needs it underneath",
        "a light wall, or one painted light first",
    ),
    "surface": Miss(
        "it is not made for {surface} walls",
        "it is not made for {surface} walls",
        "its maker's leave for that surface, and a test patch",
    ),
    "curved": Miss(
        "it is not made for curved walls",
        "it is not made for curved walls",
        "leave curved walls to others",
    ),
    "relief": Miss(
        "the wall stands out more than its head gap",
        "the wall stands out {depth} more than its head gap",
        "a wall filled and smoothed",
    ),
    "too_high": Miss(
        "it does not reach high enough",
        "a strip of {strip} at the top stays unprinted",
        "a picture that ends {strip} lower, or a platform under the rail",
    ),
    "too_low": Miss(
        "it does not reach low enough",
        "a strip of {strip} near the floor stays unprinted",
        "a picture that starts {strip} higher",
    ),
    "corner": Miss(
        "it does not come close enough to the corner",
        "a strip of {strip} beside the corner stays unprinted",
        "a picture that keeps {strip} further from the corner",
    ),
    "odour": Miss(
        "its smell is too strong",
        "its smell is {steps} above what the client allows",
        "an ink {steps} weaker, or the client's leave",
    ),
    "too_far": Miss(
        "the drive leaves no time",
        "the drive leaves no time on site in a day",
        "a night's lodging nearby",
    ),
    "too_long": Miss(
        "a rail position fills more than a day",
        "building, packing down and the road leave no time to print",
        "leave to stay built overnight",
    ),
    "carry": Miss(
        "a piece is too heavy for those who may be there",
        "a piece is {mass} too heavy to be carried there",
        "one more to carry, or an aid that takes it there",
    ),
}


def _missed(evaluation, k, j):
    """Return [(what is missed, by how much)] of a job that machine k cannot do."""
    amounts = _lived(evaluation, k, j).misses._asdict().items()
    return [(name, amount) for name, amount in amounts if amount > 0]


def _said(text, job, amount, is_us):
    """Return a text of a `Miss` with the job's own figures, and by how much."""
    return text.format(
        passes=job.passes, surface=job.surface, **_amounts(amount, is_us)
    )


def _why(miss, job, amount, is_us):
    """Return why a job is missed, without an amount that would read as none."""
    amounts = _amounts(amount, is_us).items()
    shown = [said for name, said in amounts if f"{{{name}}}" in miss.why]
    is_none = any(said.split()[0] == "0" for said in shown)
    return _said(miss.clause if is_none else miss.why, job, amount, is_us)


def _amounts(amount, is_us):
    """Return by how much something is missed, in each way that a `Miss` may tell it."""
    strip = f"{number(100 * amount, 0)} cm"
    if is_us:
        strip = f"{number(amount / 0.0254, 1)} in"
    return {
        "strip": strip,
        "depth": f"{number(1000 * amount, 1)} mm",
        "steps": _steps(amount),
        "mass": figure(amount, "kg", is_us),
    }


def _steps(amount):
    """Return steps of the odour scale."""
    steps = number(amount, 1)
    return f"{steps} step of 6" if steps == "1" else f"{steps} steps of 6"


def _declined(evaluation, k, j):
    lived = at(evaluation, k, j)
    if not lived.year.is_declined:
        return ""
    left = lived.contribution
    if left > 0:
        return "it leaves less than the ink to be bought for it in a year."
    loss = figure(-left, evaluation.brief.currency)
    return f"each such job would lose {loss}."
