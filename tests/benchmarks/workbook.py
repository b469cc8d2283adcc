"""How long a job log of 10,000 rows takes to read as a workbook, against CSV.

    .venv/bin/python -m tests.benchmarks.workbook

Processor time of the quickest of three; the ratio is to the same rows as CSV.
"""

import csv
import io
import time

from openpyxl import Workbook

from scoring.inputs.job_log import TEMPLATE, load_job_log

N_ROWS, REPEATS = 10_000, 3
ROW = "2026-09-03,lounge wall,,7.2,4,1,9,31,14,262,,18,61,0,640,12,"


def rows():
    """Return the first row, then the jobs: text, numbers and empty cells."""
    cells = [_number(cell) for cell in ROW.split(",")]
    return [
        list(TEMPLATE),
        *([*cells[:3], 3 + k % 90 / 7, *cells[4:]] for k in range(N_ROWS)),
    ]


def _number(cell):
    try:
        return float(cell)
    except ValueError:
        return cell


def as_csv(table):
    """Return the rows as the bytes of a CSV file."""
    text = io.StringIO()
    csv.writer(text).writerows(table)
    return text.getvalue().encode()


def as_workbook(table):
    """Return the rows as the bytes of a workbook."""
    book, data = Workbook(), io.BytesIO()
    for row in table:
        book.active.append([None if cell == "" else cell for cell in row])
    book.save(data)
    return data.getvalue()


def taken(name, data):
    """Return the processor seconds of reading a log."""
    times = []
    for _ in range(REPEATS):
        start = time.process_time()
        assert len(load_job_log((name, data)).rows) == N_ROWS
        times.append(time.process_time() - start)
    return min(times)


def main():
    """Print both and the ratio."""
    table = rows()
    text, book = taken("a.csv", as_csv(table)), taken("a.xlsx", as_workbook(table))
    print(
        f"a job log of {N_ROWS:,} rows: CSV {text:.2f} s, workbook {book:.2f} s, "
        f"ratio {book / text:.1f}"
    )


if __name__ == "__main__":
    main()
