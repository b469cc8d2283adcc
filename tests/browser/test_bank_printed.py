"""The case for the bank as a printer gets it: every page of A4 and of Letter."""

import re
import shutil
import subprocess

import pytest

from scoring.questions.bank_case import bank_case
from scoring.report.bank_case import bank_case_html
from tests import cases

pytestmark = pytest.mark.browser
NEEDED = ("pdftotext", "pdfinfo")  # Debian's package poppler-utils
# ISO 216; ANSI/ASME Y14.1: 210 × 297 mm, 8.5 × 11 in, in points of 1/72 in.
SIZES = {"A4": (595, 842), "Letter": (612, 792)}

# Whether some table, row or picture reaches over the right edge of what is printed.
TOO_WIDE = """() => [...document.querySelectorAll("table, svg, img, td, th, p, h1, h2")]
  .filter(e => e.getBoundingClientRect().right
      > document.documentElement.clientWidth + 1
    || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflow === "hidden")
  .map(e => e.tagName + ": " + e.textContent.slice(0, 40))"""
TABLES = """() => [...document.querySelectorAll("table")]
  .map(table => [table.rows.length, table.innerText])"""
SHORT = 20  # rows; a table of more may go on, row by row, on the next page
PAGES = re.compile(r"^Pages:\s+(\d+)$", re.MULTILINE)
SIZE = re.compile(r"^Page size:\s+([\d.]+) x ([\d.]+) pts", re.MULTILINE)


def squeezed(text):
    """Return a text without white space of any kind, as printers break lines."""
    return re.sub(r"\s+", "", text)


def said_by(*command):
    """Return what a program prints."""
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ("new-entrant", "second-rig"))
def test_no_table_is_cut(browser, tmp_path, name, size):
    """A table is on paper whole, a short one on one page; none is wider than paper."""
    lacking = [tool for tool in NEEDED if shutil.which(tool) is None]
    if lacking:
        pytest.skip(f"needs {', '.join(lacking)}: Debian's package poppler-utils")
    evaluation = cases.demo(name)
    html = tmp_path / "case.html"
    html.write_text(
        bank_case_html(bank_case(evaluation, evaluation.names[evaluation.order[0]])),
        encoding="utf-8",
    )
    page = browser.new_page()
    page.goto(html.as_uri())
    page.emulate_media(media="print")
    width = {"A4": 794, "Letter": 816}[size]
    page.set_viewport_size({"width": width - 91, "height": 1000})  # less 2 × 12 mm
    assert page.evaluate(TOO_WIDE) == []
    tables = page.evaluate(TABLES)
    paper = tmp_path / f"{name}-{size}.pdf"
    page.pdf(path=paper, format=size, prefer_css_page_size=False)
    page.close()
    told = said_by("pdfinfo", paper)
    shape = tuple(round(float(x)) for x in SIZE.search(told).groups())
    assert shape == pytest.approx(SIZES[size], abs=1)
    text = said_by("pdftotext", "-layout", paper, "-")
    sheets = text.split("\f")[:-1]
    assert len(sheets) == int(PAGES.search(told)[1])
    assert 2 <= len(sheets) <= 12
    printed = [squeezed(sheet) for sheet in sheets]
    assert all(printed), "an empty page"
    whole = "".join(printed)
    assert "Whoelsecanrunit" in printed[0] and printed[1].startswith("Appendix")
    assert len(tables) > 4
    for n_rows, said in tables:
        words = {squeezed(word) for word in said.split()}
        on = printed if n_rows <= SHORT else [whole]
        assert any(all(word in sheet for word in words) for sheet in on), said
