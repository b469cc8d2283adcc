"""Evaluation → sentences: who comes first, and why."""

import numpy as np

from scoring.answer.expected import DOUBT, HALF
from scoring.answer.one_machine import at
from scoring.evidence.unknowns import OF_PRICE
from scoring.questions.advice import BARELY, BUY, CLOSE, advice
from scoring.questions.from_jobs import MULTIPLES, jobs_today
from scoring.words.evidence import unknowns
from scoring.words.figures import about, figure, in_100, joined, number
from scoring.words.keys import in_words

TELLING = 0.005  # points; smaller differences are not worth a word; own estimate
MOST_UNKNOWNS = 4
MOST_TIMES = number(MULTIPLES[-1])
SMALL = 0.045  # of the price: an untold sum that is not worth a word; own estimate


def who_leads(evaluation):
    """Return the verdict: what to do, who comes first for this work, and why."""
    first = f"{who_is_first(evaluation)}{_not_done(evaluation)}{_assumed(evaluation)}"
    return f"{what_to_do(evaluation, advice(evaluation))}{first}"


def what_to_do(evaluation, found):
    """Return what an Advice says, a sentence with a space; "" where none is left."""
    if found.k is None:
        return ""
    name, currency = evaluation.names[found.k], evaluation.brief.currency
    worth = about(abs(float(evaluation.npv[found.k])), currency)
    n_years = evaluation.figures.buyer.horizon_years
    if found.kind == BUY:
        holds = "holds"
        if found.share > DOUBT:
            holds = f"holds in {in_100(1 - found.share)} draws"
        return f"Buy: {name} is worth {worth} over {n_years} years, and cash {holds}. "
    if found.kind == CLOSE:
        names = joined([name, *(evaluation.names[k] for k in found.rivals)])
        return f"Close: {names} are as good for you; either is fine. "
    return f"Do not buy yet: {_why_not(evaluation, found, name, worth, n_years)} "


def _why_not(evaluation, found, name, worth, n_years):
    """Return why not yet, and the smallest change."""
    often = in_100(found.share)
    if found.why == "loses":
        today = number(jobs_today(evaluation), 1)
        needed = found.jobs_needed
        change = f"no work up to {MOST_TIMES} times today's mends that"
        if np.isfinite(needed):
            change = f"it takes {number(needed, 1)} paid jobs a month; you have {today}"
        return f"{name}, the best, loses {worth} over {n_years} years – {change}."
    if found.why == "cash":
        return (
            f"in {often} draws cash and credit do not last for {name}; more cash, a "
            "lower price or work already sold."
        )
    if found.why == "must":
        return f"in {often} draws {name} breaks one of your musts; test that first."
    share = figure(found.share, "share")
    return f"{share} of what clients would pay is a guess; sell some of the work first."


def who_is_first(evaluation):
    """Return a few plain sentences: who comes first for this work, and why."""
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
        only = "is the only machine there is"
        if len(names) > 1:
            only = "leads because each other machine breaks one of your limits"
        return (
            f"{names[leader]} {only} (score {score})."
            f"{_earns_nothing(evaluation, leader)}"
        )
    second = order[1]
    lead = evaluation.weighted_sum[leader] - evaluation.weighted_sum[second]
    size = "barely ahead" if lead < BARELY else "ahead"
    return (
        f"{names[leader]} comes first for this work: {score} points out of 1, "
        f"{size} of {names[second]} with {evaluation.weighted_sum[second]:.2f}."
        f"{_carried_by(evaluation, leader, second)}"
        f"{_earns_nothing(evaluation, leader)}{_by_money(evaluation, leader)}"
    )


def _by_money(evaluation, leader):
    """Return whom money alone would choose, where that is another; with own pay."""
    currency, npv = evaluation.brief.currency, evaluation.npv
    ranked = np.flatnonzero(evaluation.is_ranked)
    richest = int(ranked[npv[ranked].argmax()])
    said = ""
    if richest != leader and npv[richest] > max(npv[leader], 0):
        more = about(npv[richest] - npv[leader], currency)
        name, n_years = evaluation.names[richest], evaluation.figures.buyer
        said = (
            f" On money alone {name} is ahead, by {more} over "
            f"{n_years.horizon_years} years."
        )
    year = evaluation.outcome.year
    after, before = (x[0, :, 0][ranked] for x in (year.result, year.before_pay))
    if ranked[after.argmax()] != ranked[before.argmax()]:
        other = evaluation.names[int(ranked[before.argmax()])]
        said += f" Before your own pay {other} would leave most in a year."
    return said


def cannot_do(evaluation, k):
    """Return what machine k does not do of the buyer's work, or hardly; "" if none.

    "" too where it does none at all, which is said by itself.
    """
    can = evaluation.expected.chances.can_do[0, k]
    if (can < HALF).all():
        return ""
    never = [j for j, chance in enumerate(can) if chance < DOUBT]
    hardly = [j for j, chance in enumerate(can) if DOUBT <= chance < HALF]
    jobs = evaluation.brief.work
    said = [
        f"{words} {joined(f'“{jobs[j].name}”' for j in some)}"
        for words, some in (("does not do", never), ("hardly does", hardly))
        if some
    ]
    return joined(said)


def _leader_of_several(evaluation):
    """Return who alone is first of two or more, None where nobody is."""
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    first = [k for k in ranked if evaluation.rank_weighted_sum[k] == 1]
    return first[0] if len(ranked) > 1 and len(first) == 1 else None


def _not_done(evaluation):
    leader = _leader_of_several(evaluation)
    missed = "" if leader is None else cannot_do(evaluation, leader)
    return f" It {missed}." if missed else ""


def _earns_nothing(evaluation, leader):
    """Return a warning where the leader serves no work, or loses money with it."""
    year = evaluation.outcome.year
    if not year.served_per_month[0, leader].any():
        return " It does none of your work."
    result = at(evaluation, leader).year.result
    if result < 0:
        loss = about(-result, f"{evaluation.brief.currency}/year")
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


def _assumed(evaluation):
    """Return what the leader's seller has not told, as a sentence."""
    leader = _leader_of_several(evaluation)
    if leader is None:
        return ""
    machine = evaluation.machines[leader]
    unknown = [
        in_words(machine, path)
        for path in unknowns(evaluation, leader)
        if not _is_small(evaluation, leader, path)
    ]
    if not unknown:
        return ""
    more = len(unknown) - MOST_UNKNOWNS
    shown = [*unknown[:MOST_UNKNOWNS], *([f"{more} more"] if more > 0 else [])]
    return f" Not told by its seller, and assumed: {joined(shown)}."


def _is_small(evaluation, k, path):
    """Return whether an untold sum cannot be more than a few per cent of the price."""
    name = evaluation.names[k]
    figure_ = evaluation.evidence[name, path]
    is_share = OF_PRICE in figure_.note
    return is_share and figure_.high < SMALL * evaluation.evidence[name, "price"].likely


def agreement(evaluation):
    """Return how far the orders by score and by nearness agree; "" for fewer than 2."""
    tau = evaluation.kendall_tau
    if tau is None:
        return ""
    agree = "agree fully" if tau == 1 else f"agree to {number(tau, 2)} of 1"
    return f"The order by score and the order by nearness {agree}."


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
