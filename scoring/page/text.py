"""Text on the page: names from files are shown as they are written, never run."""

import csv
import html
import io
import re

import streamlit as st

from scoring.inputs.quantity import Quantity, parts_of
from scoring.text.layout import formula_safe
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import figure, joined, number

# Markdown takes a backslash before punctuation as "as it is". Some signs mean something
# even then (:material/…:, http://…, ->): an unseen joiner before them parts the sign.
PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
MEANINGFUL = re.compile(r"(\\[:\-<>=~./@])")
JOINER = "\u2060"
LEAF = (Quantity, str, bool, int, float)
BASES = {
    "measured": "measured",
    "quoted": "quoted by the seller",
    "estimated": "estimated",
    "stated": "as you state it",
    "unknown": "not told",
}
STYLE = """<style>
.st-key-verdict .stHtml p, .stMain .stHtml .st-key-verdict > p {
  font-size: 1.3rem; line-height: 1.4; margin: 0 0 .25rem }
.stMain .stHtml .caution p { font-size: .875rem; line-height: 1.4; margin: 0 }
.caution { border-left: 3px solid #E69F00; padding: .1rem 0 .1rem .7rem;
  margin: .2rem 0 .6rem; max-width: 60rem }
.stMain p, .stMain li, .stMain label { overflow-wrap: anywhere }
.scroll { overflow-x: auto; max-width: 100% }
.scroll table { border-collapse: collapse; font-size: .875rem; width: 100% }
.scroll th, .scroll td { padding: .3rem .6rem; text-align: left; vertical-align: top;
  border-bottom: 1px solid rgba(128, 128, 128, .35); max-width: 22rem;
  overflow-wrap: anywhere; min-width: 3rem }
.scroll thead th { font-weight: 600; vertical-align: bottom; overflow-wrap: normal;
  min-width: 0; max-width: 9rem }
.scroll tbody th { font-weight: 600; min-width: 8rem; position: sticky; left: 0;
  background: var(--background-color, Canvas) }
.scroll .number { text-align: right }
.scroll td.number { white-space: nowrap }
.scroll td:not(.number) { min-width: 8rem }
.stMain h4 { font-size: 1.15rem; font-weight: 600; margin: 0; padding: .5rem 0 .6rem }
.stMain .stHtml .note { font-size: .875rem; line-height: 1.4; margin: .4rem 0;
  max-width: 60rem }
.pair { display: grid; gap: 0 3rem;
  grid-template-columns: repeat(auto-fit, minmax(min(100%, 26rem), 1fr)) }
.pair > div { min-width: 0 }
.scroll .group th { padding-top: 1rem; font-size: 1rem }
details { border-bottom: 1px solid rgba(128, 128, 128, .35); padding: .35rem 0 }
summary { cursor: pointer; overflow-wrap: anywhere }
@media (max-width: 640px) {
  .scroll th, .scroll td { padding: .3rem .35rem }
  .scroll tbody th { min-width: 5.5rem }
  .scroll td:not(.number) { min-width: 4.8rem }
}
.stMainBlockContainer { padding-top: 4.5rem; padding-bottom: 3rem }
</style>"""


def style():
    """Set the looks that the screens share."""
    st.html(STYLE)


def escaped(name):
    """Return a name so that a place which reads Markdown shows it as it is written.

    Examples
    --------
    >>> escaped("**bold**")
    '\\\\*\\\\*bold\\\\*\\\\*'
    """
    one_line = " ".join(str(name).split())
    return MEANINGFUL.sub(rf"{JOINER}\1", PUNCTUATION.sub(r"\\\1", one_line))


def say(*sentences):
    """Show sentences, a paragraph each, as they are written."""
    if any(sentences):
        st.html(said(*sentences))


def said(*sentences):
    """Return sentences as HTML, a paragraph each, as they are written."""
    return "".join(f"<p>{html.escape(text)}</p>" for text in sentences if text)


def heading(words, below=""):
    """Show a heading, and a small line below it."""
    st.html(heading_html(words) + (note_html(below) if below else ""))


def heading_html(words):
    """Return a heading as HTML."""
    return f"<h4>{html.escape(words)}</h4>"


def note(words):
    """Show a small line."""
    st.html(note_html(words))


def note_html(words, meaning=""):
    """Return a small line; what it means is told where a pointer rests on it."""
    title = f' title="{html.escape(meaning)}"' if meaning else ""
    return f'<p class="note"><span{title}>{html.escape(words)}</span></p>'


def listed(pairs, heading=""):
    """Show (name, sentence) pairs as a list, as they are written."""
    items = (
        f"<li><b>{html.escape(name)}</b>: {html.escape(sentence)}</li>"
        for name, sentence in pairs
    )
    above = heading_html(heading) if heading else ""
    st.html(f"{above}<ul>{''.join(items)}</ul>")


def caution(*places):
    """Show the cautions of some places, near the figures they belong to."""
    st.html(caution_html(*places))


def caution_html(*places):
    """Return the cautions of some places as HTML."""
    lines = said(*(CAUTIONS[place] for place in places), DECIDES)
    return f'<div class="caution" role="note">{lines}</div>'


def faults(heading, error):
    """Show what is wrong with files, a sentence a line."""
    st.error(heading)
    st.code(str(error), language=None, wrap_lines=True)


def table(head, rows, numbers=(), label="", meanings=None):
    """Show rows under a head; `numbers` are the columns set flush right.

    A row of one cell is a heading within the table. `meanings` are {heading: what it
    means}, told where a pointer rests on it.
    """
    st.html(table_html(head, rows, numbers, label, meanings or {}))


def folded(parts):
    """Show (heading, table as HTML) pairs, each opened by a click on its heading."""
    st.html(folded_html(parts))


def folded_html(parts):
    """Return (heading, table as HTML) pairs as HTML that a click on each unfolds."""
    return "".join(
        f"<details><summary>{html.escape(heading)}</summary>{body}</details>"
        for heading, body in parts
    )


def side_by_side(above, left, right):
    """Show a piece of HTML and, below it, two beside each other where there is room."""
    st.html(f'{above}<div class="pair"><div>{left}</div><div>{right}</div></div>')


def table_html(head, rows, numbers=(), label="", meanings=None):
    """Return rows under a head as HTML, with every cell as it is written."""
    top = "".join(
        f'<th scope="col"{_align(c, numbers)}>{_heading(cell, meanings or {})}</th>'
        for c, cell in enumerate(head)
    )
    body = "".join(_row(row, len(head), numbers) for row in rows)
    name = f' aria-label="{html.escape(label)}"' if label else ""
    return (
        f'<div class="scroll" tabindex="0" role="region"{name}><table>'
        f"<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _heading(cell, meanings):
    words = html.escape(str(cell))
    if cell not in meanings:
        return words
    return f'<abbr title="{html.escape(meanings[cell])}">{words}</abbr>'


def _row(row, n_columns, numbers):
    cells = [html.escape(str(cell)) for cell in row]
    if len(cells) == 1 < n_columns:
        heading = f'<th scope="rowgroup" colspan="{n_columns}">{cells[0]}</th>'
        return f'<tr class="group">{heading}</tr>'
    first = f'<th scope="row"{_align(0, numbers)}>{cells[0]}</th>'
    rest = (
        f"<td{_align(c, numbers)}>{cell}</td>"
        for c, cell in enumerate(cells[1:], start=1)
    )
    return f"<tr>{first}{''.join(rest)}</tr>"


def _align(column, numbers):
    return ' class="number"' if column in numbers else ""


def csv_bytes(rows):
    """Return rows as a CSV file that spreadsheets open with the right letters."""
    out = io.StringIO()
    csv.writer(out).writerows([formula_safe(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def basis(name):
    """Return a figure's basis in words, "" where it has none of its own."""
    return BASES.get(name, "")


def leaves(record, path=""):
    """Yield (dotted path, value) of what a record holds, plain lists as one.

    Names are left out: what has one is called by it.
    """
    for key, value in parts_of(record).items():
        here = f"{path}{key}"
        is_list = isinstance(value, tuple) and all(isinstance(x, LEAF) for x in value)
        if key == "name":
            continue
        if is_list or value is None or isinstance(value, LEAF):
            yield here, value
        else:
            yield from leaves(value, f"{here}.")


def is_written(record, path):
    """Return whether the file itself says this, or a default stands in for it."""
    for key in path.split("."):
        written = getattr(record, "model_fields_set", None)
        if written is not None and key not in written:
            return False
        record = parts_of(record)[key]
    return True


def value_text(value, is_us):
    """Return what a file says of one thing, figures in the units chosen."""
    if value is None:
        return "–"
    if isinstance(value, Quantity):
        if value.is_unknown:
            return "not told"
        return amount(value.low, value.likely, value.high, value.unit, is_us)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return joined(str(word).replace("_", " ") for word in value) or "–"
    return str(value).replace("_", " ") if isinstance(value, str) else number(value, 2)


def amount(low, likely, high, unit, is_us):
    """Return a figure with its range in words: likely (lowest to highest)."""
    ends = [figure(end, unit, is_us) for end in (low, likely, high)]
    if ends[0] == ends[2]:
        return ends[1]
    first, last = (end.partition(" ")[0] for end in (ends[0], ends[2]))
    return f"{ends[1]} ({first} to {last})"
