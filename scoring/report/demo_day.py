"""Firmness → the demo-day sheet: one printable page of tests for a visit to a seller.

Free and fast tests come first; within them, and within the others, the order is what
the best question that a test settles is worth. Boxes are for a pen.
"""

from html import escape

from scoring.questions.find_out import questions
from scoring.report.letter import LETTER
from scoring.report.visit_tests import TESTS
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import figure, joined, number
from scoring.words.firmness import when_to_stop
from scoring.words.keys import what_asked

SHOWN = 60  # characters of a name that are repeated within a test
FIRST = 3  # questions of the buyer's own that are named
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


def ordered(asked, places):
    """Return [(Test or Ask, its Questions)]: quick ones first, then the worthwhile.

    Questions are in their own order, the most worthwhile first; so is a place by the
    first of its questions. What settles none comes last.
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
        return not getattr(place, "is_quick", True), first.get(place, last)

    return sorted(found.items(), key=by_worth)


def demo_day_html(firm):
    """Return the demo-day sheet of a Firmness as one HTML page without outside parts.

    Print a copy for each machine that is visited; names are shown as they are written.
    """
    asked = questions(firm)
    tests = ordered(asked, TESTS)
    currency = f"{firm.evaluation.brief.currency}/year"
    title = f"Demo-day sheet: {firm.evaluation.brief.title}"
    body = [
        *_top(firm, title),
        *_tests(tests, currency),
        *_letter(ordered(asked, LETTER), currency),
        *_of_machines(firm, asked, tests),
        *_yours(firm, asked, currency),
        f"<footer><p>{escape(DECIDES)}</p></footer>",
    ]
    return PAGE.format(title=escape(title), style=STYLE, body="\n".join(body))


def _top(firm, title):
    blanks = ("Machine", "Serial number", "Plan shown", "Day", "Timed by")
    fill = "".join(f"<div>{blank}<span></span></div>" for blank in blanks)
    return [
        f"<h1>{escape(title)}</h1>",
        f'<div class="fill">{fill}</div>',
        "<p>One copy for each machine. Free and fast tests first, then by what the "
        "best figure that a test settles is worth to you; a worth in money is what "
        "knowing that figure before you buy would save in a year, on average over "
        f"{number(firm.n_draws)} draws (seed {firm.seed}). "
        f"{escape(when_to_stop(firm))}</p>",
    ]


def _tests(tests, currency):
    said, told_at = [], {}
    for n, (test, asked) in enumerate(tests, start=1):
        if n == 1:
            said.append("<h2>Free and fast</h2>")
        elif not test.is_quick and tests[n - 2][0].is_quick:
            said.append("<h2>The longer ones</h2>")
        said.append(
            '<section class="test"><div class="what">'
            f"<h3>{n}. {escape(test.title)} <i>☐</i></h3><p>{escape(test.how)}</p>"
            f"<p>{_emphasis(asked, escape(_worth(asked, currency)))}</p>"
            f"{_cautions(test, n, told_at)}</div>{_boxes(test)}</section>"
        )
    return said


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
    return f'<p class="caution">{escape(" ".join(told))}</p>' if told else ""


def _boxes(test):
    columns = "".join(f"<th>{escape(word)}</th>" for word in test.head)
    empty = "<td></td>" * (len(test.head) - 1)
    rows = "".join(f"<tr><th>{escape(name)}</th>{empty}</tr>" for name in test.boxes)
    return f"<table><thead><tr>{columns}</tr></thead><tbody>{rows}</tbody></table>"


def _worth(asked, currency, is_named=True):
    """Return what the best question that a test settles is worth, in a sentence."""
    if not asked:
        return "Settles no open figure of the ranking: look, and note a yes or a no."
    best = asked[0]
    said = []
    if best.sure_value > 0:
        worth = f"{figure(best.value, currency)} (± {figure(best.error, currency)})"
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


def _emphasis(asked, markup):
    return f"<b>{markup}</b>" if _tells(asked) else markup


def _tells(asked):
    """Return whether some question has a worth in money, or could turn the lead."""
    return any(question.sure_value > 0 or question.turns_to for question in asked)


def _turns_to(question):
    return joined(map(_short, question.turns_to))


def _short(name):
    one_line = " ".join(name.split())
    return one_line if len(one_line) <= SHOWN else f"{one_line[: SHOWN - 1]}…"


def _letter(asks, currency):
    """Return what to ask in writing, the most worthwhile first."""
    rows = "".join(
        f"<tr><th>{escape(ask.how)}.{_in_brief(asked, currency)}</th><td></td></tr>"
        for ask, asked in asks
    )
    return [
        "<h2>Ask the seller in writing</h2>",
        f'<table class="letter"><tbody>{rows}</tbody></table>',
        f'<p class="caution">{escape(CAUTIONS["money"])}</p>',
    ]


def _in_brief(asked, currency):
    return f" <b>{escape(_worth(asked, currency))}</b>" if _tells(asked) else ""


def _of_machines(firm, asked, tests):
    """Return a list for each machine that may be chosen and of which something is open.

    One that breaks a limit in every draw is not worth the questions.
    """
    evaluation = firm.evaluation
    places = {test: n for n, (test, _) in enumerate(tests, start=1)}
    said = []
    for k in evaluation.order:
        open_ones = [
            question
            for question in asked
            if question.owner == evaluation.names[k] and _is_open(evaluation, question)
        ]
        if open_ones and firm.ruled_out[k] < 1:
            said.append(_of_machine(evaluation, k, open_ones, places))
    if not said:
        return []
    head = "<h2>What is still open, machine by machine</h2>"
    return [head, f'<div class="machines">{"".join(said)}</div>']


def _is_open(evaluation, question):
    """Return whether a figure is not measured yet, or worth measuring again."""
    basis = evaluation.evidence[question.owner, question.path].basis
    return basis != "measured" or question.sure_value > 0 or bool(question.turns_to)


def _of_machine(evaluation, k, open_ones, places):
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
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    name = escape(evaluation.names[k])
    return f'<section class="machine"><h3>{name}</h3><ul>{items}</ul></section>'


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


def _yours(firm, asked, currency):
    """Return the questions that no seller answers, the first few."""
    own = [question for question in asked if question.owner == "brief"][:FIRST]
    if not own:
        return []
    items = "".join(
        f"<li>{escape(f'{_short(what_asked(q))}: {q.how}.')} "
        f"{escape(_worth([q], currency, is_named=False)) if _tells([q]) else ''}</li>"
        for q in own
    )
    return [
        '<section class="machine"><h2>What no seller can tell you</h2>'
        f"<ul>{items}</ul></section>"
    ]


STYLE = """
@page { size: A4; margin: 11mm 12mm 13mm;
  @bottom-right { content: counter(page) " of " counter(pages); font: 8pt sans-serif } }
* { box-sizing: border-box }
body { font: 9pt/1.3 "Helvetica Neue", Arial, "Liberation Sans", sans-serif;
  color: #000; background: #fff; max-width: 186mm; margin: 0 auto;
  overflow-wrap: anywhere }
h1 { font-size: 15pt; line-height: 1.15; margin: 0 0 3mm }
h2 { font-size: 11.5pt; margin: 4mm 0 1mm; border-bottom: 1.2pt solid #000;
  break-after: avoid }
h3 { font-size: 9.5pt; margin: 0 0 .5mm; break-after: avoid }
h3 i { font-style: normal; float: right }
p { margin: 0 0 1mm }
.fill { display: flex; flex-wrap: wrap; gap: 2.5mm 4mm; margin-bottom: 3mm }
.fill div { flex: 1 1 30mm; display: flex; gap: 1.5mm; align-items: flex-end }
.fill div:first-child { flex-basis: 75mm }
.fill span { flex: 1; border-bottom: .6pt solid #000; height: 6mm }
.test { display: flex; flex-wrap: wrap; gap: 1mm 5mm; padding: 1.8mm 0;
  border-bottom: .4pt solid #777; break-inside: avoid }
.what { flex: 1 1 85mm }
.test table { flex: 1 1 75mm; max-width: 90mm; align-self: flex-start }
.caution { border-left: 2pt solid #000; padding-left: 2mm; font-size: 8pt }
table { border-collapse: collapse; width: 100% }
th, td { border: .5pt solid #000; height: 6mm; padding: 0 1.2mm; text-align: left;
  font-weight: normal; font-size: 8.5pt; vertical-align: middle }
thead th { height: 4.5mm; font-size: 8pt }
th:first-child { width: 36mm }
.letter th:first-child { width: 60% }
.letter { margin-bottom: 1.5mm }
tr { break-inside: avoid }
.machines { columns: 2; column-gap: 6mm; font-size: 8pt }
.machine { margin-bottom: 2mm; break-inside: avoid }
ul { margin: 0; padding-left: 4.5mm }
footer { margin-top: 3mm; font-weight: 600 }
@media screen { body { padding: 4mm } }
@media screen and (max-width: 640px) { .machines { columns: 1 } }
"""
# Names come from files: whatever they say, the page may load and run nothing.
PAGE = """<!DOCTYPE html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy"
  content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
{body}
</body>
</html>
"""
