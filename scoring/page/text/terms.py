"""Terms of the trade and of the method, told where they stand.

A term is told on hover, on touch and to the keyboard: what cannot be focused is told to
nobody on a telephone. What is told stands at the lower edge of the window, where no
table and no narrow screen cuts it.
"""

import html
import re

from scoring.words.glossary import GROUPS


def term_html(words, told):
    """Return words, as HTML already, with what they mean."""
    about = f'class="term" tabindex="0" data-told="{html.escape(told)}"'
    return f"<abbr {about}>{words}</abbr>"


def with_terms(escaped):
    """Return HTML without tags, each term of the glossary told at its first place.

    Examples
    --------
    >>> with_terms("Back? See resale and own pay.").count("<abbr")
    2
    >>> with_terms("present values, resale, Resale").count("<abbr")
    1
    """
    known = set()

    def told(match):
        form = match[0].lower()
        if form in known:
            return match[0]
        known.add(form)
        return term_html(match[0], TOLD[form])

    return PATTERN.sub(told, escaped)


def _forms(word):
    """Yield the ways in which a term is written: its word, and its other name.

    Examples
    --------
    >>> list(_forms("to your door (landed cost)"))
    ['to your door', 'landed cost']
    """
    first, _, other = word.partition("(")
    yield first.strip()
    if other:
        yield other.strip(") ").removeprefix("not on the ")


TOLD = {
    form.lower(): f"{term.word}: {term.meaning} {term.example}"
    for _, terms in GROUPS
    for term in terms
    for form in _forms(term.word)
}
_LONGEST_FIRST = sorted(map(re.escape, TOLD), key=len, reverse=True)
PATTERN = re.compile(rf"(?<!\w)(?:{'|'.join(_LONGEST_FIRST)})(?!\w)", re.IGNORECASE)
