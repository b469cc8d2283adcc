"""Rows as a file that spreadsheets open."""

import csv
import io

from scoring.text.layout import formula_safe


def csv_bytes(rows):
    """Return rows as a CSV file that spreadsheets open with the right letters."""
    out = io.StringIO()
    csv.writer(out).writerows([formula_safe(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")
