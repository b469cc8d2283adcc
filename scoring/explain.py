"""Evaluation → sentences: who leads and why, who is ruled out and what would help."""

import numpy as np

from scoring.model import crew
from scoring.model.landed import missing
from scoring.wording import figure, joined, key_in_words, number
from scoring.years import years

BARELY = 0.02  # points; a lead that a change of weights soon undoes; own estimate
TELLING = 0.005  # points; smaller differences are not worth a word; own estimate
MOST_UNKNOWNS = 4
VEHICLE_WORDS = {
    "length": "length for its longest piece",
    "volume": "room to load",
    "payload": "payload",
}


def verdict(evaluation):
    """Return one or two plain sentences: who comes first for this work, and why."""
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    if not order:
        return (
            "No machine is left: each breaks one of your limits. "
            "See below which, and the smallest change that would let it in."
        )
    first = [k for k in order if evaluation.rank_weighted_sum[k] == 1]
    names = evaluation.names
    if len(first) > 1:
        tied = joined(names[k] for k in first)
        return f"{tied} share first place: this work does not tell them apart."
    leader = first[0]
    score = f"{evaluation.weighted_sum[leader]:.2f}"
    if len(order) == 1:
        return (
            f"{names[leader]} is the only machine within your limits (score {score})."
            f"{_earns_nothing(evaluation, leader)}"
        )
    second = order[1]
    lead = evaluation.weighted_sum[leader] - evaluation.weighted_sum[second]
    size = "barely ahead" if lead < BARELY else "ahead"
    return (
        f"{names[leader]} comes first for this work: {score} points out of 1, "
        f"{size} of {names[second]} with {evaluation.weighted_sum[second]:.2f}."
        f"{_carried_by(evaluation, leader, second)}"
        f"{_earns_nothing(evaluation, leader)}{_assumed(evaluation, leader)}"
    )


def _earns_nothing(evaluation, leader):
    """Return a warning where the leader serves no work, or loses money with it."""
    year = evaluation.outcome.year
    if not year.served_per_month[0, leader].any():
        return " It does none of your work."
    if year.result[0, leader, 0] < 0:
        loss = figure(-year.result[0, leader, 0], f"{evaluation.brief.currency}/year")
        return f" At this work it would lose {loss}: buying nothing is better."
    return ""


def _carried_by(evaluation, leader, second):
    """Return in what the leader is ahead of the second, and in what behind."""
    parts = evaluation.weights * (evaluation.scores[leader] - evaluation.scores[second])
    labels = [criterion.label for criterion in evaluation.criteria]
    better = [labels[c] for c in np.argsort(-parts)[:2] if parts[c] > TELLING]
    worse = [labels[c] for c in np.argsort(parts)[:1] if parts[c] < -TELLING]
    ahead = f" Better on {joined(better)}" if better else ""
    behind = f"orse on {joined(worse)}" if worse else ""
    if ahead and behind:
        return f"{ahead}; w{behind}."
    return f"{ahead or ' W' + behind}." if ahead or behind else ""


def _assumed(evaluation, leader):
    """Return what the leader's seller has not told, as a sentence."""
    unknown = [key_in_words(path) for path in unknowns(evaluation, leader)]
    if not unknown:
        return ""
    more = len(unknown) - MOST_UNKNOWNS
    shown = [*unknown[:MOST_UNKNOWNS], *([f"{more} more"] if more > 0 else [])]
    return f" Not told by its seller, and assumed: {joined(shown)}."


def to_ask(machine):
    """Return what a quote's terms leave to the buyer and its sheet does not tell."""
    terms = machine.landed_cost.terms
    if terms is None:
        return (
            "The sheet does not say the terms of delivery (EXW to DDP): ask for them."
        )
    told = {
        name
        for name in type(machine.landed_cost).model_fields
        if name != "terms"
        and name in machine.landed_cost.model_fields_set
        and not getattr(getattr(machine.landed_cost, name), "is_unknown", False)
    }
    lacking = missing(terms, told | {"price"})
    if not lacking:
        return ""
    words = joined(name.replace("_", " ") for name in lacking)
    return f"Under {terms} the buyer pays these too, and the sheet lacks them: {words}."


def unknowns(evaluation, k):
    """Return the keys of machine k that are unknown and matter here."""
    name = evaluation.names[k]
    return [
        path
        for (owner, path), evidence in evaluation.evidence.items()
        if owner == name and evidence.is_unknown and evidence.high > evidence.low
    ]


def rests_on_unknown(evaluation, k, c):
    """Return whether machine k's figure for criterion c rests on what is not told."""
    keys = evaluation.criteria[c].derived_from
    return any(
        path == key or path.startswith(f"{key}.")
        for path in unknowns(evaluation, k)
        for key in keys
    )


def disagreement(evaluation):
    """Return where score and nearness to the best part ways, and why; "" if nowhere."""
    apart = [
        k
        for k in evaluation.order
        if evaluation.is_ranked[k]
        and evaluation.rank_weighted_sum[k] != evaluation.rank_topsis[k]
    ]
    if not apart:
        return ""
    k = max(
        apart,
        key=lambda j: abs(evaluation.rank_weighted_sum[j] - evaluation.rank_topsis[j]),
    )
    scores = evaluation.scores[k]
    weighted = [c for c in range(len(scores)) if evaluation.weights[c] > 0]
    strong = max(weighted, key=lambda c: scores[c] * evaluation.weights[c])
    weak = max(weighted, key=lambda c: (1 - scores[c]) * evaluation.weights[c])
    places = (
        f"{evaluation.names[k]} is number {evaluation.rank_weighted_sum[k]} by score "
        f"and number {evaluation.rank_topsis[k]} by nearness to the best."
    )
    labels = [criterion.label for criterion in evaluation.criteria]
    if strong == weak:
        return places
    return (
        f"{places} The score lets strong points ({labels[strong]}) make up for weak "
        f"ones ({labels[weak]}); nearness punishes a large gap more than in proportion."
    )


def reasons(evaluation, k, is_us=False):
    """Return a sentence for each limit that machine k breaks, with the way back in."""
    say = {
        "lift": _lift_reason,
        "vehicle": _vehicle_reason,
        "cash": _cash_reason,
        "low_point": _low_point_reason,
        "highest_upfront": _upfront_reason,
        "must_have": _feature_reason,
        "must_serve": _must_serve_reason,
    }
    return [say[x.name](evaluation, k, x, is_us) for x in evaluation.broken(k)]


def _by(limit, k, is_us):
    over = limit.figure[0, k] - limit.allowed[0, k]
    return figure(over, limit.unit, is_us)


def _lift_reason(evaluation, k, limit, is_us):
    mass = figure(limit.figure[0, k], "kg", is_us)
    allowed = figure(limit.allowed[0, k], "kg", is_us)
    one = evaluation.brief.crew.people == 1
    who = "one person lifts" if one else "by the filter for teams your crew lifts"
    broken = (
        f"The heaviest piece is reckoned at {mass}; {who} up to {allowed}, "
        f"{_by(limit, k, is_us)} less."
    )
    return f"{broken} {_lift_change(evaluation, k, mass)}"


def _lift_change(evaluation, k, mass):
    carried = evaluation.outcome.carried
    if carried.way[0, k, 0] != crew.HIRED:
        return f"Smallest change: an aid rated for {mass}, or a base that comes apart."
    n = int(carried.hired[0, k, 0])
    people = "a second person" if n == 1 else f"{n} more people"
    rate = evaluation.figures[2].help_rate_per_h[0, 0, 0]
    if not rate:
        return f"Smallest change: {people} on each visit; the brief states no rate."
    cost = _over_year(evaluation, evaluation.outcome.contribution_lines.hired_help)[k]
    money = figure(-cost, f"{evaluation.brief.currency}/year")
    return f"Smallest change: {people} on each visit, about {money} of hired help."


def _vehicle_reason(evaluation, k, limit, is_us):
    asked = figure(limit.figure[0, k], limit.unit, is_us)
    has = figure(limit.allowed[0, k], limit.unit, is_us)
    return (
        f"It asks {asked} of {VEHICLE_WORDS[limit.subject]}; your vehicle has {has}, "
        f"{_by(limit, k, is_us)} less. Smallest change: a larger vehicle; write under "
        "vehicle in the brief what one costs to hire for a day, or to buy."
    )


def _over_year(evaluation, per_job):
    """Return 12 · Σ served · a figure of one job: (machine,)."""
    served = evaluation.outcome.year.served_per_month[0]
    return 12 * (served * np.where(served > 0, per_job[0], 0.0)).sum(axis=-1)


def _cash_reason(evaluation, k, limit, is_us):
    cost = figure(limit.figure[0, k], limit.unit)
    funds = figure(limit.allowed[0, k], limit.unit)
    gap = _by(limit, k, is_us)
    return (
        f"It costs {cost} to your door; cash and loan come to {funds}. "
        f"Smallest change: {gap} more, or as much off the price."
    )


def _low_point_reason(evaluation, k, limit, is_us):
    need = figure(limit.figure[0, k], limit.unit)
    funds = figure(limit.allowed[0, k], limit.unit)
    month = int(years(evaluation).worth.low_month[0, k])
    when = f"by month {month} after signing" if month else "at signing"
    said = (
        f"Paid for as you say, it has taken {need} more than it has brought {when}; "
        f"cash and unused credit come to {funds}."
    )
    if evaluation.outcome.year.result[0, k, 0] <= 0:
        return (
            f"{said} Smallest change: work that leaves more than a year costs; no "
            "terms of payment mend it."
        )
    return (
        f"{said} Smallest change: {_by(limit, k, is_us)} more, paying later, or "
        "clients who pay sooner."
    )


def _upfront_reason(evaluation, k, limit, is_us):
    cost = figure(limit.figure[0, k], limit.unit)
    allowed = figure(limit.allowed[0, k], limit.unit)
    return (
        f"It costs {cost} to your door; your own limit is {allowed}. "
        f"Smallest change: {_by(limit, k, is_us)} off the price."
    )


def _feature_reason(evaluation, k, limit, is_us):
    feature = limit.subject.replace("_", " ")
    return (
        f"It has no {feature} under any of its plans, and you must have it. "
        "Smallest change: a later model or an add-on that brings it, or doing without."
    )


def _must_serve_reason(evaluation, k, limit, is_us):
    j = [job.name for job in evaluation.brief.work].index(limit.subject)
    missed = _missed(evaluation, k, j)
    changes = "; ".join(_miss(name, amount, is_us)[1] for name, amount in missed)
    why = not_served(evaluation, k, j, is_us)
    return (
        f"It cannot do {limit.subject!r}, which you must serve: {why} "
        f"Smallest change: {changes}."
    )


def not_served(evaluation, k, j, is_us=False):
    """Return why machine k does not do job type j, by how much; "" if it does."""
    if evaluation.outcome.can_do[0, k, j]:
        return _declined(evaluation, k, j)
    missed = _missed(evaluation, k, j)
    job = evaluation.brief.work[j]
    whys = [_miss(name, amount, is_us)[0] for name, amount in missed]
    return f"{'; '.join(whys)}.".format(passes=job.passes, surface=job.surface)


def _missed(evaluation, k, j):
    """Return [(what is missed, by how much)] of a job that machine k cannot do."""
    amounts = evaluation.outcome.misses._asdict().items()
    return [(name, amount[0, k, j]) for name, amount in amounts if amount[0, k, j] > 0]


def _miss(name, amount, is_us):
    """Return (why, the smallest change) for one thing that is missed."""
    strip = f"{number(100 * amount, 0)} cm"
    if is_us:
        strip = f"{number(amount / 0.0254, 1)} in"
    return {
        "pass_mode": (
            "it has no mode with {passes} passes or more",
            "accept fewer passes",
        ),
        "white": (
            "it prints no white, and the wall needs it underneath",
            "a light wall, or one painted light first",
        ),
        "surface": (
            "it is not made for {surface}",
            "its maker's leave for that surface, and a test patch",
        ),
        "curved": ("it is not made for curved walls", "leave curved walls to others"),
        "relief": (
            f"the wall stands out {number(1000 * amount, 1)} mm more than its head gap",
            "a wall filled and smoothed",
        ),
        "too_high": (
            f"a strip of {strip} at the top stays unprinted",
            f"a picture that ends {strip} lower, or a platform under the rail",
        ),
        "too_low": (
            f"a strip of {strip} near the floor stays unprinted",
            f"a picture that starts {strip} higher",
        ),
        "corner": (
            f"a strip of {strip} beside the corner stays unprinted",
            f"a picture that keeps {strip} further from the corner",
        ),
        "odour": (
            f"its smell is {_steps(amount)} above what the client allows",
            f"an ink {_steps(amount)} weaker, or the client's leave",
        ),
        "too_far": (
            "the drive leaves no time on site in a day",
            "a night's lodging nearby",
        ),
        "too_long": (
            "one rail position fills more than a day that must end packed down",
            "leave to stay built overnight",
        ),
    }[name]


def _steps(amount):
    """Return steps of the odour scale."""
    steps = number(amount, 1)
    return f"{steps} step of 6" if steps == "1" else f"{steps} steps of 6"


def _declined(evaluation, k, j):
    if not evaluation.outcome.year.is_declined[0, k, j]:
        return ""
    loss = figure(-evaluation.outcome.contribution[0, k, j], evaluation.brief.currency)
    return f"declined: each such job would lose {loss}."


def unlike_ranking(found):
    """Return sentences on why the money of rigs differs from that of one machine."""
    brief, said = found.evaluation.brief, []
    if brief.crew.people > 1:
        said.append(
            "Here a rig goes out with as few people as the lift needs; the screen "
            "Ranking sends the whole crew with it."
        )
        said.append(
            "Others than the owner cost their wage for the hours they are sent out, "
            "nothing else: what an employee costs besides is not in it."
        )
    if brief.work_order != "best_first":
        said.append(
            "Here the work that leaves most is done first; the screen Ranking cuts all "
            "work alike where days run short."
        )
    return said


def not_chosen(found):
    """Return sentences on what is not among the Choices of rigs, and why."""
    evaluation, said = found.evaluation, []
    if found.ruled_out:
        said.append(
            f"Not among the choices, for your limits: {joined(found.ruled_out)}."
        )
    currency = evaluation.brief.currency
    said += [
        f"Not possible to {name}: cash and credit lack {figure(gap, currency)}."
        for name, gap in found.too_dear.items()
    ]
    return said


def double_counting(evaluation):
    """Return a sentence if a weighted criterion already acts through the money."""
    ids = [criterion.id for criterion in evaluation.criteria]
    twice = [
        f"{criterion.label} already acts through "
        + joined(
            evaluation.criteria[ids.index(other)].label
            for other in criterion.double_counts
            if other in ids
        )
        for c, criterion in enumerate(evaluation.criteria)
        if evaluation.weights[c] > 0
        and any(
            other in ids and evaluation.weights[ids.index(other)] > 0
            for other in criterion.double_counts
        )
    ]
    return f"Counted twice: {joined(twice)}." if twice else ""
