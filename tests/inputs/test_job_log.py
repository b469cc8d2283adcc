"""A table of jobs done: what it may hold, and every fault of it at once."""

import datetime
import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import InputFaults
from scoring.inputs.job_log import COLUMNS, job_log_template, load_job_log

HEAD = "day,kind,build min,print (h),paid EUR,spoilt %,passes\n"


def log(text):
    return load_job_log(("log.csv", text.encode()))


def said(text):
    with pytest.raises(InputFaults) as raised:
        log(text)
    return str(raised.value).splitlines()


def test_units_of_the_first_row_hold_for_bare_numbers():
    """Minutes stay minutes, hours become minutes, per cent a share, money its sum."""
    done = log(HEAD + "2026-09-03,hall,31,4.5,640,5,4\n2026-09-04,hall,,,,,\n")
    first, second = done.rows
    assert first.day == datetime.date(2026, 9, 3)
    assert (first.build, first.print, first.spoilt) == (31, 4.5 * 60, 0.05)
    assert (first.paid, done.currency, first.passes) == (640, "EUR", 4)
    assert math.isnan(second.build) and second.passes is None and second.is_won


def test_a_cell_may_bring_its_own_unit():
    """A unit in the cell wins; without any, bare numbers are min, m², ml and days."""
    done = log("day,kind,build,area,ink\n2026-09-03,hall,0.5 h,50 ft²,61\n")
    row = done.rows[0]
    assert row.build == 30 and row.ink == 61
    assert row.area == pytest.approx(50 * 0.3048**2)  # the foot is exact: NIST SP 811


def test_every_fault_of_all_rows_is_told_at_once():
    """Row, column, what is wrong and what is allowed, as for any other file."""
    rows = "2026-13-03,hall,31,4,640,5,4\n2026-09-04,,-3,4,640 USD,500,0\n"
    rows += '2026-09-05,hall,"1,7",20..30 min,640,5,4\n'
    found = said(HEAD + "2026-09-02,hall,31,4,640,5,4\n" + rows)
    assert found == [
        "log.csv:3: day: '2026-13-03' is no day; a day, such as 2026-09-14",
        "log.csv:4: build: '-3 min' is below 0 min; 0 min or more",
        "log.csv:4: spoilt: '500 %' is above 100 %; 100 % or less",
        "log.csv:4: paid: is in USD, what stands above in EUR; one currency in a log",
        "log.csv:4: passes: '0' is no number of passes; a whole number from 1 to 99",
        "log.csv:4: kind: is empty; the name of a kind of job",
        "log.csv:5: build: '1,7 min' cannot be read; write 1.7 min",
        "log.csv:5: print: '20..30 min' is not one figure; a time, such as 28 min; "
        "one figure, or an empty cell",
    ]


def test_what_was_not_won_has_no_minutes():
    """A job that was not got cannot have been timed."""
    (fault,) = said("day,kind,won,build\n2026-09-03,hall,no,31\n")
    assert fault == (
        "log.csv:2: won: was not won, yet tells build; yes, or those cells empty"
    )


def test_faults_of_the_first_row():
    """Unknown, doubled and missing columns and a wrong unit are told together."""
    found = said("kind,biuld,paid m,paid EUR\n")
    assert found[0].startswith(
        "log.csv:1: unknown column 'biuld', did you mean 'build'?"
    )
    assert "log.csv:1: paid: '1 m' is not a sum of money" in found[1]
    assert "paid: stands in two columns" in found[2]
    assert "day: there is no such column" in found[3]


def test_the_template_is_read_without_a_fault():
    """What is there to download can be sent back as it is."""
    done = log(job_log_template())
    assert [row.is_won for row in done.rows] == [True, False, True]
    assert done.rows[2].days_down == 2


def test_a_workbook_is_read_like_the_csv(tmp_path):
    """Days and numbers of a workbook become the same rows."""
    from openpyxl import Workbook

    book = Workbook()
    book.active.append(["day", "kind", "build min", "days_to_pay"])
    book.active.append([datetime.date(2026, 9, 3), "hall", 31.5, 12])
    book.save(tmp_path / "log.xlsx")
    (row,) = load_job_log(tmp_path / "log.xlsx").rows
    assert (row.day, row.build) == (datetime.date(2026, 9, 3), 31.5)
    assert row.days_to_pay == 12


def test_ten_thousand_rows_take_less_than_two_seconds():
    """A log of many years is read while one waits."""
    row = "2026-09-03,lounge wall,,7.2,4,1,9,31,14,262,,18,61,0,640,12,\n"
    text = job_log_template().splitlines()[0] + "\n" + row * 10_000
    start = time.process_time()
    assert len(log(text).rows) == 10_000
    assert time.process_time() - start < 2


@given(st.text(max_size=200))
def test_any_text_is_a_log_or_gets_sentences(text):
    """Nothing but InputFaults is raised, whatever the file holds."""
    try:
        log(text)
    except InputFaults:
        pass


@given(st.lists(st.floats(0, 10_000), min_size=1, max_size=20))
def test_minutes_come_back_as_they_were_written(minutes):
    """Reading changes no figure."""
    rows = [f"2026-09-03,hall,{m:.3f}" for m in minutes]
    done = log("day,kind,build\n" + "\n".join(rows) + "\n")
    assert [row.build for row in done.rows] == [round(m, 3) for m in minutes]


def test_every_column_is_in_the_template_but_the_machine():
    """Who keeps one log for several machines adds the column."""
    names = {cell.split()[0] for cell in job_log_template().splitlines()[0].split(",")}
    assert set(COLUMNS) - names == {"machine"}
