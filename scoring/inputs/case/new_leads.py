"""Leads typed in a table or dropped in → the case with them, new kinds of job too."""

import csv
import io
from statistics import median

from scoring.errors import ScoringError
from scoring.inputs.case.edit import REMOVED, at, data_of, edited
from scoring.inputs.case.record import checked
from scoring.inputs.case.starter import new_job, starter
from scoring.inputs.case.typed import figure_of
from scoring.inputs.formulas import guarded
from scoring.inputs.leads_file import COLUMNS, DIMENSIONS, SYNONYMS, load_leads
from scoring.inputs.quantity import Wrong

TYPED = "leads.csv"
OF_BASIS = {"sold": "sold", "enquiry": "asked", "guess": "hoped"}


def table_of(rows, currency):
    """Return the CSV of rows as they were typed, {column: text} each; no empty ones.

    Figures may be typed as in any form; a chance that is not told is the usual one of
    its basis.

    Raises
    ------
    ScoringError
        With every figure that cannot be read, a line each; or if there is no row.
    """
    said, written = [], []
    for n, row in enumerate(_told(rows), start=1):
        cells = {}
        for column in COLUMNS:
            try:
                cells[column] = _cell(column, row, currency)
            except Wrong as wrong:
                said.append(f"lead {n}, {column}: {wrong}")
        written.append([guarded(str(cells.get(column, ""))) for column in COLUMNS])
    if said:
        raise ScoringError("\n".join(said))
    if not written:
        raise ScoringError("there are no leads; a row for each")
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([COLUMNS, *written])
    return text.getvalue()


def rows_of(case):
    """Return the leads of a case as rows of texts, [] where it has none.

    Raises
    ------
    ScoringError
        If its table cannot be read.
    """
    name = at(data_of(case.brief), "leads")
    if name is None or name not in case.files:
        return []
    return [
        {
            "job": lead.job,
            "width": "" if lead.width_m is None else f"{lead.width_m:.12g} m",
            "height": "" if lead.height_m is None else f"{lead.height_m:.12g} m",
            "price": lead.price.text if lead.price else "",
            "probability": f"{100 * lead.probability:.12g} %",
            "month": lead.month,
            "basis": lead.basis,
        }
        for lead in load_leads((name, case.files[name]))
    ]


def with_leads_file(case, name, data):
    """Return the Case with a table of leads in place of any other.

    A lead of a kind of job that is not there yet makes one: of the lead's size and
    price where it tells them, else of a usual one, marked as assumed.

    Raises
    ------
    InputFaults
        With every fault of the table, or of what comes of it.
    """
    leads, brief = load_leads((name, data)), data_of(case.brief)
    known = {str(job["name"]).casefold() for job in brief["work"]}
    changes = {"leads": name}
    for lead in leads:
        if lead.job and lead.job.casefold() not in known:
            known.add(lead.job.casefold())
            place = len(brief["work"]) + len(changes) - 1
            alike = [x for x in leads if x.job.casefold() == lead.job.casefold()]
            changes[f"work.{place}"] = _kind(lead.job, alike, brief)
    before = at(brief, "leads")
    files = {key: held for key, held in case.files.items() if key != before}
    return checked(
        type(case)(
            edited(case.brief, changes), case.sheets, files | {name: data}, case.retired
        )
    )


def without_leads(case):
    """Return the Case without leads: jobs a month are those of each kind again."""
    brief = edited(case.brief, {"leads": REMOVED})
    return checked(type(case)(brief, case.sheets, case.files, case.retired))


def _kind(name, leads, brief):
    """Return a new kind of job, as its leads tell it."""
    job, currency = new_job(name, brief), brief["currency"]
    sized = [lead for lead in leads if lead.width_m]
    if sized:
        job["width"] = f"{median(lead.width_m for lead in sized):.12g} m"
        job["height"] = f"{median(lead.height_m for lead in sized):.12g} m"
    priced = [
        lead.price.likely
        for lead in leads
        if lead.price and lead.price.currency == currency
    ]
    if priced:
        job["price"] = {"per_job": f"{median(priced):.12g} {currency}"}
    sold = all(lead.basis == "sold" for lead in leads)
    job["basis"] = "sold" if sold else "enquiries"
    return job


def _told(rows):
    """Yield the rows with anything in them but what a table fills in itself."""
    for row in rows:
        texts = {column: str(row.get(column) or "").strip() for column in COLUMNS}
        if any(texts[column] for column in COLUMNS if column not in ("month", "basis")):
            yield texts


def _cell(column, row, currency):
    """Return one cell as a table of leads has it."""
    entry = row[column]
    if column == "basis":
        return entry or "enquiry"
    if column == "probability" and not entry:
        basis = row["basis"].lower() or "enquiry"
        usual = OF_BASIS.get(SYNONYMS.get(basis, basis))
        share = starter()["comes"][usual][1] if usual else None
        return "" if share is None else f"{100 * share:.12g} %"
    if column not in DIMENSIONS or not entry:
        return entry
    return figure_of(entry, DIMENSIONS[column], currency)
