"""A workbook of less than 1 MB takes neither long nor much memory, whatever is in it.

Parts and their names: ECMA-376 (5th edition, 2021), part 1, sections 8, 12.3 and 18.
A zip archive's fields: ISO/IEC 21320-1 (2015) and the deflate limit of 1032 to 1.
"""

import io
import random
import struct
import time
import tracemalloc
import zipfile

import pytest

from scoring.errors import InputFaults
from scoring.inputs.leads_file import load_leads

openpyxl = pytest.importorskip("openpyxl")
MAIN = "xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main'"
SHEET = "xl/worksheets/sheet1.xml"
TYPES = "[Content_Types].xml"
HEAD = ["job", "price EUR", "probability", "month", "basis"]
LEAD = ["hall", 900, 0.5, "2026-11", "guess"]
LONGEST_S = 10.0  # a guard against what never ends, no measure
MOST_MB = 300


def parts():
    """Return {name: bytes} of a small workbook of leads."""
    book, data = openpyxl.Workbook(), io.BytesIO()
    book.active.append(HEAD)
    book.active.append(LEAD)
    book.save(data)
    with zipfile.ZipFile(data) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(files):
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in files.items():
            archive.writestr(name, part)
    return data.getvalue()


def changed(**how):
    """Return a workbook with parts changed, by name: `sheet`, `texts`, and others."""
    names = {"sheet": SHEET, "texts": "xl/sharedStrings.xml", "styles": "xl/styles.xml"}
    return packed(parts() | {names.get(key, key): part for key, part in how.items()})


def rows(inside):
    return f"<worksheet {MAIN}><sheetData>{inside}</sheetData></worksheet>"


def texts(inside):
    return f"<sst {MAIN}>{inside}</sst>"


def outcome(data):
    """Return the sentences about a workbook, [] for none; in little time and memory."""
    assert len(data) < 1_000_000
    tracemalloc.start()
    begun = time.process_time()
    try:
        load_leads(("a.xlsx", data))
    except InputFaults as found:
        return [f"{fault.what}; {fault.allowed}" for fault in found.faults]
    finally:
        took, (_, most) = time.process_time() - begun, tracemalloc.get_traced_memory()
        tracemalloc.stop()
        assert most < MOST_MB * 1e6
        assert took < 3 * LONGEST_S  # counting memory makes all three times as slow
    return []


def elsewhere(far):
    """Return a workbook whose sheet lies in another folder under another name."""
    files = parts()
    sheet = rows(f"<row r='1'><c {far}><v>1</v></c></row>")
    move = (b"worksheets/sheet1.xml", b"media/picture1.png")
    files = {name: part.replace(*move) for name, part in files.items()}
    return packed(files | {"xl/media/picture1.png": sheet})


FAR = "has cells beyond column 100; the leads' columns alone"
COLUMN = {
    "double quotes": changed(sheet=rows('<row r="1"><c r="XFD2"/></row>')),
    "single quotes": changed(sheet=rows("<row r='1'><c r='XFD2'/></row>")),
    "small letters": changed(sheet=rows("<row r='1'><c r='xfd2'/></row>")),
    "space around": changed(sheet=rows("<row><c r = '\n XFD2 '/></row>")),
    "letters as numbers": changed(sheet=rows("<row><c r='&#88;FD2'/></row>")),
    "no such column": changed(sheet=rows("<row><c r='ZZZZZZZZ2'/></row>")),
    "a name space": changed(
        sheet=f"<m:worksheet {MAIN.replace('=', ':m=', 1)}><m:sheetData><m:row>"
        "<m:c r='XFD2'/></m:row></m:sheetData></m:worksheet>"
    ),
    "cells without a name": changed(sheet=rows(f"<row>{'<c/>' * 20_000}</row>")),
    "in another folder": elsewhere("r='XFD1'"),
}


@pytest.mark.parametrize("name", COLUMN)
def test_far_columns_are_refused(name):
    """However a far cell is written and wherever its sheet lies, it is seen."""
    assert outcome(COLUMN[name]) == [FAR]


ALONE = "the leads alone, in a workbook of their own"
# Letters of chance between the tags, so that they do not pack to nearly nothing.
RANDOM = random.Random(1)
TEXT = "".join(f"<si>{RANDOM.randbytes(4).hex()}</si>" for _ in range(10))
VALUES = "".join(f"<v>{digit}</v>" for digit in RANDOM.choices("0123456789", k=620_000))
MANY = {
    "shared texts": (changed(texts=texts(TEXT * 8_000)), "30000 texts"),
    "shared texts in another part": (
        packed(parts() | {"xl/t.bin": texts(TEXT * 8_000)}),
        "30000 texts",
    ),
    "cells": (
        changed(sheet=rows(("<row>" + "<c/>" * 50 + "</row>") * 5000)),
        "200000 cells",
    ),
    "rows": (changed(sheet=rows("<row/>" * 200_000)), "100000 rows"),
    "formats": (
        changed(
            styles=f"<styleSheet {MAIN}><cellXfs>{'<xf/>' * 200_000}</cellXfs>"
            "</styleSheet>"
        ),
        "30000 parts",
    ),
    "sheets": (
        changed(
            **{
                "xl/workbook.xml": f"<workbook {MAIN}><sheets>"
                + "<sheet name='a' sheetId='1'/>" * 50_000
                + "</sheets></workbook>"
            }
        ),
        "250 sheets",
    ),
}


@pytest.mark.parametrize("name", MANY)
def test_a_workbook_has_bounds(name):
    """Millions of empty things pack to nothing; they are counted, not built."""
    data, what = MANY[name]
    assert outcome(data) == [f"has more than {what}; {ALONE}"]


def test_many_values_in_one_cell_are_refused():
    """What stands inside cells is counted too."""
    data = changed(sheet=rows(f"<row><c>{VALUES}</c></row>"))
    assert outcome(data) == [f"has more than 600000 elements; {ALONE}"]


def test_rows_far_below_are_too_many():
    """A row numbered beyond the last that is read does not fill the gap with rows."""
    far = "<row r='1048576'><c r='A1048576'><v>1</v></c></row>"
    assert outcome(changed(sheet=rows(far)))


def test_values_far_apart_are_refused():
    """Two values, a million rows and ninety columns apart, do not fill a table."""
    near, far = ("<c r='CL1'><v>1</v></c>", "<c r='A1048576'><v>1</v></c>")
    both = f"<row r='1'>{near}</row><row r='1048576'>{far}</row>"
    assert outcome(changed(sheet=rows(both))) == [
        "has cells as far as row 1048576, column 90; rows without a gap, in a workbook "
        "of their own"
    ]
    assert outcome(changed(sheet=rows(both.replace("r='1048576'", "r='99999999'"))))


def test_a_far_cell_with_a_format_alone_is_no_fault():
    """As spreadsheets leave them where a whole column was formatted."""
    head = "".join(
        f"<c r='{letter}1' t='inlineStr'><is><t>{text}</t></is></c>"
        for letter, text in zip("ABCDE", HEAD, strict=True)
    )
    lead = "<c r='A2' t='inlineStr'><is><t>hall</t></is></c><c r='B2'><v>900</v></c>"
    lead += "<c r='C2'><v>0.5</v></c>"
    lead += "<c r='D2' t='inlineStr'><is><t>2026-11</t></is></c>"
    lead += "<c r='E2' t='inlineStr'><is><t>guess</t></is></c>"
    far = "<row r='1048576'><c r='CL1048576' s='0'/></row>"
    sheet = f"<row r='1'>{head}</row><row r='2'>{lead}</row>{far}"
    assert not outcome(changed(sheet=rows(sheet)))


@pytest.mark.parametrize(
    "kind",
    ["xml", "png"],
)
def test_what_unpacks_to_too_much_is_refused(kind):
    """More than 20 MB in all, or 200 to 1 in one part, is not unpacked."""
    spaces = b" " * 15_000_000
    assert outcome(packed(parts() | {f"xl/a.{kind}": spaces})) == [
        "unpacks to far more than it is; the sheet saved as “CSV UTF-8”"
    ]
    assert outcome(packed(parts() | {f"xl/a.{kind}": spaces + spaces})) == [
        "is 30.0 MB large; 20 MB or less"
    ]


def lying(size=100):
    """Return a workbook with a part of 300 MB that says it is of 100 bytes."""
    true = changed(sheet=b" " * 300_000_000)
    said = struct.pack("<I", 300_000_000)
    assert true.count(said) == 2  # before the part, and in the list at the end
    return true.replace(said, struct.pack("<I", size))


def test_a_size_that_lies_is_not_believed():
    """A part that unpacks to more than it says is cut there, and so refused."""
    assert outcome(lying()) == [
        "cannot be read as a workbook; the sheet saved as “CSV UTF-8” or as XLSX"
    ]


ENTITY = "<!DOCTYPE x [<!ENTITY a 'ha'><!ENTITY b '&a;&a;'>]>"
BROKEN = {
    "entities": changed(sheet=ENTITY + rows("<row><c><v>&b;</v></c></row>")),
    "UTF-16": changed(sheet=rows("<row><c r='XFD1'/></row>").encode("utf-16")),
    "named letters": changed(
        sheet=b"<?xml version='1.0' encoding='mac_arabic'?>" + rows("").encode()
    ),
    "deep": changed(sheet=rows("<row>" * 90_000)),
    "not closed": changed(sheet=rows("<row><c r='A1'>")[:-30]),
    "no sheet": packed({TYPES: parts()[TYPES]}),
    "two of one name": packed(parts() | {SHEET.upper(): b"<a/>"}),
    "many parts": packed(parts() | {f"a{k}": b"" for k in range(1500)}),
    "endless attributes": changed(
        sheet=rows("<row " + " ".join(f"a{k}='1'" for k in range(120_000)) + "/>")
    ),
    "endless text": changed(sheet=rows(f"<row><c><v>{'1' * 200_000}</v></c></row>")),
    "endless mark": changed(sheet=rows(f"<row r='{'>1' * 60_000}'/>")),
    "endless number of a row": changed(sheet=rows(f"<row r='{'9' * 5_000}'/>")),
    "negative row": changed(sheet=rows("<row r='-1'><c r='A-1'><v>1</v></c></row>")),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_strange_workbook_gets_a_sentence(name):
    """Entities, other letters, no end, no sheet, two of a name: one sentence."""
    assert len(outcome(BROKEN[name])) >= 1


def test_external_links_are_left_alone():
    """A link to another workbook is not followed, and its values are no leads."""
    link = (
        "<externalLink xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main'>"
        "<externalBook/></externalLink>"
    )
    assert not outcome(packed(parts() | {"xl/externalLinks/externalLink1.xml": link}))


def test_an_honest_workbook_of_5000_leads_is_read():
    """As many leads as are allowed, with formats and a second sheet, are no attack."""
    book, data = openpyxl.Workbook(), io.BytesIO()
    book.active.append(HEAD)
    for k in range(4_900):
        book.active.append([f"hall {k}", *LEAD[1:]])
    for k in range(2_000):
        book.create_sheet("other") if k == 0 else None
        book["other"].append([k] * 10)
    book.save(data)
    assert len(load_leads(("a.xlsx", data.getvalue()))) == 4_900
