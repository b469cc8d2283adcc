"""The case for the bank → a workbook whose sums are live formulas."""

import io

from scoring.report.cells import set_cell
from scoring.words.bank import DRAFT

HEADS = {
    "receipts": "clients pay",
    "costs": "job and running costs",
    "drawings": "owner draws",
    "own_money": "own money into the machine",
    "interest": "interest",
    "principal": "loan or lease paid back",
    "other_debts": "other debts",
}
FIRST = 2  # row of the signing on the sheet Months
LOAN_FIRST = 6  # row of the first instalment on the sheet Loan
WIDTH = 22


def bank_workbook(case):
    """Return the bytes of an .xlsx file of a BankCase.

    Months hold the engine's means as numbers; tax, flow, own cash, cover and the loan's
    schedule are formulas of them. Formulas name cells alone: none holds a name.
    """
    from openpyxl import Workbook  # only here

    book = Workbook()
    _case(book.active, case)
    _months(book.create_sheet("Months"), case)
    _cover(book.create_sheet("Cover"), case)
    if case.schedule is not None:
        _loan(book.create_sheet("Loan"), case)
    for sheet in book:
        for column in sheet.columns:
            sheet.column_dimensions[column[0].column_letter].width = WIDTH
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _case(sheet, case):
    sheet.title = "Case"
    brief = case.whole.brief
    rows = [
        ("buyer", brief.title),
        ("machine", case.name),
        ("currency", brief.currency),
        ("own cash at signing", float(case.evaluation.figures.buyer.cash[0, 0, 0])),
        ("set aside for tax, share", brief.bank.tax_share.likely),
        ("break-even, jobs a month", case.break_even),
        ("jobs evidenced a month", case.evidenced.counted),
        ("what this is", DRAFT),
    ]
    _fill(sheet, [("what", "value"), *rows])


CASH, TAX_SHARE = "Case!$B$5", "Case!$B$6"


def _fill(sheet, rows):
    from openpyxl.styles import Font

    for r, row in enumerate(rows, start=1):
        for c, value in enumerate(row, start=1):
            set_cell(sheet.cell(r, c), value)
            if r == 1:
                sheet.cell(r, c).font = Font(bold=True)
    sheet.freeze_panes = "A2"


def _months(sheet, case):
    """Write a row a month; I: tax at each year's end, J: flow, K: own cash."""
    lines = [getattr(case.months, name) for name in HEADS]
    head = ["month", *HEADS.values(), "tax set aside", "in all", "own cash"]
    head += ["still owed", "forced sale"]
    rows = zip(*(line.tolist() for line in lines), strict=True)
    _fill(sheet, [head, *([m, *row] for m, row in enumerate(rows))])
    more = zip(case.months.balance, case.months.forced_sale, strict=True)
    for month, owed in enumerate(more):
        row = FIRST + month
        sheet.cell(row, 9).value = _tax_formula(month)
        sheet.cell(row, 10).value = f"=SUM(B{row}:I{row})"
        before = CASH if month == 0 else f"K{row - 1}"
        sheet.cell(row, 11).value = f"={before}+J{row}"
        for c, value in enumerate(owed, start=12):
            set_cell(sheet.cell(row, c), float(value))


def _rows_of_year(year):
    """Return first and last row of twelve months; the signing is in the first."""
    return (FIRST if year == 0 else FIRST + 12 * year + 1), FIRST + 12 * (year + 1)


def _tax_formula(month):
    if month == 0 or month % 12:
        return 0
    a, b = _rows_of_year(month // 12 - 1)
    return f"=-{TAX_SHARE}*MAX(0,SUM(B{a}:C{b})+SUM(F{a}:F{b}))"


def _cover(sheet, case):
    head = ("year", "left after drawings and tax", "falls due", "cover ratio")
    _fill(sheet, [head])
    for year in range(len(case.covered.ratio)):
        a, b = _rows_of_year(year)
        row = 2 + year
        sheet.cell(row, 1).value = year + 1
        sheet.cell(row, 2).value = f"=SUM(Months!B{a}:D{b})+SUM(Months!I{a}:I{b})"
        sheet.cell(row, 3).value = f"=-SUM(Months!F{a}:H{b})"
        sheet.cell(row, 4).value = f'=IF(C{row}>0,B{row}/C{row},"no debt")'


def _loan(sheet, case):
    _fill(
        sheet,
        [
            ("borrowed", case.borrowed),
            ("rate a month", case.rate_per_month),
            ("months", case.n_instalments),
            ("instalment",),
            ("month", "instalment", "interest", "paid back", "still owed"),
        ],
    )
    sheet.freeze_panes = f"A{LOAN_FIRST}"
    sheet["B4"] = "=-PMT(B2,B3,B1)"
    for n in range(case.n_instalments):
        row = LOAN_FIRST + n
        before = "$B$1" if n == 0 else f"E{row - 1}"
        sheet.cell(row, 1).value = n + 1
        sheet.cell(row, 2).value = "=$B$4"
        sheet.cell(row, 3).value = f"={before}*$B$2"
        sheet.cell(row, 4).value = f"=B{row}-C{row}"
        sheet.cell(row, 5).value = f"={before}-D{row}"
