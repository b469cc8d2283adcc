"""The case as a file: whole in itself, names stay text, and it opens again."""

import io
import re
import shutil
import subprocess
from functools import cache
from html import unescape

import openpyxl
import pytest
from click.testing import CliRunner

from scoring import evaluate
from scoring.commands import main
from scoring.errors import InputFaults
from scoring.inputs.case.record import read
from scoring.inputs.sent_case import BEGINS, as_data, case_of, hash_of, read_case
from scoring.questions.bank_case import bank_case
from scoring.report.bank_case import bank_case_html
from scoring.report.bank_workbook import bank_workbook
from scoring.words.bank import DRAFT
from tests import cases
from tests.cases import brief, job, machine

HOSTILE = "<script>alert(1)</script> </script> =1+1"
LOAN = (
    "payment: {way: loan, deposit: 20 %, borrowed: 5000 EUR, loan_rate: 9 %, "
    "loan_months: 24}\n"
)


@cache
def lent():
    """Return the BankCase of a small brief with a loan and hostile names."""
    work = job(name='"=cmd|calc"', per_month=4)
    sheets = [machine(name='"=HYPERLINK(1)"')]
    return bank_case(evaluate(brief(work, more=LOAN, cash=9_000), sheets))


@cache
def demo_html():
    return bank_case_html(bank_case(cases.demo("new-entrant")))


def test_the_file_is_whole_in_itself():
    """Nothing is loaded from outside, and no script runs: the case is mere data."""
    html = demo_html()
    assert "default-src 'none'" in html
    assert re.findall(r"<script[^>]*>", html) == [BEGINS.decode()]
    assert not re.search(
        r"(src|href)\s*=", re.sub(r"<svg.*?</svg>", "", html, flags=re.S)
    )
    assert not re.search(r"<(image|foreignObject)|xlink:href|url\(http", html)
    assert html.count("<svg") == 1  # nothing is lent: one chart


def test_the_page_says_what_it_is():
    """The draft's caution, stress, evidence with dates and the hash are there."""
    html = unescape(demo_html())
    case = bank_case(cases.demo("new-entrant"))
    sent = case_of(case.whole.brief, case.whole.machines)
    for words in (DRAFT, "If it goes wrong", "as of", "2026-08-20", hash_of(sent)):
        assert words in html
    assert "Who else can run it" in html


def test_names_stay_text():
    """A name with marks of HTML is shown as written, in the page and in the data."""
    told = brief(job(name=f"'{HOSTILE}'"), more=LOAN)
    html = bank_case_html(bank_case(evaluate(told, [machine()])))
    assert "<script>alert" not in html
    assert html.count("</script>") == 1
    sent = read(read_case(("case.html", html.encode())))
    assert sent.brief.work[0].name == HOSTILE


def test_what_is_sent_opens_again():
    """Brief, sheets and artwork come back byte for byte; so does the answer."""
    evaluation = cases.demo("new-entrant")
    sent = read(read_case(("case.html", demo_html().encode())))
    assert sent.brief.text == evaluation.brief.text
    assert [m.text for m in sent.machines] == [m.text for m in evaluation.machines]
    again = evaluate(sent.brief, sent.machines, n_draws=100)
    assert again.names == evaluation.names
    whole = cases.demo("second-rig").brief
    page = page_with(case_of(whole, evaluation.machines))
    case = read_case(("case.html", page))
    assert whole.pictures and read(case).brief.pictures.keys() == whole.pictures.keys()
    # And on from there: what lies in the case, not on the disk, is sent again.
    again = case_of(read(case).brief, read(case).machines, case.files)
    assert read_case(("again.html", page_with(again))).files == case.files


def page_with(sent):
    """Return the bytes of a page that holds a case."""
    return BEGINS + as_data(sent).encode() + b"</script>"


def test_the_hash_is_of_the_inputs():
    """The same inputs have the same digits, one changed figure has others."""
    one = case_of(brief(), [machine()])
    assert hash_of(one) == hash_of(case_of(brief(), [machine()]))
    assert hash_of(one) != hash_of(case_of(brief(), [machine(price=10001)]))


@pytest.mark.parametrize(
    "data",
    (
        b"",
        b"<html></html>",
        BEGINS + b"{}</script>",
        BEGINS + b'{"form": 1}</script>',
        BEGINS + b"[" * 50_000 + b"</script>",
        BEGINS + b'{"form":"wall mural case 1","brief":"x","machines":["y"],'
        b'"files":{"a":"!"}}</script>',
    ),
)
def test_a_page_without_a_case_is_refused(data):
    """Other files, and cases that are not whole, get a sentence."""
    with pytest.raises(InputFaults, match="holds no case"):
        read_case(("page.html", data))


@pytest.mark.parametrize("name", ("../out.png", "/tmp/out.png", "brief.yaml"))
def test_a_case_writes_nothing_elsewhere(name):
    """A file that would lie outside the case's folder, or over another, is none."""
    sent = case_of(brief(), [machine()]) | {"files": {name: ""}}
    page = page_with(sent)
    with pytest.raises(InputFaults, match="not in the case's folder"):
        read_case(("page.html", page))


def test_no_text_of_the_workbook_is_a_formula():
    """Names that look like formulas are texts, and formulas hold no name."""
    book = openpyxl.load_workbook(io.BytesIO(bank_workbook(lent())))
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    assert re.fullmatch(
                        r"=[-+*/(),:$!A-Z0-9<>=]*(Case|Months)?[-+*/(),:$!A-Z0-9<>=]*"
                        r'((Case|Months)[-+*/(),:$!A-Z0-9<>=]*)*("no debt"\))?',
                        cell.value,
                    ), cell.value
                    assert "HYPERLINK" not in cell.value
    name = book["Case"]["B3"]
    assert (name.value, name.data_type, name.quotePrefix) == (
        "=HYPERLINK(1)",
        "s",
        True,
    )


def test_the_workbook_recalculates_to_the_engine(tmp_path):
    """LibreOffice works out own cash, cover and balance to 1e-9 of the engine."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("LibreOffice (soffice) is not installed: nothing recalculates")
    case, path = lent(), tmp_path / "case.xlsx"
    path.write_bytes(bank_workbook(case))
    home = f"-env:UserInstallation=file://{tmp_path}/home"
    to = ["--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", tmp_path / "out"]
    subprocess.run(
        [office, home, "--headless", *to, path],
        check=True,
        capture_output=True,
        timeout=120,
    )
    book = openpyxl.load_workbook(tmp_path / "out/case.xlsx", data_only=True)
    n = len(case.closing)
    own = [book["Months"].cell(2 + m, 11).value for m in range(n)]
    assert own == pytest.approx(case.closing.tolist(), rel=1e-9, abs=1e-6)
    cover = [book["Cover"].cell(2 + y, 4).value for y in range(n // 12)]
    told = ["no debt" if r != r else r for r in case.covered.ratio.tolist()]
    for ours, theirs in zip(told, cover, strict=True):
        assert theirs == (ours if ours == "no debt" else pytest.approx(ours, rel=1e-9))
    owed = [book["Loan"].cell(6 + m, 5).value for m in range(case.n_instalments)]
    assert owed == pytest.approx(case.schedule.balance.tolist(), rel=1e-9, abs=1e-6)


def test_report_writes_page_and_workbook(tmp_path):
    """The command writes the page, or the workbook where its name ends in .xlsx."""
    told = ["report", "profiles/briefs/new-entrant.yaml", "--draws", "100"]
    told += ["--machine", "Lindqvar Plain", "--out"]
    page, book = tmp_path / "case.html", tmp_path / "case.xlsx"
    for out in (page, book):
        outcome = CliRunner().invoke(main, [*told, str(out)])
        assert outcome.exit_code == 0, outcome.output
    assert "Lindqvar Plain" in page.read_text(encoding="utf-8")
    assert openpyxl.load_workbook(book)["Case"]["B3"].value == "Lindqvar Plain"
