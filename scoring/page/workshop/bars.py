"""What many said, as bars: lengths and words, without names."""

import html

from scoring.page.workshop.words import LABELS
from scoring.words.figures import figure


def bars_html(rows, label="", most=None):
    """Return (name, length, words) rows as bars; `most`, or the longest, is full."""
    most = most or max((length for _, length, _ in rows), default=0) or 1
    lines = "".join(_bar(name, length / most, words) for name, length, words in rows)
    return f'<ul class="tally" aria-label="{html.escape(label)}">{lines}</ul>'


def _bar(name, share, words):
    return (
        f'<li><span class="name">{html.escape(name)}</span><span class="track">'
        f'<span class="fill" style="width:{100 * share:.1f}%"></span></span>'
        f'<span class="words">{html.escape(words)}</span></li>'
    )


def rows_of(tally, kind, plan):
    """Return the rows of a Tally's spread, [] as long as it is hidden."""
    if tally.spread is None:
        return []
    name = kind.partition(" ")[0]
    if name == "ranks":
        return [
            (letter, each["points"], f"{each['points']:g}")
            for letter, each in tally.spread.items()
        ]
    if name == "days":
        return [
            (letter, likely, _days(low, likely, high))
            for letter, (low, likely, high) in tally.spread.items()
        ]
    if name == "percent":
        return [(f"{k}–{k + 10}", n, str(n)) for k, n in tally.spread.items()]
    if name == "prices":
        return [
            (LABELS.get(key, key), share, figure(share, "share"))
            for key, share in tally.spread.items()
        ]
    return [(_place(key, tally.question, plan), n, str(n)) for key, n in _items(tally)]


def _items(tally):
    return tally.spread.items()


def _days(low, likely, high):
    return f"{likely:g}" if low == high else f"{likely:g} ({low:g} to {high:g})"


def _place(key, question, plan):
    """Return a letter, the choice at a place, or an envelope, in words."""
    if question == "order":
        envelope = plan.visit.envelopes[key - 1]
        return f"{envelope.letter}: {envelope.test}"
    if question.startswith(("before.", "after.")):
        test = question.partition(".")[2]
        return next(q for q in plan.questions if q.id == test).choices[key - 1]
    return str(key)
