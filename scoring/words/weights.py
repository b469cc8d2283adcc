"""What the weights say, in words: steps of each criterion in money a year."""

from scoring.questions.weights_in_money import (
    UPFRONT,
    price_of_price,
    weights_in_money,
)
from scoring.words.figures import about, figure, joined
from scoring.words.workings.criteria import unit_of

NO_MONEY = (
    "Money left over in a year weighs nothing: what the rest is worth in money cannot "
    "be said."
)
# How a step is called, where its unit alone does not say it.
CALLED = {
    "odour": "1 step less of smell",
    "print_quality": "1 point more of print quality",
    "software_ease": "1 point more of ease of the software",
    "cash_out": "10 % less chance that cash runs out",
    "room_to_grow": "10 % more room to grow",
    "work_served": "10 % more of the work served",
    "support": "1 day less until running again",
    "ready_time": "10 min less from arrival to first print",
    "days_lost": "1 day less lost to breakdowns a year",
}


def weights_explained(evaluation):
    """Return a sentence for each weighted criterion: what a step is worth a year."""
    found = weights_in_money(evaluation)
    if not found:
        return [NO_MONEY]
    currency = f"{evaluation.brief.currency}/year"
    said = [
        f"{_step(evaluation, one)} is worth {about(one.worth, currency)} to you."
        for one in found
    ]
    return said


def shares_in_words(evaluation, weights):
    """Return which criterion weighs how much, the heaviest first.

    `weights` are {criterion id: weight}, summing to 1; what weighs nothing is left out.
    """
    labels = {criterion.id: criterion.label for criterion in evaluation.criteria}
    by_weight = sorted(weights, key=lambda name: -weights[name])
    return joined(
        f"{labels[name]} {figure(weights[name], 'share')}"
        for name in by_weight
        if weights[name] > 0
    )


def weight_warnings(evaluation):
    """Return a sentence for each weight that says what hardly anybody means."""
    currency = f"{evaluation.brief.currency}/year"
    said = [
        f"Check the weight of {evaluation.criteria[one.criterion].label}: "
        f"{_step(evaluation, one)} counts as {about(one.worth, currency)}, more than "
        "the best machine leaves in a year."
        for one in weights_in_money(evaluation)
        if one.is_too_much
    ]
    price = price_of_price(evaluation)
    if price is not None and price.is_out_of_line:
        more = "more" if price.weighed > price.by_finance else "less"
        thousand = about(1000 * price.weighed, currency)
        says = about(1000 * price.by_finance, currency)
        money = figure(1000, evaluation.brief.currency)
        said.append(
            f"Check the weight of cost to your door: {money} of it counts as "
            f"{thousand}, {more} than the {says} that it costs to pay it back over "
            f"{evaluation.brief.money.horizon} years with interest."
        )
    return said


def _step(evaluation, one):
    return step_in_words(evaluation, one.criterion, one.step)


def step_in_words(evaluation, c, step):
    """Return a step of a criterion in words, such as “1 kg less of heaviest lift”."""
    criterion = evaluation.criteria[c]
    if criterion.id in CALLED:
        return CALLED[criterion.id]
    amount = figure(step, unit_of(evaluation, c))
    if criterion.id == UPFRONT:
        return f"{amount} less to your door"
    return f"{amount} {'more' if criterion.is_benefit else 'less'} of {criterion.label}"
