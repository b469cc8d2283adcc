"""A CSV file of 1 MB is read, or refused in a sentence, in well under a second.

How CSV is written: RFC 4180. What is UTF-8, and that surrogates are none: RFC 3629.
"""

import random
import time

import pytest

from scoring.errors import InputFaults
from scoring.inputs.decision_table import load_table
from scoring.inputs.leads import mix
from scoring.inputs.leads_file import load_leads
from scoring.records.decision_table import table_record

LONGEST_S = 10.0  # a guard against what never ends, no measure
HEAD = "job,probability,month,basis\n"
LEAD = "hall,50 %,2026-11,guess\n"
TABLE = "x,a,b\ndirection,max,min\nweight,1,1\n"


def table(data, folder):
    """Return what is read of a decision matrix."""
    (folder / "t.csv").write_bytes(data if isinstance(data, bytes) else data.encode())
    return load_table(folder / "t.csv")


def leads(data, folder):
    """Return what is read of a table of leads."""
    return load_leads(("a.csv", data if isinstance(data, bytes) else data.encode()))


def said(read, data, folder):
    """Return the sentences about a file, without its name; they come quickly."""
    begun = time.process_time()
    with pytest.raises(InputFaults) as raised:
        read(data, folder)
    assert time.process_time() - begun < LONGEST_S
    return [str(fault).partition(".csv:")[2] for fault in raised.value.faults]


BOTH = pytest.mark.parametrize("read", [leads, table])


@BOTH
@pytest.mark.parametrize(
    "row", ["job," * 20_000, "job," * 200_000, ",".join(map(str, range(20_000)))]
)
def test_a_row_has_a_hundred_columns(read, row, tmp_path):
    """20,000 columns, like or unlike, are refused by their number."""
    n = row.count(",") + 1
    assert said(read, f"{row}\nx\ny\nz\n", tmp_path) == [
        f"1: {n} columns; 100 or fewer"
    ]
    assert said(read, HEAD + row, tmp_path) == [f"2: {n} columns; 100 or fewer"]


@BOTH
@pytest.mark.parametrize("row", ["hall,50 %,2026-11,guess\n", "\n", '""\n', "\r"])
def test_rows_have_an_end(read, row, tmp_path):
    """20,000 rows, empty or not, are refused by their number."""
    most = 5000 if read is leads else 1000
    assert said(read, HEAD + row * 20_000, tmp_path) == [
        f"{most}: has more than {most} rows; fewer rows"
    ]


@BOTH
@pytest.mark.parametrize("cell", ["x" * 100_000, "(" * 100_000, "-" * 5_000])
def test_a_cell_has_a_thousand_letters(cell, read, tmp_path):
    """A cell of a book's length is refused, and not repeated at length."""
    [sentence] = said(read, f"{HEAD}{cell},1,2,3\n", tmp_path)
    assert sentence.endswith("is too long; 1000 characters") and len(sentence) < 200


@BOTH
def test_a_cell_that_never_ends(read, tmp_path):
    """A quotation mark that is never closed swallows the rest: a sentence."""
    [sentence] = said(read, HEAD + 'a"b\n"' + "x\n" * 300_000, tmp_path)
    assert "is not CSV" in sentence or "is too long" in sentence


LETTERS = {
    "UTF-16 without a mark": (HEAD.encode("utf-16-le"), "1: a byte 0x00 is no text"),
    "UTF-16, other end first": (HEAD.encode("utf-16-be"), "1: a byte 0x00 is no text"),
    "UTF-16": (HEAD.encode("utf-16"), "1: byte 0xff is not UTF-8"),
    "UTF-32 without a mark": (HEAD.encode("utf-32-le"), "1: a byte 0x00 is no text"),
    "NUL": (f"{HEAD}ha\0ll,1,2026-11,sold".encode(), "2: a byte 0x00 is no text"),
    "lone surrogate": (HEAD.encode() + b"\xed\xa0\x80,1", "2: byte 0xed is not UTF-8"),
    "too long a form": (HEAD.encode() + b"\xc0\xaf,1", "2: byte 0xc0 is not UTF-8"),
    "Latin-1": (HEAD.encode() + "für".encode("latin-1"), "2: byte 0xfc is not UTF-8"),
}


@BOTH
@pytest.mark.parametrize("name", LETTERS)
def test_other_letters_are_refused(name, read, tmp_path):
    """What is not UTF-8, or holds NUL, is no text, and the first such line is named."""
    data, what = LETTERS[name]
    assert said(read, data, tmp_path) == [f"{what}; the file saved as “CSV UTF-8”"]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_all_ends_of_lines_are_ends(end, tmp_path):
    """Line feed, both, or a lone carriage return end a row alike."""
    assert len(leads((HEAD + LEAD * 2).replace("\n", end), tmp_path)) == 2
    found = table((TABLE + "p,1,2\nq,3,4\n").replace("\n", end), tmp_path)
    assert found.matrix == ((1, 2), (3, 4))


def test_a_name_over_two_lines_stays_one(tmp_path):
    """A line within quotation marks ends no row; lines below are counted right."""
    found = table(TABLE + '"p\nq",1,2\nr,3,4\n', tmp_path)
    assert found.alternatives == ("p q", "r")
    [sentence] = said(table, TABLE + '\n"p\nq",1,2\nr,3,x\n', tmp_path)
    assert sentence == "7: b: 'x' is not a number; digits with a point"


def test_faults_by_the_thousand_are_told_quickly(tmp_path):
    """Of thousands of faulty rows the first are told, and how many more there are."""
    rows = said(leads, HEAD + "hall,x,y,z\n" * 4_900, tmp_path)
    # a probability, a month and a basis in each row; 50 are told
    assert rows[-1] == f"4901: and {3 * 4_900 - 50} more"
    names = "".join(f"n{k}," + ",".join("x" * 90) + "\n" for k in range(990))
    head = "x," + ",".join(f"c{k}" for k in range(90))
    head += "\ndirection" + ",max" * 90 + "\nweight" + ",1" * 90 + "\n"
    assert said(table, head + names, tmp_path)[-1] == (f"993: and {90 * 990 - 50} more")


def test_names_that_nobody_knows_are_compared_a_few_times(tmp_path):
    """4,900 leads against 50 kinds of job: took 37 s, as each was set beside each."""
    letters = random.Random(1)

    def name():
        return "".join(letters.choices("abcdefghij", k=58))

    rows = "".join(f"{name()},1,2026-11,sold\n" for _ in range(4_900))
    found, known = leads(HEAD + rows, tmp_path), [name() for _ in range(50)]
    begun = time.process_time()
    with pytest.raises(InputFaults) as raised:
        mix(found, known, 1)
    assert time.process_time() - begun < LONGEST_S
    assert str(raised.value.faults[-1]) == "a.csv:4901: and 4850 more"


def test_the_largest_table_is_ranked_quickly(tmp_path):
    """990 alternatives against 99 criteria are within the bounds, and ranked."""
    head = "x," + ",".join(f"c{k}" for k in range(99))
    head += "\ndirection" + ",max" * 99 + "\nweight" + ",1" * 99 + "\n"
    rows = "".join(
        f"n{k}," + ",".join(str((k * j) % 97 + 1) for j in range(99)) + "\n"
        for k in range(990)
    )
    begun = time.process_time()
    assert table_record(table(head + rows, tmp_path))
    assert time.process_time() - begun < LONGEST_S


def test_marks_that_cannot_be_seen_are_refused(tmp_path):
    """A name that would turn the figures after it, or colour a terminal."""
    for mark in ("\u202e", "\x1b[31m", "\u2066"):
        [sentence] = said(table, TABLE + f"p{mark}q,1,2\n", tmp_path)
        assert sentence.endswith("holds what is not seen; text")
        assert mark not in sentence
