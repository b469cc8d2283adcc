"""All that the screens say goes through here, `from scoring.page import text`."""

from scoring.page.text.csv_file import csv_bytes
from scoring.page.text.html import (
    caution_html,
    escaped,
    folded_html,
    heading_html,
    note_html,
    said,
    table_html,
)
from scoring.page.text.shown import (
    caution,
    faults,
    heading,
    listed,
    note,
    say,
    side_by_side,
    style,
    table,
)
from scoring.page.text.written import amount, basis, is_written, leaves, value_text

__all__ = [
    "amount",
    "basis",
    "caution",
    "caution_html",
    "csv_bytes",
    "escaped",
    "faults",
    "folded_html",
    "heading",
    "heading_html",
    "is_written",
    "leaves",
    "listed",
    "note",
    "note_html",
    "said",
    "say",
    "side_by_side",
    "style",
    "table",
    "table_html",
    "value_text",
]
