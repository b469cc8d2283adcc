"""Evaluation → sentences: who leads and why, who is ruled out and what would help."""

import numpy as np

from scoring.model.money.landed import missing
from scoring.wording import figure, joined, key_in_words, number

BARELY = 0.02  # points; a lead that a change of weights soon undoes; own estimate
TELLING = 0.005  # points; smaller differences are not worth a word; own estimate
MOST_UNKNOWNS = 4


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


def assumed(evaluation):
    """Return the (machine, criterion) pairs whose figure rests on what is not told."""
    places = {name: k for k, name in enumerate(evaluation.names)}
    return {
        (places[owner], c)
        for (owner, path), evidence in evaluation.evidence.items()
        if owner in places and evidence.is_unknown and evidence.high > evidence.low
        for c, criterion in enumerate(evaluation.criteria)
        for key in criterion.derived_from
        if path == key or path.startswith(f"{key}.")
    }


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
