"""What a job log would change in sheet and brief, field by field."""

import math
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from scoring.errors import shown
from scoring.evidence.claims import learnt
from scoring.evidence.jobs_done import (
    FEWEST,
    MONTH_DAYS,
    LogSeen,
    at_least_between,
    seen,
)
from scoring.inputs.brief import Brief
from scoring.inputs.claims import ClaimsLearnt, claims_data
from scoring.inputs.dimensions import MONEY, MONEY_PER_M2
from scoring.inputs.machine import Machine, motion_told
from scoring.inputs.quantity import nearest, quantity_at
from scoring.inputs.records import dimension_of
from scoring.model.money.job_money import band_price
from scoring.questions.log_claims import (
    factors_of,
    far_off,
    fees_of,
    held_against_claims,
    hides_ink,
    is_plain,
)

SHEET, BRIEF = "sheet", "brief"
CLAIMS = "trust.learnt"
NONE_TOLD = "none is told"
LEAST_MONTHS = 1.0  # that a log has to stand for to tell jobs a month; own estimate


@dataclass(frozen=True)
class LogChange:
    """A field that a log changes: what stands there, and what it would become."""

    file: str  # SHEET or BRIEF
    path: str
    before: str
    after: object  # as the file would have it
    n: int  # jobs behind it

    @property
    def after_text(self):
        """What it becomes, as the file says it."""
        if self.path == CLAIMS:
            return _claims_text(self.after)
        return self.after["value"] if isinstance(self.after, dict) else str(self.after)


class Kept(NamedTuple):
    """What a log tells and does not change, and why."""

    file: str  # SHEET or BRIEF
    path: str  # of the field; of what no file has, its name
    why: str


@dataclass(frozen=True)
class FromLog:
    """What a job log tells, what it would change, and what it cannot change."""

    seen: LogSeen
    machine: Machine
    brief: Brief | None
    changes: tuple
    notes: tuple[Kept, ...]
    claims: dict[str, ClaimsLearnt] = field(default_factory=dict)


def from_log(done, machine, brief=None, before=None, all_machines=()):
    """Return the FromLog of one machine's rows.

    Parameters
    ----------
    done : JobsDone
    machine : Machine, as its sheet was before
    brief : Brief, optional
        Without one nothing is told of the mix, of prices, or of ink.
    before : {kind: ClaimsLearnt} that a trainer pooled, optional
        Else what the brief holds already, else the toolkit's own table.
    all_machines : names of other machines, optional

    Raises
    ------
    ScoringError
        If no row is of this machine.
    """
    factors = ({}, {}) if brief is None else factors_of(machine, brief)
    fees = {} if brief is None else fees_of(brief)
    found = seen(done, machine.name, all_machines, *factors, fees)
    notes, changes = _of_nobody(done, [machine.name, *all_machines]), []
    changes += _times(found, machine, notes)
    changes += _speeds(found, machine, brief, notes)
    changes += _rest_of_sheet(found, machine, brief, notes)
    if brief is not None:
        changes += _mix(found, brief, notes)
        changes += _trade(found, brief, notes)
    if before is None:
        before = {} if brief is None else brief.trust.learnt
    of_claims = held_against_claims(found, machine, brief)
    far = [ratio for ratio in of_claims if ratio.is_far]
    notes += [Kept(SHEET, one.key, f"the log says {far_off(one)}") for one in far]
    claims = {**before, **learnt(of_claims, before)} if of_claims or before else {}
    if brief is not None and claims and claims != brief.trust.learnt:
        changes.append(_claims(brief, claims, len(of_claims)))
    return FromLog(found, machine, brief, tuple(changes), tuple(notes), claims)


def _of_nobody(done, names):
    """Return the Kept of rows whose machine no sheet is called: not counted."""
    notes = []
    for name in sorted({row.machine for row in done.rows} - {"", *names}):
        n = sum(row.machine == name for row in done.rows)
        rows = "1 row names" if n == 1 else f"{n} rows name"
        near = nearest(name, names)
        why = f"{rows} {shown(name)}, as no sheet is called{near}; not counted"
        notes.append(Kept(SHEET, "machine", why))
    return notes


def _times(found, machine, notes):
    """Return the changes of build, prime, move and pack."""
    return [
        _change(SHEET, machine, Machine, key, figure, found)
        for key, figure in found.times.items()
        if _enough(key, figure, notes)
    ]


def _speeds(found, machine, brief, notes):
    """Return the changes of printing speeds; none where another figure tells them."""
    if not found.speeds:
        return []
    said = "; ".join(
        f"{speed.likely:.3g} m²/h in {passes}-pass"
        for passes, speed in found.speeds.items()
    )
    if machine.carriage is not None and len(motion_told(machine.carriage)) == 2:
        why = "the sheet reckons from its carriage, which two timed prints settle"
        notes.append(Kept(SHEET, "speed", f"the log says {said}; {why}"))
        return []
    if not is_plain(machine, brief):
        why = "what was skipped or had white underneath is not known"
        notes.append(Kept(SHEET, "speed", f"the log says {said}; {why}"))
        return []
    tested = {test.passes for test in machine.print_tests}
    changes = []
    for passes, speed in found.speeds.items():
        key = f"speed.{passes}"
        if passes in tested:
            why = "the sheet's own timed prints go before it"
            said = f"the log says {speed.likely:.3g} m²/h; {why}"
            notes.append(Kept(SHEET, key, said))
        elif _enough(key, speed, notes):
            changes.append(_change(SHEET, machine, Machine, key, speed, found))
    return changes


def _rest_of_sheet(found, machine, brief, notes):
    """Return the changes of ink, spoilt prints and stoppages."""
    changes = []
    if found.ink is not None:
        if hides_ink(brief):
            why = "how much of it is white, or was left bare, is not known"
            said = f"the log says {found.ink.likely:.3g} ml for each m²; {why}"
            notes.append(Kept(SHEET, "ink.colour", said))
        elif _enough("ink.colour", found.ink, notes):
            path = "ink.colour"
            changes.append(_change(SHEET, machine, Machine, path, found.ink, found))
    for key, figure in (
        ("spoilt_share", found.spoilt),
        ("reliability.jobs_between_stoppages", found.jobs_between),
        ("reliability.days_down", found.days_down),
    ):
        if figure is None:
            continue
        if figure is found.jobs_between:  # one stoppage tells something already
            figure = _careful(figure, found.n_jobs / (found.stoppages + 0.5))
        elif not _enough(key, figure, notes):
            continue
        changes.append(_change(SHEET, machine, Machine, key, figure, found))
    if not found.stoppages:
        least = at_least_between(found.n_jobs)
        shows = f"{_jobs(round(least))} between them at least (95 % sure)"
        said = f"no stoppage in {_jobs(found.n_jobs)}, which shows {shows}"
        notes.append(Kept(SHEET, "reliability.jobs_between_stoppages", said))
    return changes


def _mix(found, brief, notes):
    """Return the changes of jobs a month and of prices."""
    told = {job.name.casefold(): j for j, job in enumerate(brief.work)}
    changes, met = [], set()
    for kind in found.kinds:
        j = told.get(kind.name.casefold())
        if j is None:
            why = "no such kind of job in the brief: add it, or name it alike"
            notes.append(Kept(BRIEF, kind.name, f"{_jobs(kind.n)} in the log; {why}"))
            continue
        met.add(j)
        changes += _of_kind(found, brief, j, kind, notes)
    for j in range(len(brief.work)):
        if j not in met:
            notes.append(Kept(BRIEF, f"work.{j}", "not in the log"))
    return changes


def _of_kind(found, brief, j, kind, notes):
    """Yield the changes of one kind of job."""
    path = f"work.{j}.per_month"
    if kind.per_month is None:
        notes.append(Kept(BRIEF, path, "all jobs are on one day"))
    elif found.months < LEAST_MONTHS:
        days = round(found.months * MONTH_DAYS)
        why = f"the log stands for {days} days, too few to tell jobs a month"
        notes.append(Kept(BRIEF, path, why))
    elif brief.leads_read:
        notes.append(Kept(BRIEF, path, "comes from the leads that the brief names"))
    else:
        figure = _careful(kind.per_month, kind.per_month.likely)
        yield _change(BRIEF, brief, Brief, path, figure, found)
        if brief.work[j].basis != "sold":
            basis = brief.work[j].basis
            yield LogChange(BRIEF, f"work.{j}.basis", basis, "sold", kind.n)
    if kind.paid is not None and found.currency == brief.currency:
        yield from _price(found, brief, j, kind, notes)
    elif kind.paid is not None:
        said = f"paid in {found.currency}, the brief reckons in {brief.currency}"
        notes.append(Kept(BRIEF, f"work.{j}.price", said))


def _price(found, brief, j, kind, notes):
    """Yield the change of a price, where the log can tell that form of price."""
    price = brief.work[j].price
    off = fees_of(brief).get(brief.work[j].name.casefold(), 0.0)
    path = f"work.{j}.price"
    paid = kind.paid._replace(
        low=kind.paid.low - off,
        likely=kind.paid.likely - off,
        high=kind.paid.high - off,
    )
    if not _enough(path, paid, notes, BRIEF):
        return
    if paid.low <= 0:
        least = "no more than the brief's fee for artwork" if off else "nothing"
        said = f"{kind.paid.likely:.0f} {brief.currency} paid a job, for some {least}"
        notes.append(Kept(BRIEF, path, said))
        return
    if price.per_job is not None:
        path += ".per_job"
        yield _change(BRIEF, brief, Brief, path, paid, found, MONEY)
        return
    if price.per_m2 is not None and kind.paid_per_m2 is not None:
        least = 0.0 if price.minimum is None else price.minimum.likely
        if paid.low > 1.05 * least:
            path += ".per_m2"
            figure = kind.paid_per_m2
            yield _change(BRIEF, brief, Brief, path, figure, found, MONEY_PER_M2)
            return
        why = "near the smallest price, so that a m² cannot be told from it"
    elif price.per_m2 is not None:
        why = "the log has no areas, by which the brief reckons it"
    else:
        area, asked = _asked_by_bands(brief.work[j])
        told = f"for its {area:.3g} m² it asks {asked + off:.0f} {brief.currency}"
        why = f"the brief has bands of size, which a log does not tell apart; {told}"
    said = f"{kind.paid.likely:.0f} {brief.currency} paid a job; {why}"
    notes.append(Kept(BRIEF, path, said))


def _asked_by_bands(job):
    """Return (m² of a job, what its bands of size ask for it), as likely."""
    area = np.array([job.walls * job.width.likely * job.height.likely])
    bands, minimum = job.price.bands, job.price.minimum
    ends = [np.inf if band.up_to is None else band.up_to.likely for band in bands]
    price = band_price(area, ends, np.array([band.per_m2.likely for band in bands]))
    least = 0.0 if minimum is None else minimum.likely
    return float(area[0]), max(least, float(price[0] * area[0]))


def _trade(found, brief, notes):
    """Yield the changes of days to pay and of the share won."""
    if found.days_to_pay is not None and found.days_to_pay.n >= FEWEST:
        path = "trade.days_to_pay"
        yield _change(BRIEF, brief, Brief, path, found.days_to_pay, found)
    path = "bank.enquiries_won"
    if found.won is not None and _enough(path, found.won, notes, BRIEF):
        yield _change(BRIEF, brief, Brief, path, found.won, found)


def _claims(brief, claims, n):
    """Return the change of what the brief holds of sellers' claims."""
    before = _claims_text(claims_data(brief.trust.learnt))
    after = claims_data(claims)
    return LogChange(BRIEF, CLAIMS, before or "the toolkit's own table", after, n)


def _claims_text(data):
    """Return what was learnt in short: timed as a share of claimed, by kind."""
    return ", ".join(f"{kind} × {one['ratio']:.2f}" for kind, one in data.items())


def _jobs(n):
    return "1 job" if n == 1 else f"{n} jobs"


def _careful(figure, likely):
    """Return a Seen of which more is better, cut so that its long end does not flatter.

    The mean of a range with a long upper end lies above its likely value; few jobs
    would then promise more than they showed. `likely` of stoppages is one over the mean
    of their rate.
    """
    high = max(likely, min(figure.high, 2 * likely - figure.low))
    return figure._replace(likely=likely, high=high)


def _enough(key, figure, notes, file=SHEET):
    """Return whether a figure rests on enough jobs; if not, it is noted."""
    if figure.n >= FEWEST:
        return True
    n = f"{_jobs(figure.n)} in the log; {FEWEST} are the fewest to count"
    notes.append(Kept(file, key, n))
    return False


def _change(file, record, model, path, figure, found, dimension=None):
    """Return the LogChange that a Seen becomes, within the field's bounds."""
    dimension = dimension or dimension_of(model, path)
    low, high = dimension.bounds
    ends = [
        min(max(end, low), high) for end in (figure.low, figure.likely, figure.high)
    ]
    unit = dimension.unit
    if dimension.is_money:
        unit = found.currency + (f"/{dimension.per}" if dimension.per else "")
    if unit == "share":
        unit, ends = "%", [100 * end for end in ends]
    text = f"{'..'.join(_digits(end) for end in _rising(ends))} {unit}".strip()
    days = f"{found.first.isoformat()} to {found.last.isoformat()}"
    note = f"job log of {_jobs(figure.n)}, {days}"
    after = {"value": text, "basis": "measured", "as_of": found.last.isoformat()}
    after["note"] = note
    return LogChange(file, path, _before(record, path), after, figure.n)


def _rising(ends):
    """Return the ends, rounded as they are written, still in order."""
    low, likely, high = (float(_digits(end)) for end in ends)
    return [min(low, likely), likely, max(likely, high)]


def _digits(value):
    """Return three digits that count, as a file has them."""
    places = 3 if value == 0 else max(0, 2 - math.floor(math.log10(abs(value))))
    text = f"{value:.{min(places, 6)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _before(record, path):
    """Return what stands at a path, as it was written."""
    if path.startswith("speed."):
        quantity = record.speed.get(int(path.partition(".")[2]))
    else:
        quantity = quantity_at(record, path)
    if quantity is None:
        return NONE_TOLD
    basis = "" if quantity.basis in ("stated", "unknown") else f", {quantity.basis}"
    return f"{quantity.text or 'unknown'}{basis}"
