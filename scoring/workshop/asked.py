"""What is asked at each stage, and what may be answered."""

import json
import math
import re

from scoring.decision.criteria import STANDARD
from scoring.errors import ScoringError, shown
from scoring.workshop.pack import AFTER, BEFORE, LETTERS

MOST_DAYS = 60
MOST_MONEY = 10_000_000
LONGEST = 2_000  # of an answer as JSON
CRITERIA = tuple(each.id for each in STANDARD if each.in_use)
SWAPS = ("next", "person", "kilos", "stair")  # whose buyer, and what is added


def asked_of(plan, stages):
    """Return {stage: {question: kind}} of the stages of a room.

    Kinds are `ranks`, `percent`, `days`, `prices`, `leader`, `choice N`, `order N`.
    """
    whole = {
        "join": {},
        "first_guess": {"ranks": "ranks", "sure": "percent"} | _tests(plan, BEFORE),
        "buyer": {
            "days.0": "days",
            "days.1": "days",
            "ranks": "ranks",
            "sure": "percent",
        },
        "prices": {"prices": "prices"},
        "reveal": {},
        "swap": {f"leads.{swap}": "leader" for swap in SWAPS},
        "visit": {"order": f"order {len(plan.visit.envelopes)}"},
        "debrief": {"leads.sixth": "leader"} | _tests(plan, AFTER),
    }
    return {stage: whole[stage] for stage in stages}


def _tests(plan, when):
    return {
        f"{when}.{question.id}": f"choice {len(question.choices)}"
        for question in plan.asked(when)
    }


def checked_answer(kind, value):
    """Return an answer as JSON; ScoringError says what is allowed.

    Parameters
    ----------
    kind : as in `asked_of`
    value : by kind. `ranks`: the letters, best first; `percent`: 0 to 100; `days`:
        {letter: days, or [low, likely, high]}; `prices`: {criterion: money a year};
        `leader`: {"letter", "sure"}; `choice`: the place, 1 the first; `order`: places
        of envelopes, 1 the first.
    """
    name, _, most = kind.partition(" ")
    check = CHECKS[name]
    allowed = check(value, int(most)) if most else check(value)
    if allowed:
        raise ScoringError(f"answer: {shown(value)} is not allowed here; {allowed}")
    return json.dumps(value, sort_keys=True, allow_nan=False)


def _is_number(value, least, most):
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return is_number and math.isfinite(value) and least <= value <= most


def _is_place(value, most):
    is_whole = isinstance(value, int) and not isinstance(value, bool)
    return is_whole and 1 <= value <= most


def _ranks(value):
    is_right = isinstance(value, list) and all(isinstance(v, str) for v in value)
    if not (is_right and sorted(value) == sorted(LETTERS)):
        return f"each of the letters {LETTERS} once, the best first"


def _percent(value):
    if not _is_number(value, 0, 100):
        return "0 to 100 %"


def _days(value):
    is_right = isinstance(value, dict) and value and set(value) <= set(LETTERS)
    if not (is_right and all(map(_is_estimate, value.values()))):
        return (
            f"a letter or more, each with 0 to {MOST_DAYS} days or with "
            "[low, likely, high]"
        )


def _is_estimate(value):
    """Return whether a value is a number of days, or three in order."""
    if not isinstance(value, list):
        return _is_number(value, 0, MOST_DAYS)
    are_days = len(value) == 3 and all(_is_number(v, 0, MOST_DAYS) for v in value)
    return are_days and value == sorted(value)


def _prices(value):
    is_right = isinstance(value, dict) and set(value) <= set(CRITERIA)
    is_right = is_right and all(_is_number(v, 0, MOST_MONEY) for v in value.values())
    if not (is_right and sum(value.values()) > 0):
        return f"money a year for each of {', '.join(CRITERIA)}; not 0 for all"


def _leader(value):
    is_right = isinstance(value, dict) and set(value) == {"letter", "sure"}
    is_right = is_right and isinstance(value["letter"], str)
    is_right = is_right and re.fullmatch(f"[{LETTERS}]", value["letter"])
    if not (is_right and _is_number(value["sure"], 0, 100)):
        return f"a letter of {LETTERS}, and how sure, 0 to 100 %"


def _choice(value, most):
    if not _is_place(value, most):
        return f"1 to {most}"


def _order(value, most):
    is_right = isinstance(value, list) and all(_is_place(v, most) for v in value)
    if not (is_right and len(set(value)) == len(value)):
        return f"envelopes 1 to {most}, each once at most"


CHECKS = {
    "ranks": _ranks,
    "percent": _percent,
    "days": _days,
    "prices": _prices,
    "leader": _leader,
    "choice": _choice,
    "order": _order,
}


def in_words(value):
    """Return an answer as people read it.

    Examples
    --------
    >>> in_words(["D", "B"]), in_words({"letter": "C", "sure": 70}), in_words(3)
    ('D B', 'C, 70 % sure', '3')
    >>> in_words({"B": [1, 1.5, 4], "D": 2})
    'B: 1 1.5 4, D: 2'
    """
    if isinstance(value, dict) and set(value) == {"letter", "sure"}:
        return f"{value['letter']}, {value['sure']:g} % sure"
    if isinstance(value, dict):
        return ", ".join(f"{name}: {in_words(each)}" for name, each in value.items())
    if isinstance(value, list):
        return " ".join(map(in_words, value))
    return f"{value:g}" if isinstance(value, int | float) else str(value)
