"""Columns, cells and paragraphs of plain text; cells that no spreadsheet runs."""

from textwrap import fill

from scoring.inputs.formulas import guarded
from scoring.words.cautions import CAUTIONS, DECIDES

WIDTH = 88


def formula_safe(cell):
    """Return a cell that a spreadsheet shows as text, never runs as a formula.

    Examples
    --------
    >>> formula_safe("=1+1"), formula_safe(-2.5), formula_safe(None)
    ("'=1+1", -2.5, '')
    """
    if cell is None:
        return ""
    return guarded(cell) if isinstance(cell, str) else cell


def columns(rows, align=""):
    """Return rows of text in aligned columns; `align` has < or > a column."""
    cells = [[str(cell) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    align = align.ljust(len(widths), ">")
    return "\n".join(
        "  ".join(
            f"{cell:{side}{width}}"
            for cell, side, width in zip(row, align, widths, strict=True)
        ).rstrip()
        for row in cells
    )


def cautions_text(places):
    """Return cautions, and who decides."""
    said = [CAUTIONS[place] for place in places]
    return "\n".join(fill(text, WIDTH) for text in [*said, DECIDES])


def safe_rows(rows):
    return [[formula_safe(cell) for cell in row] for row in rows]
