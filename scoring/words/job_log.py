"""What a job log tells, in sentences and rows."""

import math

from scoring.evidence.claims import claim_range, next_claim
from scoring.evidence.jobs_done import FEWEST
from scoring.inputs.quantity import quantity_at
from scoring.questions.job_log import BRIEF, CLAIMS, SHEET
from scoring.words.figures import figure, number
from scoring.words.keys import in_words

FILES = {SHEET: "machine sheet", BRIEF: "brief"}
SEEN_HEAD = ("what the log tells", "jobs", "mean", "95 % sure of it", "8 of 10 jobs")
CHANGES_HEAD = ("field", "stands there", "from the log", "jobs")
LEARNT_HEAD = ("sellers' figures of", "timed as a share of claimed", "next claim, 80 %")
FACTOR_80 = 1.2816  # Φ⁻¹(0.9): half of the 80 % range, in standard deviations
NOT_YET = (
    "Nothing is changed yet: look at each field, then take it over with --out FOLDER."
)
FEW_JOBS = (
    "Ranges are those of the mean, not of a single job; they narrow as jobs come in."
)
KINDS = {
    "time": "time",
    "speed": "speed",
    "life": "life",
    "ink": "ink",
    "mass": "mass",
    "price": "price",
}


def heading(found):
    """Return what log it is: machine, jobs, days."""
    log = found.seen
    jobs = "1 job" if log.n_jobs == 1 else f"{log.n_jobs} jobs"
    if log.n_jobs == 1:
        return f"{log.machine}: {jobs}, {log.first.isoformat()}"
    span = f"{log.first.isoformat()} to {log.last.isoformat()}"
    return f"{log.machine}: {jobs}, {span}"


def in_short(found, is_us=False):
    """Return in a sentence or two what the log says, beside what the sheet says."""
    log, sheet = found.seen, found.machine
    said = []
    for key, seen in log.times.items():
        told = quantity_at(sheet, key)
        if seen.n >= FEWEST:
            said.append(_against(in_words(sheet, key), seen, told, "min", is_us))
    for passes, seen in log.speeds.items():
        if seen.n >= FEWEST:
            told = sheet.speed.get(passes)
            what = f"printing in {passes}-pass"
            said.append(_against(what, seen, told, "m²/h", is_us))
    trade = []
    if not math.isnan(log.months):
        trade.append(f"{number(log.n_jobs / log.months, 1)} jobs a month")
    if log.days_to_pay is not None:
        trade.append(f"paid after {figure(log.days_to_pay.likely, 'day')}")
    if log.stoppages:
        n = log.stoppages
        trade.append("1 stoppage" if n == 1 else f"{n} stoppages")
    parts = ["; ".join(said), ", ".join(trade)]
    return ". ".join(part[0].upper() + part[1:] for part in parts if part) + "."


def _against(what, seen, told, unit, is_us):
    """Return a mean, with what the sheet says of it where it says anything."""
    mean = f"{what} {figure(seen.likely, unit, is_us)}"
    if told is None or told.is_unknown:
        return f"{mean} (the sheet does not say)"
    return f"{mean} (the sheet says {figure(told.likely, unit, is_us)})"


def seen_rows(found, is_us=False):
    """Return a row for each figure that the log tells, as SEEN_HEAD names them."""
    log, sheet = found.seen, found.machine
    rows = []

    def add(what, seen, unit):
        if seen is not None:
            rows.append((what, str(seen.n), *_figures(seen, unit, is_us)))

    for key, seen in log.times.items():
        add(in_words(sheet, key), seen, "min")
    for passes, seen in log.speeds.items():
        add(f"printing, {passes}-pass", seen, "m²/h")
    add("ink", log.ink, "ml/m²")
    add("prints spoilt", log.spoilt, "share")
    add("jobs between stoppages", log.jobs_between, "")
    add("days down", log.days_down, "day")
    add("days to pay", log.days_to_pay, "day")
    add("share won of what was asked", log.won, "share")
    for kind in log.kinds:
        add(f"{kind.name}: jobs a month", kind.per_month, "")
        add(f"{kind.name}: area", kind.area, "m²")
        add(f"{kind.name}: printing", kind.print, "min")
        add(f"{kind.name}: carrying, one way", kind.carry, "min")
        add(f"{kind.name}: paid", kind.paid, log.currency or "")
    return rows


def _figures(seen, unit, is_us):
    """Return mean, interval and spread of a Seen in words."""

    def between(low, high):
        if math.isnan(low):
            return "–"
        ends = figure(low, unit, is_us).split(" ")[0], figure(high, unit, is_us)
        return "..".join(ends)

    interval = "–" if seen.n == 1 else between(seen.low, seen.high)
    return (
        figure(seen.likely, unit, is_us),
        interval,
        between(seen.tenth, seen.ninetieth),
    )


def change_rows(found, file):
    """Return a row for each field of one file, as CHANGES_HEAD names them."""
    record = found.machine if file == SHEET else found.brief
    return [
        (_name(record, change), change.before, change.after_text, str(change.n))
        for change in found.changes
        if change.file == file
    ]


def kept_in_words(found):
    """Return what a log tells and does not change, a line each."""
    lines = []
    for note in found.notes:
        record = found.machine if note.file == SHEET else found.brief
        first = note.path.partition(".")[0]
        is_field = first in type(record).model_fields
        what = in_words(record, note.path) if is_field else note.path
        lines.append(f"{what.removeprefix('work: ')}: {note.why}.")
    return lines


def change_name(found, change):
    """Return the field of a change in words."""
    return _name(found.machine if change.file == SHEET else found.brief, change)


def _name(record, change):
    if change.path == CLAIMS:
        return "how far sellers' claims are believed"
    words = in_words(record, change.path).removeprefix("work: ")
    return words.replace("basis", "what the number rests on")


def learnt_rows(claims):
    """Return a row for each kind of claim learnt, as LEARNT_HEAD names them."""
    rows = []
    for kind, one in claims.items():
        mean, sd = next_claim(one)
        low, high = (math.exp(mean + sign * FACTOR_80 * sd) for sign in (-1, 1))
        n = "1 figure" if one.seen == 1 else f"{one.seen} figures"
        rows.append(
            (f"{KINDS[kind]} ({n})", f"× {one.ratio:.2f}", f"× {low:.2f} to {high:.2f}")
        )
    return rows


def learnt_of_sellers(claims):
    """Return a row for each seller and kind: (seller, kind, ratio)."""
    return [
        (name, KINDS[kind], f"× {seller.ratio:.2f}")
        for kind, one in claims.items()
        for name, seller in sorted(one.sellers.items())
    ]


def reckoned(kind, one):
    """Return in a sentence what a quoted figure of a kind now counts as.

    Examples
    --------
    >>> from scoring.evidence.claims import prior
    >>> reckoned("time", prior("time"))
    'A quoted time of 100 counts as 91..117..154.'
    """
    ends = "..".join(f"{100 * (1 + end):.0f}" for end in claim_range(one))
    return f"A quoted {KINDS[kind]} of 100 counts as {ends}."
