"""The answer in a few words: what to do, what it takes, when it is back."""

from typing import NamedTuple

import numpy as np

from scoring.answer.one_machine import of_place
from scoring.questions.advice import BUY, CLOSE, advice
from scoring.questions.fleet.choices import KEEP
from scoring.questions.from_jobs import jobs_today
from scoring.questions.years import years
from scoring.words.figures import about, in_100, joined, number
from scoring.words.fleet import payback_in_words
from scoring.words.verdict import cannot_do

WHAT_TO_DO = {BUY: "Buy", CLOSE: "Close"}
NOT_YET = "Do not buy yet"
NO_MORE = "leaves no more than keeping what you have"


class ShortAnswer(NamedTuple):
    """What stays in view, each in words; "" where there is nothing to say."""

    what: str  # to do, and which machine
    often: str  # how often it is first
    lacks: str  # what it cannot do
    put_in: str
    back: str
    needs: str


def short_answer(evaluation, half=None, needed=None, firm=None):
    """Return the ShortAnswer of an evaluation.

    Parameters
    ----------
    half : Years with half the work, or None where it is not told
    needed : jobs a month from which the leader is earned back, None if not told
    firm : Firmness, where more draws say how often the leader is first
    """
    found = advice(evaluation)
    if found.k is None:
        return ShortAnswer(f"{NOT_YET}: no machine is within your limits", *[""] * 5)
    k, told = found.k, years(evaluation)
    return ShortAnswer(
        what=_what(evaluation, found),
        often=_often(evaluation, found, firm),
        lacks=cannot_do(evaluation, k),
        put_in=_put_in(evaluation, told, k),
        back=_back(told, half, k),
        needs=_needs(evaluation, needed),
    )


def short_change(found):
    """Return the ShortAnswer of Choices, for whom owns a rig."""
    best, currency = found.choices[found.order[0]], found.evaluation.brief.currency
    if best.name == KEEP:
        return ShortAnswer("Keep what you have", *[""] * 5)
    paid = about(best.added_upfront, currency)
    more = about(best.added_result, f"{currency}/year")
    when = payback_in_words(best, found)
    return ShortAnswer(
        what=best.name[0].upper() + best.name[1:],
        often="",
        lacks="" if best.added_result > 0 else NO_MORE,
        put_in=f"{paid} to pay",
        back=f"back {when}",
        needs=f"{more} more than now",
    )


def _what(evaluation, found):
    name = evaluation.names[found.k]
    if found.kind == BUY:
        return f"{WHAT_TO_DO[BUY]} {name}"
    if found.kind == CLOSE:
        every = [name, *(evaluation.names[k] for k in found.rivals)]
        return f"{WHAT_TO_DO[CLOSE]}: {joined(every)}"
    if found.why == "loses":
        return f"{NOT_YET}: {name}, the best, loses money"
    return f"{NOT_YET}; {name} comes first"


def _often(evaluation, found, firm):
    """Return how often the leader is first: no praise where it is alone or loses."""
    if evaluation.is_ranked.sum() < 2 or found.why == "loses":
        return ""
    share = evaluation.share_first if firm is None else firm.first_as_weighed
    return f"first in {in_100(float(share[found.k]))} draws"


def _put_in(evaluation, told, k):
    low = -float(of_place(told.worth, k).low_point)
    return f"put in up to {about(max(low, 0.0), evaluation.brief.currency)}"


def _back(told, half, k):
    said = _month(told, k)
    back = f"back {said}" if said else "not back in these years"
    if half is None or not said:
        return back
    then = _month(half, k) or "never"
    return f"{back} ({then} at half the work)"


def _month(found, k):
    month = float(of_place(found.worth, k).payback_month)
    return f"in month {number(month)}" if np.isfinite(month) else ""


def _needs(evaluation, needed):
    """Return from how many jobs a month it is earned back, of how many there are."""
    if needed is None:
        return ""
    today = number(jobs_today(evaluation), 1)
    if not np.isfinite(needed):
        return f"your {today} jobs a month do not earn it back"
    return f"takes {number(needed, 1)} jobs a month; you have {today}"
