"""All that the screens say goes through here, `from scoring.page import text`."""

from scoring.page.text.answer_bar import answer_bar_html
from scoring.page.text.csv_file import csv_bytes
from scoring.page.text.grid import grid_html
from scoring.page.text.html import (
    caution_html,
    escaped,
    folded_html,
    heading_html,
    note_html,
    numbered_html,
    said,
    table_html,
)
from scoring.page.text.shown import (
    cards,
    caution,
    faults,
    heading,
    listed,
    marked_table,
    note,
    say,
    side_by_side,
    style,
    table,
    title,
    wrong,
)
from scoring.page.text.squares import squares_html
from scoring.page.text.terms import with_terms
from scoring.page.text.written import amount, basis, is_written, leaves, value_text

__all__ = [
    "amount",
    "answer_bar_html",
    "basis",
    "cards",
    "caution",
    "caution_html",
    "csv_bytes",
    "escaped",
    "faults",
    "folded_html",
    "grid_html",
    "heading",
    "heading_html",
    "is_written",
    "leaves",
    "listed",
    "marked_table",
    "note",
    "note_html",
    "numbered_html",
    "said",
    "say",
    "side_by_side",
    "squares_html",
    "style",
    "table",
    "table_html",
    "title",
    "value_text",
    "with_terms",
    "wrong",
]
