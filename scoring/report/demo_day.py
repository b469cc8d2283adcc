"""Firmness → the demo-day sheet: one printable page of tests for a visit to a seller.

The tests of the plan come first, in its order. Then the free and fast ones; within
them, and within the others, the order is what the best question that a test settles is
worth. Boxes are for a pen.
"""

from functools import cache
from pathlib import Path
from typing import NamedTuple

from scoring.questions.find_out import questions
from scoring.report.letter import LETTER
from scoring.report.visit_tests import TESTS, Test
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import about, joined, number
from scoring.words.firmness import when_to_stop
from scoring.words.keys import what_asked
from scoring.words.visit import plan_in_words, round_in_words

TEMPLATES = Path(__file__).parent / "templates"
SHOWN = 60  # characters of a name that are repeated within a test
FIRST = 3  # questions of the buyer's own that are named
PLANNED, QUICK, LONG = "In the order of the plan", "Free and fast", "The longer ones"
BASES = {
    "quoted": "quoted by the seller",
    "estimated": "estimated",
    "unknown": "not told",
}
NAMED = {
    "lifting": "lifting",
    "assembled": "a column that can tip",
    "printing": "staying with it",
    "lamp": "lamps",
    "ink": "ink",
    "odour": "smell",
    "wall": "unknown walls",
    "mains": "mains",
    "height": "heights",
    "van": "the van",
}


class Tried(NamedTuple):
    """A Test as the sheet shows it."""

    number: int
    test: Test
    part: str  # of the sheet, its heading
    worth: str  # what its best figure is worth, in a sentence
    is_clear: bool  # whether that tells a sum, or between whom the lead could turn
    caution: str  # "" where nothing can hurt


class Asked(NamedTuple):
    """A question on the sheet, and what its answer is worth, "" where unclear."""

    how: str
    worth: str


class Open(NamedTuple):
    """What is still open of one machine, a line for each place that settles it."""

    name: str
    lines: list[str]


class DemoDaySheet(NamedTuple):
    """All that the sheet says, in its order; texts are as written, not yet escaped."""

    title: str
    n_draws: str
    seed: int
    when_to_stop: str
    plan: list[list[str]]  # where to go, then what to do at each seller's; lines
    tests: list[Tried]
    letter: list[Asked]
    money_caution: str
    machines: list[Open]
    own: list[Asked]
    who_decides: str


def settled_in(path):
    """Return the Test or the Ask that settles a machine's figure, None if none does.

    The longest key that fits wins, so that a part may be settled elsewhere than the
    rest.

    Examples
    --------
    >>> settled_in("ink.purge").title
    'Three idle days, then a nozzle check'
    """
    fits = [
        (len(key), place)
        for place in (*TESTS, *LETTER)
        for key in place.settles
        if path == key or path.startswith(f"{key}.")
    ]
    return max(fits, key=lambda fit: fit[0])[1] if fits else None


def ordered(asked, places, planned=()):
    """Return [(Test or Ask, its Questions)]: quick ones first, then the worthwhile.

    Questions are in their own order, the most worthwhile first; so is a place by the
    first of its questions. What settles none comes last. Tests whose titles are planned
    stand before all others, in the order of the plan.
    """
    found = {place: [] for place in places}
    first = {}
    for n, question in enumerate(asked):
        place = settled_in(question.path) if question.owner != "brief" else None
        if place in found:
            found[place].append(question)
            first.setdefault(place, n)
    last = len(asked)

    def by_worth(pair):
        place = pair[0]
        title = getattr(place, "title", None)
        turn = planned.index(title) if title in planned else len(planned)
        return turn, not getattr(place, "is_quick", True), first.get(place, last)

    return sorted(found.items(), key=by_worth)


def demo_day_html(firm, visits=(), plan=()):
    """Return the demo-day sheet of a Firmness as one HTML page without outside parts.

    Print a copy for each machine that is visited; names are shown as they are written.

    Parameters
    ----------
    visits : PlannedVisits whose order the sheet follows, the first seller's first
    plan : what is said of them: lists of sentences
    """
    return _template().render(sheet=sheet_of(firm, visits, plan))


def round_html(firm, found):
    """Return the sheet for a Round: the sellers that are worth a visit, in order."""
    visits = [found.visits[box] for box in found.search.order]
    plan = [round_in_words(found), *(plan_in_words(visit) for visit in visits)]
    return demo_day_html(firm, visits, [part for part in plan if part])


def visit_html(firm, visit):
    """Return the sheet for one PlannedVisit."""
    return demo_day_html(firm, [visit], [plan_in_words(visit)])


@cache
def _template():
    """Return the page's template, which escapes all that is put into it."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # only here

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined
    )
    return environment.get_template("demo_day.html")


def sheet_of(firm, visits=(), plan=()):
    """Return the DemoDaySheet of a Firmness: all that the page says, in its order."""
    asked = questions(firm)
    planned = list(dict.fromkeys(title for visit in visits for title in visit.titles))
    tests = ordered(asked, TESTS, planned)
    currency = f"{firm.evaluation.brief.currency}/year"
    return DemoDaySheet(
        title=f"Demo-day sheet: {firm.evaluation.brief.title}",
        n_draws=number(firm.n_draws),
        seed=firm.seed,
        when_to_stop=when_to_stop(firm),
        plan=list(plan),
        tests=list(_tried(tests, currency, planned)),
        letter=[
            Asked(ask.how, _clear_worth(found, currency))
            for ask, found in ordered(asked, LETTER)
        ],
        money_caution=CAUTIONS["money"],
        machines=list(_machines(firm, asked, tests)),
        own=_own(asked, currency),
        who_decides=DECIDES,
    )


def _tried(tests, currency, planned):
    """Yield the Tried of each test."""
    told_at = {}
    for n, (test, asked) in enumerate(tests, start=1):
        yield Tried(
            number=n,
            test=test,
            part=_part(test, planned),
            worth=_worth(asked, currency),
            is_clear=_tells(asked),
            caution=_cautions(test, n, told_at),
        )


def _part(test, planned):
    if test.title in planned:
        return PLANNED
    return QUICK if test.is_quick else LONG


def _cautions(test, n, told_at):
    """Return a test's cautions; one already told above is pointed to.

    `told_at` is {caution: number of the test that tells it}, and is added to.
    """
    told = [CAUTIONS[name] for name in test.cautions if name not in told_at]
    again = [name for name in test.cautions if name in told_at]
    if again:
        above = joined(f"{NAMED[name]} at test {told_at[name]}" for name in again)
        told.append(f"The cautions hold here too: {above}.")
    told_at |= {name: n for name in test.cautions if name not in told_at}
    return " ".join(told)


def _worth(asked, currency, is_named=True):
    """Return what the best question that a test settles is worth, in a sentence."""
    if not asked:
        return "Settles no open figure of the ranking: look, and note a yes or a no."
    best = asked[0]
    said = []
    if best.sure_value > 0:
        worth = f"{about(best.value, currency)} (± {about(best.error, currency)})"
        whose = f": {_short(what_asked(best))}" if is_named else ""
        said.append(f"Worth {worth}{whose}.")
    turning = next((question for question in asked if question.turns_to), None)
    if turning:
        is_told = not is_named or (said and turning is best)
        whose = "" if is_told else f" ({_short(what_asked(turning))})"
        said.append(f"Could turn the lead between {_turns_to(turning)}{whose}.")
    if not said:
        n = "one open figure" if len(asked) == 1 else f"{len(asked)} open figures"
        said.append(f"Settles {n}; none alone turns the lead or has a clear worth.")
    return " ".join(said)


def _tells(asked):
    """Return whether some question has a worth in money, or could turn the lead."""
    return any(question.sure_value > 0 or question.turns_to for question in asked)


def _turns_to(question):
    return joined(map(_short, question.turns_to))


def _short(name):
    one_line = " ".join(name.split())
    return one_line if len(one_line) <= SHOWN else f"{one_line[: SHOWN - 1]}…"


def _clear_worth(asked, currency, is_named=True):
    """Return what the best of some questions is worth, "" where none is clear."""
    return _worth(asked, currency, is_named) if _tells(asked) else ""


def _machines(firm, asked, tests):
    """Yield the Open of each machine that may be chosen and leaves something open.

    One that breaks a limit in every draw is not worth the questions.
    """
    evaluation = firm.evaluation
    places = {test: n for n, (test, _) in enumerate(tests, start=1)}
    for k in evaluation.order:
        name = evaluation.names[k]
        open_ones = [
            question
            for question in asked
            if question.owner == name and _is_open(evaluation, question)
        ]
        if open_ones and firm.ruled_out[k] < 1:
            yield Open(name, _open_lines(evaluation, open_ones, places))


def _is_open(evaluation, question):
    """Return whether a figure is not measured yet, or worth measuring again."""
    basis = evaluation.evidence[question.owner, question.path].basis
    return basis != "measured" or question.sure_value > 0 or bool(question.turns_to)


def _open_lines(evaluation, open_ones, places):
    """Return a line for each test, and one for the letter, that settle something."""
    by_place = {}
    for question in open_ones:
        by_place.setdefault(settled_in(question.path), []).append(question)
    tests = sorted((p for p in by_place if p in places), key=places.get)
    lines = [
        f"test {places[test]}: {_told(evaluation, by_place[test])}" for test in tests
    ]
    letter = [q for p, found in by_place.items() if p not in places for q in found]
    if letter:
        lines.append(f"in writing: {_told(evaluation, letter)}")
    return lines


def _told(evaluation, asked):
    """Return figures in words, gathered by how they are known so far."""
    by_basis = {}
    for question in asked:
        basis = evaluation.evidence[question.owner, question.path].basis
        what = _short(what_asked(question).removeprefix(f"{question.owner}: "))
        by_basis.setdefault(BASES.get(basis, basis), []).append(what)
    return "; ".join(
        f"{joined(dict.fromkeys(whats))} ({basis})" for basis, whats in by_basis.items()
    )


def _own(asked, currency):
    """Return the Asked of the questions that no seller answers, the first few."""
    own = [question for question in asked if question.owner == "brief"][:FIRST]
    return [
        Asked(
            f"{_short(what_asked(question))}: {question.how}.",
            _clear_worth([question], currency, is_named=False),
        )
        for question in own
    ]
