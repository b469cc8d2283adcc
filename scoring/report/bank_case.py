"""The case for the bank as one HTML file: a page, an appendix, and the case as data.

The file loads nothing. Charts are drawings in it; the brief and the sheets are in it as
data, so that whoever gets it can open the case again (`scoring.inputs.sent_case`).
"""

from functools import cache
from typing import NamedTuple

from scoring.charts.bank import cash_spec, cover_spec
from scoring.inputs.quantity import quantity_at
from scoring.inputs.sent_case import as_data, case_of, hash_of
from scoring.report.demo_day import TEMPLATES
from scoring.words import bank
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import about, figure, number
from scoring.words.keys import in_words

VERSION = 1  # of the way in which the case is worked out
KEY_FIGURES = (
    "price",
    "assembly_time",
    "prime_time",
    "pack_down_time",
    "heaviest_lift",
    "odour.preparing",
    "odour.printing",
    "resale",
    "upkeep",
    "reliability.jobs_between_stoppages",
    "reliability.days_down",
    "support.response",
)
JOB_BASES = {"sold": "sold", "enquiries": "enquiries", "guess": "hoped for"}
DASH = "–"


class Table(NamedTuple):
    """A table of the appendix; all its cells are texts."""

    title: str
    note: str
    head: tuple[str, ...]
    rows: list
    is_words: bool = False  # rather than numbers


class BankPage(NamedTuple):
    """All that the file says, in its order; texts as written, not yet escaped."""

    title: str
    currency: str
    lead: list[str]
    uses: list
    sources: list
    years: Table
    charts: list
    points: list
    stress: Table
    appendix: list
    how: list[str]
    inputs_hash: str
    seed: int
    n_draws: str
    version: int
    draft: str
    cautions: list[str]
    data: str


def bank_case_html(case, files=None):
    """Return the case for the bank as one HTML page without outside parts.

    Raises
    ------
    ScoringError
        If the case cannot be sent along: a sheet that was never read from a text.
    """
    return _template().render(page=page_of(case, files))


@cache
def _template():
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # only here

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined
    )
    return environment.get_template("bank_case.html")


def page_of(case, files=None):
    """Return the BankPage of a BankCase."""
    whole, currency = case.whole, case.whole.brief.currency
    sent = case_of(whole.brief, whole.machines, files)
    pay = [] if case.draws_pay else [bank.UNPAID]
    return BankPage(
        title=f"Case for the bank: {whole.brief.title}",
        currency=currency,
        lead=[
            bank.asked_for(case),
            bank.loan_size(case),
            bank.cover(case),
            bank.jobs_needed(case),
            *pay,
        ],
        uses=_money_rows(case.uses, currency),
        sources=_money_rows(case.sources, currency),
        years=_years(case),
        charts=_charts(case),
        points=[("Security", bank.security(case)), *bank.who_else(case)],
        stress=Table(
            "If it goes wrong",
            "",
            ("what happens", "lowest cover", "least own cash", "present value"),
            bank.stress_rows(case),
        ),
        appendix=_appendix(case),
        how=_how(case),
        inputs_hash=hash_of(sent),
        seed=whole.seed,
        n_draws=number(whole.n_draws),
        version=VERSION,
        draft=bank.DRAFT,
        cautions=[CAUTIONS["money"], DECIDES],
        data=_marked(as_data(sent)),
    )


def _marked(text):
    from markupsafe import Markup  # only here

    return Markup(text)  # `as_data` leaves no mark of HTML in it


def _money_rows(sums, currency):
    rows = [(bank.use_words(name), about(x, currency)) for name, x in sums.items()]
    return [*rows, ("in all", about(sum(sums.values()), currency))]


def _years(case):
    currency, covered = case.whole.brief.currency, case.covered
    head = ("", *(f"year {n + 1}" for n in range(len(covered.ratio))))
    rows = [
        ("left after drawings and tax", *_sums(covered.available, currency)),
        ("falls due", *_sums(covered.service, currency)),
        ("cover ratio", *(bank.ratio(_or_inf(x)) for x in covered.ratio.tolist())),
    ]
    return Table("Cover of what falls due", "", head, rows)


def _or_inf(ratio):
    return float("inf") if ratio != ratio else ratio


def _sums(figures, currency):
    return [about(x, currency) for x in figures.tolist()]


def _charts(case):
    """Return [(what it shows, drawing)]; the second only where something is owed."""
    import vl_convert  # only here

    told = [("Own cash by the month, after drawings and tax", cash_spec(case))]
    if case.borrowed >= 1:
        title = "What is owed on the machine, and what a forced sale would fetch"
        told.append((title, cover_spec(case)))
    return [
        (title, _marked(vl_convert.vegalite_to_svg(spec, vl_version="6.4")))
        for title, spec in told
    ]


def _appendix(case):
    return [_months(case), *_loan(case), _work(case), _evidence(case)]


def _months(case):
    m = case.months
    lines = [m.receipts, m.costs, m.drawings, m.own_money]
    lines += [m.interest + m.principal, m.other_debts]
    taxes = [0.0] * len(case.closing)
    taxes[12::12] = (-case.covered.tax).tolist()
    columns = [line.tolist() for line in lines]
    columns += [taxes, case.closing.tolist(), m.balance.tolist()]
    head = ("month", "clients pay", "costs", "owner draws", "own money in")
    head += ("loan or lease", "other debts", "tax", "own cash", "still owed")
    rows = [
        (str(month), *(_plain(x) for x in row))
        for month, row in enumerate(zip(*columns, strict=True))
    ]
    note = (
        f"In {case.whole.brief.currency}; means of {number(case.whole.n_draws)} draws; "
        "month 0 is the signing. Own cash starts from what the brief tells; the resale "
        "at the end is not in it."
    )
    return Table("Month by month", note, head, rows)


def _plain(money):
    return number(money) if abs(money) >= 0.5 else DASH


def _loan(case):
    if case.schedule is None:
        return []
    rows = [
        (str(n), *(number(x, 2, is_column=True) for x in row))
        for n, row in enumerate(zip(*case.schedule, strict=True), start=1)
    ]
    rate = figure(12 * case.rate_per_month, "share")
    note = (
        f"{about(case.borrowed, case.whole.brief.currency)} at {rate} a year, a "
        "twelfth of it each month, paid back in level sums from the month after "
        f"delivery (month {case.delivery_month}). The lender's own terms decide."
    )
    head = ("instalment", "paid", "interest", "paid back", "still owed")
    return [Table("The loan", note, head, rows)]


def _work(case):
    jobs, lived = case.whole.brief.work, case.evaluation.outcome
    currency = case.whole.brief.currency
    rows = [
        (
            job.name,
            JOB_BASES[job.basis],
            number(lived.year.served_per_month[0, 0, j], 2),
            about(lived.contribution_lines.revenue[0, 0, j], currency),
            about(lived.contribution[0, 0, j], currency),
        )
        for j, job in enumerate(jobs)
    ]
    head = ("kind of job", "rests on", "served a month", "client pays", "left of it")
    note = "Left: after the job's costs and own pay, per job."
    return Table("The work", note, head, rows, is_words=True)


def _evidence(case):
    """Return the machine's key figures as they are written, with basis and date."""
    machine, brief = case.evaluation.machines[0], case.whole.brief
    speeds = [f"speed.{passes}" for passes in machine.speeds()]
    rows = []
    for path in (*KEY_FIGURES, *speeds):
        written = quantity_at(machine, path)
        if written is not None:
            rows.append((in_words(machine, path), *_told(written)))
    for j, job in enumerate(brief.work):
        _, *told = _told(job.per_month)
        rest = (JOB_BASES[job.basis], *told[1:])
        words = in_words(brief, f"work.{j}.per_month")
        rows.append((words, job.per_month.text or DASH, *rest))
    head = ("figure", "as written", "basis", "as of", "note")
    return Table("What the key figures rest on", "", head, rows, is_words=True)


def _told(written):
    text = "not told" if written.is_unknown else written.text
    return text or DASH, written.basis, written.as_of or "no date", written.note or DASH


def _how(case):
    brief = case.whole.brief
    share = figure(brief.bank.tax_share.likely, "share")
    forced = figure(brief.bank.forced_sale.likely, "share")
    return [
        "Cover ratio: (what the work leaves − what the owner draws − tax) / (interest "
        "+ principal + other debts), in each twelve months; lenders often ask for 1.2 "
        "or more (common practice, no source).",
        f"Tax: {share} of what is left after interest, before what the owner draws and "
        "without writing off the machine (own estimate, on the careful side).",
        f"Forced sale: {forced} of the machine's worth on a straight line from price "
        "to resale (own estimate).",
        "Prices, times and jobs are drawn within their ranges, a seller's figures to "
        "the seller's side; what stands here is the mean of the draws.",
    ]
