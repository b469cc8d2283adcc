"""Cells of a workbook: numbers as numbers, texts as texts whatever they look like."""

import math

from scoring.inputs.formulas import guarded


def set_cell(cell, value):
    """Write a value into a cell; a text that begins as a formula is shown, not run.

    Text it stays when somebody edits the cell. What is not finite stays empty.
    """
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if value is None or (is_number and not math.isfinite(value)):
        return
    if is_number:
        cell.value = value
        return
    cell.value = str(value)
    cell.data_type = "s"  # text, though openpyxl would read = as a formula
    if guarded(cell.value) != cell.value:
        cell.style = "Normal"
        cell.quotePrefix = True
