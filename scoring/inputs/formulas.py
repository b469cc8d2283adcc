"""Cells that no spreadsheet program runs as a formula."""

import re

# What begins a formula, also after a mark at which some readers split a cell.
STARTS = re.compile(r"(^|[;,|])(\s*)(?=[=+\-@])")
BREAKS = re.compile(r"[ \t\r\n\f\v]+")
GUARDED = re.compile(r"(^|[;,|])(\s*)'(?=[=+\-@])")


def on_one_line(text):
    """Return a text with line breaks and tabs as single spaces, none at the ends."""
    return BREAKS.sub(" ", text).strip()


def guarded(text):
    """Return a text on one line, with an apostrophe before what looks like a formula.

    Source
    ------
    CWE-1236, Improper Neutralization of Formula Elements in a CSV File, MITRE; that
    readers split at other marks is common practice, no source.

    Examples
    --------
    >>> guarded("=1+1"), guarded("hall"), guarded("hall;=1+1"), guarded("a\\t@b")
    ("'=1+1", 'hall', "hall;'=1+1", 'a @b')
    """
    return STARTS.sub(r"\1\2'", on_one_line(text))


def unguarded(text):
    """Return the text that was guarded.

    Examples
    --------
    >>> unguarded("'=1+1"), unguarded("hall;'=1+1"), unguarded("the client's")
    ('=1+1', 'hall;=1+1', "the client's")
    """
    return GUARDED.sub(r"\1\2", text)
