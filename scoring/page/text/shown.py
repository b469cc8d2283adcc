"""Text put on the page, as it is written."""

import html
from functools import cache
from pathlib import Path

import streamlit as st

from scoring.page.text.html import (
    cards_html,
    caution_html,
    heading_html,
    note_html,
    said,
    table_html,
)
from scoring.page.text.terms import with_terms


def style():
    """Set the looks that the screens share."""
    st.html(f"<style>{_looks()}</style>")


@cache
def _looks():
    return (Path(__file__).parent / "style.css").read_text(encoding="utf-8")


def say(*sentences):
    """Show sentences, a paragraph each, as they are written."""
    if any(sentences):
        st.html(said(*sentences))


def title(words):
    """Show a screen's title."""
    st.html(f"<h1>{html.escape(words)}</h1>")


def heading(words, below=""):
    """Show a heading, and a small line below it."""
    st.html(heading_html(words) + (note_html(below) if below else ""))


def note(words):
    """Show a small line."""
    st.html(note_html(words))


def listed(pairs, heading=""):
    """Show (name, sentence) pairs as a list, as they are written."""
    items = (
        f"<li><b>{html.escape(name)}</b>: {with_terms(html.escape(sentence))}</li>"
        for name, sentence in pairs
    )
    above = heading_html(heading) if heading else ""
    st.html(f"{above}<ul>{''.join(items)}</ul>")


def caution(*places):
    """Show the cautions of some places, near the figures they belong to."""
    st.html(caution_html(*places))


def faults(heading, error):
    """Show what is wrong with files, a sentence a line."""
    st.error(heading)
    st.code(str(error), language=None, wrap_lines=True)


def table(head, rows, numbers=(), label="", meanings=None):
    """Show rows under a head; `numbers` are the columns set flush right.

    A row of one cell is a heading within the table. `meanings` are {heading: what it
    means}, told on hover and on touch.
    """
    st.html(table_html(head, rows, numbers, label, meanings or {}))


def side_by_side(above, left, right):
    """Show a piece of HTML and, below it, two beside each other where there is room."""
    st.html(f'{above}<div class="pair"><div>{left}</div><div>{right}</div></div>')


def wrong(sentence):
    """Show below a field why what was typed there is not taken."""
    st.html(f'<div class="wrong" role="alert">{said(*sentence.splitlines())}</div>')


def cards(pairs):
    """Show (name, lines) pairs, a card each."""
    st.html(cards_html(pairs))


def marked_table(head, rows, looks, label=""):
    """Show rows under a head, each in its look: `matters` or `pale`."""
    numbers = range(1, len(head))
    st.html(table_html(head, rows, numbers, label, looks=looks))
