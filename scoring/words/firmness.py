"""Firmness → advice in words: how surely who leads, what to ask, when to stop."""

from scoring.answer.limits import LimitKind
from scoring.questions.find_out import questions
from scoring.questions.firmness import NOTHING
from scoring.words.figures import about, figure, joined, number
from scoring.words.keys import what_asked

FIRST = 3  # questions that the verdict names
LIMITS = {
    LimitKind.LIFT: "the lift",
    LimitKind.VEHICLE: "your vehicle",
    LimitKind.CASH: "cash and loan on the day",
    LimitKind.LOW_POINT: "cash and credit by the month",
    LimitKind.HIGHEST_UPFRONT: "the most you would pay",
    LimitKind.MUST_HAVE: "what you must have",
    LimitKind.MUST_SERVE: "work you must serve",
}
WEIGHTS_DRAWN = {
    "stated": "the weights drawn around yours too",
    "order": "any weights that keep your order",
    "nothing": "any weights at all",
}
LITTLE_LUCK = 0.05  # of the leader's year; less is not worth a sentence
RARE = 0.005  # shares below it are not worth a word


def how_surely(firm):
    """Return the verdict's second half: how often the leader is first, and the rest."""
    evaluation = firm.evaluation
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    if not order:
        return "No machine is within your limits with the figures as they are."
    leader = order[0]
    name, share = evaluation.names[leader], firm.first_as_weighed
    said = (
        "With all figures drawn within what is known and the weights as you set them, "
        f"{name} is first in {figure(share[leader], 'share')} of "
        f"{number(firm.n_draws)} draws"
    )
    rivals = [k for k in range(len(evaluation.names)) if k != leader]
    rivals = sorted(rivals, key=lambda k: -share[k])
    named = [
        f"{evaluation.names[k]} in {figure(share[k], 'share')}"
        for k in rivals[:2]
        if share[k] >= RARE
    ]
    often = f", {joined(named)}" if named else ""
    if len(order) == 1:
        often += ", as the others are out: that says nothing of how good it is"
    drawn = figure(firm.acceptability[leader, 0], "share")
    return (
        f"{said}{often}. With {WEIGHTS_DRAWN[firm.knowledge]}, it is first in {drawn}."
        f"{_at_risk(firm, leader)}"
    )


def _at_risk(firm, leader):
    share = firm.ruled_out[leader]
    if share < RARE:
        return ""
    return f" In {figure(share, 'share')} of the draws it breaks one of your limits."


def assumed_of_sellers(firm):
    """Return what is taken of the errors in one seller's figures; "" where nothing."""
    together = firm.evaluation.brief.trust.together
    if not together:
        return ""
    return (
        "Taken to be so: what one seller tells errs together, to the seller's side "
        f"(correlation {number(together, 2)}, own estimate, no source; `trust: "
        "together` of the brief changes it). The shares hold for the ranges as they "
        "are written, not for the world."
    )


def luck_in_words(firm):
    """Return how far the leader's year likely falls short, "" where that is little."""
    evaluation = firm.evaluation
    leader = evaluation.order[0]
    name = evaluation.names[leader]
    told = firm.mean_result[leader]
    if not told > 0 or firm.luck <= LITTLE_LUCK * told:
        return ""
    currency = f"{evaluation.brief.currency}/year"
    return (
        f"Who comes first of several was likely lucky too: expect {name} to leave "
        f"about {about(firm.luck, currency)} less than the mean of its draws, "
        f"{figure(firm.luck / told, 'share')} of it (Smith & Winkler 2006)."
    )


def kept_out_by(firm):
    """Return a sentence for each machine that a limit rules out now and then."""
    said = []
    for k, name in enumerate(firm.evaluation.names):
        if name in firm.evaluation.left_out:
            continue
        shares = sorted(
            ((share[k], key) for key, share in firm.broken.items() if share[k] >= RARE),
            key=lambda pair: -pair[0],
        )
        if shares:
            whys = joined(
                f"by {_limit_in_words(*key)} in {figure(share, 'share')}"
                for share, key in shares
            )
            said.append(f"{name} is ruled out {whys} of draws.")
    return said


def _limit_in_words(kind, subject):
    words = LIMITS[kind]
    return f"{words} ({subject.replace('_', ' ')})" if subject else words


def money_differs(firm):
    """Return a sentence where money chooses another than the score, else ""."""
    evaluation = firm.evaluation
    order = [k for k in evaluation.order if evaluation.is_ranked[k]]
    if not order or firm.money_choice == evaluation.names[order[0]]:
        return ""
    currency = f"{evaluation.brief.currency}/year"
    leader = order[0]
    cost = about(firm.regret[leader], currency)
    if firm.money_choice == NOTHING:
        return (
            f"In money alone, buying nothing is better than any of them: "
            f"{evaluation.names[leader]} would leave "
            f"{about(firm.benefit[leader], currency)}."
        )
    return (
        f"In money alone the choice would be {firm.money_choice}: by net benefit a "
        f"year, choosing {evaluation.names[leader]} costs {cost} on average. The score "
        "also weighs what money does not."
    )


def first_questions(firm, asked=None):
    """Return sentences on the first things to find out, with what each is worth."""
    asked = questions(firm) if asked is None else asked
    currency = f"{firm.evaluation.brief.currency}/year"
    return [
        f"{what_asked(question)} – {question.how}. {_worth(question, currency)}"
        for question in asked[:FIRST]
    ]


def first_questions_shortly(firm, asked):
    """Return the first things to find out, with their worth where it is clear."""
    currency = f"{firm.evaluation.brief.currency}/year"
    return [
        f"{what_asked(question)} – {question.how}"
        + (f" (worth {about(question.value, currency)})" if question.sure_value else "")
        for question in asked[:FIRST]
    ]


def most_to_learn(firm):
    """Return what all questions together are worth at the most."""
    worth = about(firm.evpi, f"{firm.evaluation.brief.currency}/year")
    return f"Knowing everything would be worth {worth} at the most."


def _worth(question, currency):
    if question.sure_value > 0:
        error = about(question.error, currency)
        worth = f"Worth {about(question.value, currency)} (± {error})."
    else:
        worth = "Alone it changes the money too little to measure."
    return f"{worth} {_turn(question)}".strip()


def _turn(question):
    if not question.turns_to:
        return ""
    return (
        f"Within its range the lead changes hands between {joined(question.turns_to)}."
    )


def when_to_stop(firm):
    """Return when more questions are not worth their while."""
    evaluation = firm.evaluation
    currency = evaluation.brief.currency
    worth = about(firm.evpi, f"{currency}/year")
    business = evaluation.figures.buyer
    a_day = business.own_hour[0, 0, 0] * business.day_min[0, 0, 0] / 60
    said = f"Knowing everything before you buy would be worth {worth} at the most."
    if a_day == a_day:
        said += (
            f" A day of your own time costs about {about(a_day, currency)}: stop "
            "asking when what is left is worth less than it takes."
        )
    return said
