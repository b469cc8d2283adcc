"""The rows of a table that people fill in, CSV or workbook, before cells are read."""

from scoring.errors import InputFault, InputFaults
from scoring.inputs.csv_file import check_seen, csv_rows
from scoring.inputs.files import read_bytes
from scoring.inputs.workbook_file import workbook_rows


def table_rows(source, most_bytes, most_rows, shape):
    """Return (name, [(line, cells)]) of a CSV or XLSX file, empty rows left out.

    Parameters
    ----------
    source : path, or (name, bytes) of a file that is already read
    shape : what a table has to have, told where it is empty

    Raises
    ------
    InputFaults
        If it is too large, has too many rows or none, or holds what cannot be seen.
    """
    name, data = read_bytes(source, most_bytes, "a CSV or XLSX file")
    if data.startswith(b"PK") or str(name).lower().endswith(".xlsx"):
        rows = workbook_rows(name, data, most_rows)
        if len(rows) > most_rows:
            what = f"has more than {most_rows} rows"
            raise InputFaults([InputFault(name, most_rows, "", what, "fewer rows")])
    else:
        rows = csv_rows(name, data, most_rows, ",;\t")
    rows = [(line, row) for line, row in rows if any(row)]
    check_seen(name, rows)
    if not rows:
        raise InputFaults([InputFault(name, 1, "", "is empty", shape)])
    return name, rows
