"""Leads become a mix of jobs and its uncertainty, or every fault at once."""

import datetime
import io
import sys
import zipfile

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import InputFaults, ScoringError
from scoring.inputs import leads_file as module
from scoring.inputs import workbook_file
from scoring.inputs.leads import Lead, matched, mix, months_spanned, resampled, rests_on
from scoring.inputs.leads_file import load_leads, template_csv
from scoring.inputs.workbook_file import workbook_rows

HEAD = "job,width,height,price,probability,month,basis"
NAMES = ("hall", "shop")


def load(*rows, head=HEAD, name="a.csv"):
    """Return the leads of a CSV text."""
    return load_leads((name, "\n".join([head, *rows]).encode()))


def said(*rows, head=HEAD):
    """Return what is wrong with a CSV text, a line each."""
    with pytest.raises(InputFaults) as raised:
        load(*rows, head=head)
    return str(raised.value).splitlines()


def lead(job, probability, basis="enquiry", month="2026-11"):
    return Lead(job, probability, month, basis)


def test_a_table_of_leads_is_read():
    """Units, shares, months and bases are read as everywhere else."""
    hall, other = load(
        "hall,,,900 EUR,,2026-11-20,sold",
        "",
        ',120 in,8 ft,"1100 USD",40 %,2026-12,Enquiries',
    )
    assert (hall.job, hall.probability, hall.basis) == ("hall", 1, "sold")
    assert (hall.month, hall.line, hall.price.likely) == ("2026-11", 2, 900)
    assert (hall.width_m, hall.height_m) == (None, None)
    # 120 in · 0.0254 = 3.048 m, 8 ft · 0.3048 = 2.4384 m
    assert (other.width_m, other.height_m) == pytest.approx((3.048, 2.4384))
    assert (other.job, other.basis, other.probability) == ("", "enquiry", 0.4)
    assert (other.line, other.price.currency) == (4, "USD")


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_columns_in_any_order_with_units_in_their_names(delimiter):
    """Spreadsheets put units in the head and, by country, other marks between cells."""
    head = ("Basis", "month", "Price (EUR)", "probability %", "height m", "width [m]")
    row = ("guess", "2026-11", "900", "25", "2.4", "3")
    text = "\ufeff" + "\r\n".join(delimiter.join(cells) for cells in (head, row))
    [found] = load_leads(("a.csv", text.encode()))
    assert (found.width_m, found.height_m, found.probability) == (3, 2.4, 0.25)
    assert (found.price.likely, found.price.currency) == (900, "EUR")


def test_every_fault_of_every_row_is_told_at_once():
    """Each faulty cell has its row, its column, what is wrong and what is allowed."""
    assert said(
        "hall,,,900,40 %,2026-11,enquiry",
        "hall,,,,140 %,Nov-26,enqiry",
        ",3 m,,,,2026-13,",
        ',,,"1,7 EUR",unknown,,sold,more',
        "=HYPERLINK(1),,,,0.5,2026-11,guess",
    ) == [
        "a.csv:2: price: '900' has no unit; a sum of money, such as 23900 EUR",
        "a.csv:3: basis: 'enqiry', did you mean 'enquiry'?; sold, enquiry or guess",
        "a.csv:3: probability: '140 %' is above 100 %; 100 % or less",
        "a.csv:3: month: 'Nov-26' is no month; year and month, such as 2026-11",
        "a.csv:4: basis: is empty; sold, enquiry or guess",
        "a.csv:4: probability: is empty; a share from 0 to 1, such as 12 %",
        "a.csv:4: height: is empty, though width is given; both or neither",
        "a.csv:4: month: '2026-13' is no month; year and month, such as 2026-11",
        "a.csv:5: 'more' stands beyond the last column; a first row with the columns "
        "job, width, height, price, probability, month, basis",
        "a.csv:5: price: '1,7 EUR' cannot be read; write 1.7 EUR",
        "a.csv:5: probability: unknown; a share from 0 to 1, such as 12 %; or an empty "
        "cell",
        "a.csv:5: job: is empty; a job type's name, or width and height",
        "a.csv:5: month: is empty; year and month, such as 2026-11",
        "a.csv:6: job: '=HYPERLINK(1)' would be run as a formula; a name; write "
        '"\'=HYPERLINK(1)" if it is meant',
    ]


def test_a_faulty_first_row_is_told_before_the_rows():
    """Missing, unknown and doubled columns are told of with what is known."""
    allowed = "job, width, height, price, probability, month, basis"
    shape = f"a first row with the columns {allowed}"
    assert said("x", head="job,chance,month,month,Pric") == [
        f"a.csv:1: unknown column 'chance'; {allowed}",
        "a.csv:1: month: stands in two columns; each column once",
        f"a.csv:1: unknown column 'Pric', did you mean 'price'?; {allowed}",
        f"a.csv:1: probability: there is no such column; {shape}",
        f"a.csv:1: basis: there is no such column; {shape}",
    ]
    assert said(head="width,probability,month,basis") == [
        "a.csv:1: job: there is no such column; `job`, or `width` and `height`"
    ]
    assert said() == ["a.csv:1: has no leads; a row for each"]
    assert said(head="") == [f"a.csv:1: is empty; {shape}"]


def test_a_row_has_the_line_on_which_it_starts():
    """A name over two lines moves the rows below it, and their faults with them."""
    assert said('"hall\nway",,,,1,2026-11,sold', "hall,,,,1,,sold") == [
        "a.csv:4: month: is empty; year and month, such as 2026-11"
    ]


def test_files_that_cannot_be_read(tmp_path, monkeypatch):
    """No file, a folder, too large, not UTF-8, not CSV: a sentence each."""
    for source, sentence in (
        (tmp_path / "none.csv", "there is no such file; a CSV or XLSX file"),
        (
            ("a.csv", b"job\nst\xe4dt"),
            "a.csv:2: byte 0xe4 is not UTF-8; the file saved",
        ),
        (("a.csv", b'job\n"hall" x'), "a.csv:2: is not CSV"),
        (("a.csv", b" " * 1_000_001), "is 1.0 MB large; 1 MB or less"),
    ):
        with pytest.raises(InputFaults) as raised:
            load_leads(source)
        assert sentence in str(raised.value)
    monkeypatch.setattr(module, "MAX_ROWS", 2)
    assert said(*["hall,,,,1,2026-11,sold"] * 3) == [
        "a.csv:2: has more than 2 rows; fewer rows"
    ]


@given(st.binary(max_size=200), st.booleans())
def test_no_bytes_crash_the_reader(data, has_head):
    """Whatever the bytes, there are leads or faults."""
    try:
        load_leads(("a.csv", (HEAD.encode() + b"\n") * has_head + data))
    except InputFaults as found:
        assert found.faults


def test_the_template_reads_back():
    """The template is a table of leads itself, and so is one for the brief's types."""
    assert [lead.basis for lead in load_leads(("t.csv", template_csv().encode()))] == [
        "sold",
        "enquiry",
        "guess",
    ]
    assert template_csv(("hall", "shop")).splitlines()[1:] == [
        "hall,,,,,,",
        "shop,,,,,,",
    ]


@given(st.text(st.characters(codec="utf-8", exclude_categories=["C"]), min_size=1))
def test_no_name_of_the_template_is_a_formula(name):
    """No cell starts as a formula does, and the name comes back as it was."""
    name = f"={name.strip()}"
    text = template_csv([name])
    cell = text.splitlines()[1].lstrip('"')
    assert not cell.startswith(("=", "+", "-", "@"))
    filled = text[: text.rindex(",,,,,,")] + ",,,,50 %,2026-11,guess\n"
    [found] = load_leads(("t.csv", filled.encode()))
    assert found.job == name


def workbook(rows):
    """Return rows as the bytes of a workbook."""
    openpyxl = pytest.importorskip("openpyxl")
    book, data = openpyxl.Workbook(), io.BytesIO()
    for row in rows:
        book.active.append(row)
    book.save(data)
    return data.getvalue()


def test_a_workbook_is_read_by_its_values():
    """Numbers, shares, days and empty cells of a workbook count as they are shown."""
    head = ["job", "width m", "height m", "price EUR", "probability", "month", "basis"]
    day = datetime.datetime(2026, 11, 1)
    rows = [
        ["hall", None, None, 900, 0.4, day, "enquiry"],
        [],
        [None, 3, 2.4, 1100.5, 1, "2026-12", "sold"],
    ]
    hall, other = load_leads(("a.xlsx", workbook([head, *rows])))
    assert (hall.job, hall.month, hall.probability) == ("hall", "2026-11", 0.4)
    assert (hall.price.likely, hall.width_m, hall.line) == (900, None, 2)
    assert (other.width_m, other.height_m, other.price.likely) == (3, 2.4, 1100.5)
    assert (other.line, other.month) == (4, "2026-12")


def test_cells_are_read_as_another_library_reads_them():
    """Numbers, days, yes and no, merged and empty cells: openpyxl is the reference."""
    openpyxl = pytest.importorskip("openpyxl")
    book, data = openpyxl.Workbook(), io.BytesIO()
    day, moment = datetime.date(2026, 11, 3), datetime.datetime(2026, 11, 3, 7, 30)
    for row in (
        ["a b", 3, 2.5, True, day],
        [None, -0.125, 1e9, False, moment],
        ["ü €", "007", "=1+1", "", "last"],
        [],
        [0.1 + 0.2, None, None, None, 10_000_000.5],
    ):
        book.active.append(row)
    book.active.merge_cells("A6:C6")
    book.active["A6"] = "over three"
    book.save(data)
    sheet = openpyxl.load_workbook(data, data_only=True).active
    read = [["" if c is None else c for c in row] for row in sheet.values]
    found = workbook_rows("a.xlsx", data.getvalue(), 100)
    assert [line for line, _ in found] == [1, 2, 3, 4, 5, 6]
    for (_, ours), theirs in zip(found, read, strict=True):
        for our, their in zip(ours, theirs, strict=True):
            if isinstance(their, datetime.datetime):
                assert our == their.strftime("%Y-%m-%d")
            elif isinstance(their, float | int) and not isinstance(their, bool):
                assert float(our) == pytest.approx(their, rel=1e-11)
            else:
                assert our == str(their)


def test_of_a_formula_its_last_value_is_read():
    """A sheet keeps what a formula came to (ECMA-376, part 1, 18.3.1.96)."""
    data, files = io.BytesIO(), zipfile.ZipFile(io.BytesIO(workbook([["x"]])))
    cells = (
        "<c r='A1'><f>6*7</f><v>42</v></c><c r='B1' t='str'><f>A1</f><v>hall</v></c>"
    )
    cells += "<c r='C1' t='e'><f>1/0</f><v>#DIV/0!</v></c><c r='D1'><v>7</v></c>"
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    sheet = f"<row r='1'>{cells}</row>"
    sheet = f"<worksheet xmlns='{main}'><sheetData>{sheet}</sheetData></worksheet>"
    with zipfile.ZipFile(data, "w") as archive:
        for name in files.namelist():
            is_sheet = name == "xl/worksheets/sheet1.xml"
            archive.writestr(name, sheet if is_sheet else files.read(name))
    assert workbook_rows("a.xlsx", data.getvalue(), 9) == [(1, ["42", "hall", "", "7"])]


def test_a_workbook_with_far_cells_is_refused():
    """A cell far to the right would make thousands of columns of every row."""
    openpyxl = pytest.importorskip("openpyxl")
    book, data = openpyxl.Workbook(), io.BytesIO()
    book.active["XFD1"] = 1
    book.save(data)
    with pytest.raises(InputFaults, match="has cells beyond column 100"):
        load_leads(("a.xlsx", data.getvalue()))


def test_without_its_reader_a_workbook_gets_a_sentence(monkeypatch):
    """Where its reader is missing the sentence says how to go on."""
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w") as archive:
        archive.writestr("xl/workbook.xml", "<workbook/>")
    monkeypatch.setitem(sys.modules, "python_calamine", None)
    with pytest.raises(InputFaults) as raised:
        load_leads(("a.xlsx", data.getvalue()))
    assert str(raised.value) == (
        "a.xlsx:1: is a workbook, and python-calamine, which reads them, is not "
        "installed; the sheet saved as “CSV UTF-8”, or: pip install python-calamine"
    )


def test_broken_and_swollen_workbooks_get_a_sentence(monkeypatch):
    """What is no archive, or unpacks to too much, is told of."""
    with pytest.raises(InputFaults, match="cannot be read as a workbook"):
        load_leads(("a.xlsx", b"PK\x03\x04 and no more"))
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b" " * 1000)
    monkeypatch.setattr(workbook_file, "MAX_UNPACKED", 999)
    with pytest.raises(InputFaults, match="MB large"):
        load_leads(("a.xlsx", data.getvalue()))


def test_leads_of_a_size_go_to_the_nearest_type():
    """3 m × 2 m is nearer to 4 m × 2 m (4/3) than to 1 m × 2 m (3/1)."""
    sizes = {"small": (1, 2), "large": (4, 2)}
    measured = Lead("", 0.5, "2026-11", "guess", 3.0, 2.0)
    named = lead("small", 0.5)
    assert [found.job for found in matched([measured, named], sizes)] == [
        "large",
        "small",
    ]


# Hall: (1 + 0.5)/3 = 0.5 a month; shop: 0.3/3 = 0.1.
def test_the_mix_is_the_sum_of_the_probabilities():
    """Expected jobs a month of each type are the probabilities over the months."""
    leads = [lead("hall", 1.0, month="2026-11"), lead("Hall", 0.5), lead("shop", 0.3)]
    assert mix(leads, NAMES, 3) == pytest.approx([0.5, 0.1])
    assert mix(leads, (*NAMES, "café"), 3)[2] == 0


def test_leads_of_no_known_type_are_told_of():
    """Every lead whose type the brief does not have is named with its row."""
    leads = load(
        "hal,,,,1,2026-11,sold", ",3 m,2 m,,1,2026-11,sold", "shop,,,,1,2026-11,sold"
    )
    with pytest.raises(InputFaults) as raised:
        mix(leads, NAMES, 1)
    assert str(raised.value).splitlines() == [
        "a.csv:2: job: no kind of job is called 'hal', did you mean 'hall'?; one of "
        "'hall', 'shop'",
        "a.csv:3: job: the lead has no job type; one of 'hall', 'shop'",
    ]


# Each of n picks is a job of type j with chance q = Σp/n, whichever lead it is: the
# count is Binomial(n, q), mean n·q and variance n·q(1 − q). Here n = 5; hall: q =
# 1.5/5 = 0.3, mean 1.5, variance 1.05; shop: q = 1/5, mean 1, variance 0.8; their
# covariance is −n·q·q′ = −0.3. With 200,000 draws four standard errors of the mean
# are below 0.01, of the variance below 0.015.
def test_resampled_counts_are_binomial():
    """Mean, variance and covariance of the draws are those of a multinomial."""
    leads = [lead("hall", p) for p in (0.9, 0.5, 0.1)] + [lead("shop", 0.5)] * 2
    uniform = np.random.default_rng(5).random((200_000, 5, 2))
    jobs = resampled(leads, NAMES, 1, uniform)
    assert jobs.shape == (200_000, 2)
    assert jobs.mean(axis=0) == pytest.approx([1.5, 1.0], abs=0.01)
    cov = np.cov(jobs.T)
    assert np.diag(cov) == pytest.approx([1.05, 0.8], abs=0.015)
    assert cov[0, 1] == pytest.approx(-0.3, abs=0.015)


# Binomial: the spread relative to the mean is √((1 − q)/(n·q)); ten times as many leads
# over ten times the months make it √10 = 3.16 times narrower.
def test_six_leads_spread_wider_than_sixty():
    """The same mix from sixty leads has the same mean and a third of the spread."""
    rng = np.random.default_rng(6)
    six = [lead("hall", 0.5), lead("hall", 0.3), lead("shop", 0.4)] * 2
    few = resampled(six, NAMES, 1, rng.random((20_000, 6, 2)))
    many = resampled(six * 10, NAMES, 10, rng.random((20_000, 60, 2)))
    assert few.mean(axis=0) == pytest.approx(many.mean(axis=0), rel=0.05)
    assert few.std(axis=0) / many.std(axis=0) == pytest.approx([10**0.5] * 2, rel=0.05)


@given(st.integers(1, 6), st.integers(1, 5), st.integers(0, 2**32 - 1))
def test_a_draw_depends_on_its_own_uniform_numbers_alone(n_leads, n_draws, seed):
    """Draws made one by one are those made at once, and scale with the months."""
    rng = np.random.default_rng(seed)
    leads = [lead(NAMES[k % 2], p) for k, p in enumerate(rng.random(n_leads))]
    uniform = rng.random((n_draws, n_leads, 2))
    jobs = resampled(leads, NAMES, 2, uniform)
    each = [resampled(leads, NAMES, 2, one[None])[0] for one in uniform]
    assert np.array_equal(jobs, each)
    assert np.array_equal(resampled(leads, NAMES, 1, uniform), 2 * jobs)
    assert (jobs >= 0).all() and (jobs.sum(axis=1) * 2 <= n_leads).all()


def test_certain_and_hopeless_leads():
    """Leads that are sure all come, those without a chance never do."""
    uniform = np.random.default_rng(7).random((50, 4, 2))
    assert (resampled([lead("hall", 1.0)] * 4, NAMES, 2, uniform) == [2, 0]).all()
    assert (resampled([lead("hall", 0.0)] * 4, NAMES, 2, uniform) == 0).all()


def test_what_cannot_be_counted_is_told_of():
    """No leads, no months, uniform numbers of another shape, nothing expected."""
    hall = [lead("hall", 1.0)]
    for wrong, sentence in (
        (lambda: mix([], NAMES, 1), "there are no leads"),
        (lambda: months_spanned([]), "there are no leads"),
        (lambda: mix(hall, NAMES, 0), "leads of 0 months; more than 0"),
        (lambda: rests_on([lead("hall", 0.0)]), "every probability is 0"),
        (
            lambda: resampled(hall, NAMES, 1, np.zeros((9, 2, 2))),
            "uniform numbers of the wrong shape",
        ),
    ):
        with pytest.raises(ScoringError) as raised:
            wrong()
        assert sentence in str(raised.value)


# Jobs: 1 sold, 0.5 + 0.25 enquiry, 0.25 guess of 2 in all. Money: 100 + 0.5 · 400 +
# 0.25 · 400 + 0.25 · 400 = 500.
def test_what_the_work_rests_on():
    """The shares of what is sold, asked for and guessed are of the expected work."""
    leads = [
        lead("hall", 1.0, "sold"),
        lead("hall", 0.5),
        lead("shop", 0.25),
        lead("shop", 0.25, "guess"),
    ]
    shares = rests_on(leads)
    assert shares == {"sold": 0.5, "enquiry": 0.375, "guess": 0.125}
    worth = rests_on(leads, worth=[100, 400, 400, 400])
    assert worth == pytest.approx({"sold": 0.2, "enquiry": 0.6, "guess": 0.2})
