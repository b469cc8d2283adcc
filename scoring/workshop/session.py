"""What each role sees of a room at its stage: counts and distributions, few names.

Pure functions of a Room, its people and their answers. A participant sees what others
said once the trainer shows it, the projector never whose it is before that.
"""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from scoring.decision.group import borda, geometric_mean
from scoring.workshop.asked import CRITERIA
from scoring.workshop.pack import LETTERS, N_BUYERS

FEWEST = 3  # answers behind a distribution on the wall: one or two have a face
SEEN_ALWAYS = 10  # bins of how sure people are


@dataclass(frozen=True)
class Asking:
    """One question as a person is asked it, and what they said, None if nothing."""

    id: str
    kind: str
    text: str
    choices: tuple
    said: object


@dataclass(frozen=True)
class Tally:
    """How many answered a question, and what they said without names.

    `spread` is None as long as it is hidden.
    """

    question: str
    n: int
    of: int
    by_team: dict  # {team: (n, of)}
    spread: dict | None


@dataclass(frozen=True)
class Named:
    """A person's answer with the nickname."""

    nickname: str
    team: int
    question: str
    value: object


def buyer_of(team):
    """Return the place of the buyer that a team is dealt, 0 to 4.

    Examples
    --------
    >>> [buyer_of(team) for team in (1, 5, 6)]
    [0, 4, 0]
    """
    return (team - 1) % N_BUYERS


def is_dealt(room):
    """Return whether the buyers are dealt."""
    return "buyer" in room.names[: room.place + 1]


def may_see(room, is_trainer=False):
    """Return which of the toolkit's answers may be seen at a room's stage.

    `toolkit`: days and ranking for the teams' buyers; `sixth`: the unseen buyer's
    paper; `results`: what the exercise showed, with the sixth buyer's leader.
    """
    if is_trainer:
        return frozenset({"toolkit", "sixth", "results"})
    come = room.names[: room.place + 1]
    found = {"toolkit"} if "reveal" in come else set()
    if "debrief" in come:
        found |= {"sixth"} | ({"results"} & room.shown)
    return frozenset(found)


def predicted(own, leaders):
    """Return {swap: letter that leads} of the swaps that a person has predicted.

    Parameters
    ----------
    own : sequence of Answer, the person's
    leaders : {swap: letter}, the toolkit's for the person's buyer
    """
    said = {a.question for a in own if a.stage == "swap"}
    return {s: letter for s, letter in leaders.items() if f"leads.{s}" in said}


def seconds_left(room, now):
    """Return the seconds until the stage should end, below 0 when it has run over."""
    minutes = dict(room.stages)[room.stage]
    return room.stage_since + 60 * minutes - now


def askings(room, plan, own):
    """Return the Askings of a room's stage for a person with these own answers."""
    said = {a.question: a.value for a in own if a.stage == room.stage}
    return tuple(
        Asking(name, kind, *_words(plan, name), said.get(name))
        for name, kind in room.asked[room.stage].items()
    )


def _words(plan, name):
    """Return (text, choices) of a question of the tests; of others the page's words."""
    _, _, test = name.partition(".")
    for question in plan.questions:
        if name.startswith(("before.", "after.")) and question.id == test:
            return question.text, question.choices
    return "", ()


def tallies(room, people, answers, is_trainer=False):
    """Return the Tally of each question of the stage, for the trainer or the wall."""
    found = []
    for name, kind in room.asked[room.stage].items():
        said = {
            a.person_id: a.value
            for a in answers
            if (a.stage, a.question) == (room.stage, name)
        }
        is_seen = is_trainer or "answers" in room.shown or len(said) >= FEWEST
        found.append(
            Tally(
                question=name,
                n=len(said),
                of=len(people),
                by_team=_by_team(people, said),
                spread=spread(kind, list(said.values())) if is_seen and said else None,
            )
        )
    return tuple(found)


def _by_team(people, said):
    of = Counter(person.team for person in people)
    n = Counter(person.team for person in people if person.id in said)
    return {team: (n[team], of[team]) for team in sorted(of)}


def tallies_for_participants(room, people, answers):
    """Return what a participant sees of the others: nothing until it is shown."""
    if "answers" not in room.shown:
        return ()
    return tallies(room, people, answers)


def named(room, people, answers, is_trainer=False):
    """Return the Named answers of the stage: for the trainer, or once names are shown.

    Answers to the tests are shown with a name to nobody but the trainer.
    """
    if not (is_trainer or "names" in room.shown):
        return ()
    by_id = {person.id: person for person in people}
    return tuple(
        Named(by_id[a.person_id].nickname, by_id[a.person_id].team, a.question, a.value)
        for a in answers
        if a.stage == room.stage
        and a.person_id in by_id
        and (is_trainer or not a.question.startswith(("before.", "after.")))
    )


def spread(kind, values):
    """Return what many said to one question, as a distribution without names.

    `ranks`: first places and Borda points by letter; `percent`: how many in each tenth;
    `days`: (lowest, median, highest) likely days by letter; `prices`: shares of the
    geometric mean by criterion, what one calls nothing at a thousandth of what they
    gave in all; `leader`: how many by letter; choices and orders: how many by place,
    of an order the first.
    """
    name, _, most = kind.partition(" ")
    if name == "ranks":
        ranks = ranks_of(values)
        first = Counter(value[0] for value in values)
        points = borda(ranks)
        return {
            letter: {"first": first[letter], "points": float(points[k])}
            for k, letter in enumerate(LETTERS)
        }
    if name == "percent":
        tenths = Counter(min(int(v // 10), SEEN_ALWAYS - 1) for v in values)
        return {10 * k: tenths[k] for k in range(SEEN_ALWAYS)}
    if name == "days":
        return _days_spread(values)
    if name == "prices":
        return dict(zip(CRITERIA, prices_of(values).tolist(), strict=True))
    if name == "leader":
        count = Counter(value["letter"] for value in values)
        return {letter: count[letter] for letter in LETTERS}
    places = [v[0] for v in values if v] if name == "order" else values
    count = Counter(places)
    return {place: count[place] for place in range(1, int(most) + 1)}


def _days_spread(values):
    likely = {}
    for value in values:
        for letter, days in value.items():
            likely.setdefault(letter, []).append(three_points(days)[1])
    return {
        letter: (min(days), float(np.median(days)), max(days))
        for letter, days in sorted(likely.items())
    }


def three_points(days):
    """Return (low, likely, high) of an answer that may be one number.

    Examples
    --------
    >>> three_points(2), three_points([1, 2, 4])
    ((2, 2, 2), (1, 2, 4))
    """
    return tuple(days) if isinstance(days, list) else (days, days, days)


def ranks_of(values):
    """Return ranks, (person, letter), of orders with the best letter first.

    Examples
    --------
    >>> ranks_of([list("BACDEFGH")])[0, :3].tolist()
    [2, 1, 3]
    """
    return np.array([[1 + v.index(letter) for letter in LETTERS] for v in values])


def prices_of(values):
    """Return one set of weights, (criterion,), of several people's prices."""
    told = np.array([[value.get(name, 0.0) for name in CRITERIA] for value in values])
    return geometric_mean(np.maximum(told, told.sum(axis=1, keepdims=True) / 1000))
