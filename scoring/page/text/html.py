"""Text as HTML: names from files are shown as they are written, never run."""

import html
import re

from scoring.page.text.terms import term_html, with_terms
from scoring.words.cautions import CAUTIONS, DECIDES

# Markdown takes a backslash before punctuation as "as it is". Some signs mean something
# even then (:material/…:, http://…, ->): an unseen joiner before them parts the sign.
PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
MEANINGFUL = re.compile(r"(\\[:\-<>=~./@])")
JOINER = "\u2060"


def escaped(name):
    """Return a name so that a place which reads Markdown shows it as it is written.

    Examples
    --------
    >>> escaped("**bold**")
    '\\\\*\\\\*bold\\\\*\\\\*'
    """
    one_line = " ".join(str(name).split())
    return MEANINGFUL.sub(rf"{JOINER}\1", PUNCTUATION.sub(r"\\\1", one_line))


def said(*sentences):
    """Return sentences as HTML, a paragraph each, as they are written.

    A per cent sign keeps to its number's line, and terms are told.

    Examples
    --------
    >>> said("first in 79 % of <all> draws", "")
    '<p>first in 79&nbsp;% of &lt;all&gt; draws</p>'
    """
    paragraphs = (html.escape(text).replace(" %", "&nbsp;%") for text in sentences)
    return "".join(f"<p>{with_terms(text)}</p>" for text in paragraphs if text)


def heading_html(words):
    """Return a heading as HTML."""
    return f"<h2>{html.escape(words)}</h2>"


def note_html(words, meaning=""):
    """Return a small line; what it means is told on hover and on touch."""
    line = html.escape(words)
    line = term_html(line, meaning) if meaning else with_terms(line)
    return f'<p class="note">{line}</p>'


def caution_html(*places):
    """Return the cautions of some places as HTML: a line of each, the whole folded."""
    heads = "".join(
        f"<p>{html.escape(CAUTIONS[place].split('. ')[0].rstrip('.'))}.</p>"
        for place in places
    )
    rest = said(*(CAUTIONS[place] for place in places), DECIDES)
    whole = f"<details><summary>Take care</summary>{rest}</details>"
    return f'<div class="caution" role="note">{heads}{whole}</div>'


def folded_html(parts):
    """Return (heading, table as HTML) pairs as HTML that a click on each unfolds."""
    return "".join(
        f"<details><summary>{html.escape(heading)}</summary>{body}</details>"
        for heading, body in parts
    )


def numbered_html(sentences):
    """Return sentences as a numbered list."""
    items = "".join(f"<li>{said(each)}</li>" for each in sentences)
    return f'<ol class="asked">{items}</ol>'


def table_html(head, rows, numbers=(), label="", meanings=None, looks=()):
    """Return rows under a head as HTML, with every cell as it is written.

    `looks` are the names of how each row looks, where rows look differently.
    """
    top = "".join(
        f'<th scope="col"{_align(c, numbers)}>{_heading(cell, meanings or {})}</th>'
        for c, cell in enumerate(head)
    )
    looks = looks or [""] * len(rows)
    body = "".join(
        _row(row, len(head), numbers, look)
        for row, look in zip(rows, looks, strict=True)
    )
    name = f' aria-label="{html.escape(label)}"' if label else ""
    return (
        f'<div class="scroll" tabindex="0" role="region"{name}><table>'
        f"<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _heading(cell, meanings):
    words = html.escape(str(cell))
    if cell not in meanings:
        return words
    return term_html(words, meanings[cell])


def _row(row, n_columns, numbers, look=""):
    cells = [html.escape(str(cell)) for cell in row]
    if len(cells) == 1 < n_columns:
        heading = f'<th scope="rowgroup" colspan="{n_columns}">{cells[0]}</th>'
        return f'<tr class="group">{heading}</tr>'
    first = f'<th scope="row"{_align(0, numbers)}>{cells[0]}</th>'
    rest = (
        f"<td{_align(c, numbers)}>{cell}</td>"
        for c, cell in enumerate(cells[1:], start=1)
    )
    looks = f' class="{look}"' if look else ""
    return f"<tr{looks}>{first}{''.join(rest)}</tr>"


def _align(column, numbers):
    return ' class="number"' if column in numbers else ""


def cards_html(cards):
    """Return (name, lines) pairs as HTML, a card each."""
    made = (
        f"<div><p><b>{html.escape(name)}</b></p>{said(*lines)}</div>"
        for name, lines in cards
    )
    return f'<div class="cards">{"".join(made)}</div>'
