"""Keep, add or replace → sentences: which, what it leaves, what breaks even when."""

import numpy as np

from scoring.questions.fleet.change_money import figure_of
from scoring.questions.fleet.choices import KEEP
from scoring.words.figures import about, figure, in_100, joined, number

DEEDS = {"keep": "Keeping", "add": "Adding", "buy": "Buying", "replace": "Replacing"}


def which_choice(found):
    """Return in one or two sentences which choice comes first, and what it changes."""
    best = found.choices[found.order[0]]
    currency = found.evaluation.brief.currency
    deed, _, what = best.name.partition(" ")
    said = f"{DEEDS[deed]} {what} comes first"
    if best.name == KEEP:
        return f"{said}: no change leaves more for what it costs and what else matters."
    added = about(best.added_result, f"{currency}/year")
    paid = about(best.added_upfront, currency)
    now = "keeping what you have" if found.evaluation.brief.owned else "buying nothing"
    apart = f", with {best.plan.n_crews} crews out at once"
    apart = apart if best.plan.n_crews > 1 else ""
    if not best.added_result > 0:
        return (
            f"{said} among the changes, yet none of them leaves more than {now}: "
            f"{added} for {paid} to pay."
        )
    return (
        f"{said}: {added} more than {now}{apart}, for {paid} to pay, earned "
        f"back {payback_in_words(best, found)}."
    )


SPREAD_HEAD = ("choice", "leaves a year", "8 of 10 draws", "best")


def how_sure(found, spread):
    """Return how often the choice that leaves most does, and how that spreads."""
    c = spread.best
    choice, first = found.choices[c], found.choices[found.order[0]]
    years = found.evaluation.figures.buyer.horizon_years
    expected, low, high = _spread(found, spread, c)
    if spread.n_draws == 1:
        return (
            f"Nothing is uncertain here: {choice.name} leaves {expected}, what it "
            f"costs spread over {years} years."
        )
    said = (
        f"In {in_100(spread.first[c])} draws the most is left if you {choice.name}: "
        f"{expected}, its cost spread over {years} years; 8 of 10 draws lie between "
        f"{low} and {high}."
    )
    if first is not choice:
        said += f" By all that matters to you, {first.name} comes first."
    return said


def spread_rows(found, spread):
    """Return a row for each choice under SPREAD_HEAD, what leaves most first."""
    rows = []
    for c in np.argsort(-spread.mean, kind="stable").tolist():
        expected, low, high = _spread(found, spread, c)
        often = in_100(spread.first[c])
        between = f"{low.rpartition(' ')[0]} to {high}"
        rows.append([found.choices[c].name, expected, between, often])
    return rows


def _spread(found, spread, c):
    """Return what a choice leaves a year and the ends of 8 of 10 draws, in words."""
    currency = found.evaluation.brief.currency
    low, _, high = spread.percentiles[c]
    expected = about(spread.mean[c], f"{currency}/year")
    return expected, about(low, currency), about(high, currency)


def payback_in_words(choice, found):
    """Return in how many months from signing a change is earned back, in words."""
    months = choice.payback_months
    if np.isfinite(months):
        return "at once" if months < 1 else f"in {figure(months, 'months')}"
    n_years = found.evaluation.figures.buyer.horizon_years
    return f"not within {n_years} years" if choice.added_result > 0 else "never"


FAR = 3  # times the price asked; a price beyond it is nothing to talk about


def break_evens_in_words(found, choice, even):
    """Return (what, sentence) pairs: when a change pays for itself."""
    currency = found.evaluation.brief.currency
    today = float(found.evaluation.figures.jobs.per_month.sum())
    yield "years", _years_said(found, choice)
    there = f"counted here are {number(today, 1)}"
    if not today:
        yield "work", "there is none."
    elif even.work == float("inf"):
        most = number(even.multiples[-1] * today, 1)
        yield "work", f"does not pay up to {most} jobs a month of all kinds; {there}."
    else:
        jobs = number(even.work * today, 1)
        yield "work", f"pays from {jobs} jobs a month of all kinds; {there}."
    if even.price is None:
        yield "price", f"{choice.deed.new} would not pay at any price."
    else:
        far = even.price > FAR * _price(found, choice)
        said = f"up to a price of {about(even.price, currency)}"
        said = f"even at {number(FAR)} times the price" if far else said
        yield "price", f"{choice.deed.new} pays {said}."
    if even.resale is not None:
        said = f"pays if the old rig brings {about(even.resale, currency)} or more."
        yield "sale", said if even.resale > 0 else "pays even if the old rig brings 0."
    if choice.settled:
        owed = about(choice.settled, currency)
        total = about(choice.added_upfront + choice.settled, currency)
        yield (
            "loan",
            f"{owed} still owed on the old rig fall due when it is sold: {total} to "
            "pay in all, though no cost of the change.",
        )
    if found.evaluation.brief.owned:
        low = about(-choice.low_point, currency)
        yield (
            "cash",
            f"against keeping, deepest in the red by {low}, in month "
            f"{choice.low_month}.",
        )


def _years_said(found, choice):
    if not choice.added_result > 0 and not np.isfinite(choice.payback_months):
        return "never earned back: it adds nothing in a year, or takes from it."
    back = payback_in_words(choice, found)
    return f"earned back {back} from signing, delivery and a slow start counted."


def _price(found, choice):
    machines = found.evaluation.figures.machines
    return figure_of(found.evaluation, choice.deed.new, machines.price)


def unlike_ranking(found):
    """Return sentences on why the money of rigs differs from that of one machine."""
    brief, said = found.evaluation.brief, []
    if brief.crew.people > 1:
        said.append(
            "Here a rig goes out with as few people as the lift needs; the screen "
            "Answer sends the whole crew with it."
        )
        said.append(
            "Others than the owner cost their wage for the hours they are sent out, "
            "nothing else: what an employee costs besides is not in it."
        )
    if brief.work_order != "best_first":
        said.append(
            "Here the work that leaves most is done first; the screen Answer cuts all "
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
        f"Not possible to {name}: cash and credit lack {about(gap, currency)}."
        for name, gap in found.too_dear.items()
    ]
    return said
