"""Seven answers of somebody who knows little yet → a brief of their own.

What is not asked is assumed, from a table beside this file; each such figure says so in
its note, until another is typed.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from scoring.errors import ScoringError
from scoring.inputs.case.edit import at, data_of
from scoring.inputs.case.typed import figure_of
from scoring.inputs.dimensions import (
    KILOGRAMS,
    MONEY,
    MONEY_PER_HOUR,
    MONEY_PER_M2,
    PRINT_SIDE,
    WEEK_DAYS,
    Dimension,
)
from scoring.inputs.quantity import Wrong
from scoring.inputs.sheet_writer import written_anew

TABLE = Path(__file__).with_name("starter.yaml")
ASSUMED = "assumed"  # the note of a figure that nobody told
UNITS = {"cost_per_km": "/km", "fixed_costs": "/year", "own_hour": "/h"}
PLAIN = ("passes", "surface", "stairs")  # no figures with a note of their own
FIRST, SECOND = "first", "second"
TITLES = {FIRST: "My first machine", SECOND: "Another machine beside mine"}
RATE_OF_EURO = Dimension(
    "a number", "", "number", "25", bounds=(1e-6, 1e6), may_be_bare=True
)
BASES = {"sold": "sold", "asked": "enquiries", "hoped": "guess"}


@cache
def starter():
    """Return the table of common kinds of job and of what is assumed."""
    return yaml.safe_load(TABLE.read_text(encoding="utf-8"))


class KindOfJob(NamedTuple):
    """One kind of job as it is asked for: texts as typed, counts of three months."""

    name: str
    width: str
    height: str
    price: str  # for each m²; "" for the usual one
    sold: int = 0
    asked: int = 0
    hoped: int = 0


@dataclass(frozen=True)
class Answers:
    """What was answered, as typed; "" where a default does."""

    jobs: tuple[KindOfJob, ...]
    currency: str = "EUR"
    people: int = 1
    lift: str = ""
    days: str = "5"
    cash: str = ""
    credit: str = ""
    own_hour: str = ""
    door: str = FIRST
    per_euro: str = ""  # of a currency of another size than the euro


def typical(name, size=1.0):
    """Return a common kind of job with its typical size and price, none counted yet.

    `size` is how many of the currency one euro is.
    """
    of = starter()["kinds"][name]
    return KindOfJob(name, of["width"], of["height"], about(size * of["per_m2"]))


def brief_of(answers):
    """Return the YAML of a brief made of the answers.

    Raises
    ------
    ScoringError
        With every answer that cannot be read, a line each.
    """
    said = []
    data = {"title": TITLES[answers.door], "currency": answers.currency}
    size = _size(answers, said)
    for path, value in _assumed(answers, size).items():
        _lay(data, path, {"value": value, "note": ASSUMED})
    told = (
        ("crew.lift_limit", answers.lift, KILOGRAMS, "what you lift"),
        ("working_time.days_per_week", answers.days, WEEK_DAYS, "days a week"),
        ("money.cash", answers.cash, MONEY, "cash"),
        ("money.loan", answers.credit, MONEY, "credit"),
        ("money.own_hour", answers.own_hour, MONEY_PER_HOUR, "an hour of yours"),
    )
    data["crew"]["people"] = answers.people
    for path, typed, dimension, what in told:
        written = _read(typed, dimension, answers.currency, what, said)
        if written is not None:
            _lay(data, path, written)
    if at(data, "money.cash") is None and not said:
        said.append("cash: is missing; such as 20000")
    if at(data, "money.own_hour") is None and not said:
        said.append(f"an hour of yours: is missing; such as 18 {answers.currency}/h")
    if answers.people > 1 and not said:
        _lay(data, "crew.wage", _as_assumed(at(data, "money.own_hour")))
    data["work"] = [_job(job, answers.currency, size, said) for job in answers.jobs]
    if not answers.jobs:
        said.append("jobs: none is named; one kind of job at least")
    if said:
        raise ScoringError("\n".join(said))
    return written_anew(data)


def about(value):
    """Return a number in digits, three of them told.

    Examples
    --------
    >>> about(13120), about(0.45), about(768000)
    ('13100', '0.45', '768000')
    """
    return f"{float(f'{value:.3g}'):.12g}"


def assumptions(text):
    """Return [dotted path] of the figures of a brief that are assumed.

    Examples
    --------
    >>> assumptions("travel: {cost_per_km: {value: 1 EUR/km, note: assumed}}")
    ['travel.cost_per_km']
    """
    return list(_assumed_in(data_of(text)))


def per_month_of(job, months=None):
    """Return jobs a month as low..likely..high, of what is sold, asked and hoped for.

    Examples
    --------
    >>> per_month_of(KindOfJob("hall", "3 m", "2 m", "", sold=3, asked=2))
    '1.1..1.23..1.4'
    """
    months = months or starter()["months"]
    comes = starter()["comes"]
    ends = (
        sum(getattr(job, basis) * shares[end] for basis, shares in comes.items())
        for end in range(3)
    )
    told = [f"{end / months:.3g}" for end in ends]
    return told[0] if len(set(told)) == 1 else "..".join(told)


def _assumed(answers, size):
    """Return {path: figure} of what is assumed, sums in the buyer's currency."""
    found = {}
    for path, value in starter()["brief"].items():
        per = UNITS.get(path.rpartition(".")[2])
        is_sum = per is not None
        found[path] = (
            f"{about(size * value)} {answers.currency}{per}" if is_sum else value
        )
    return found


def is_alike(currency):
    """Return whether sums in a currency are of about the size of those in euros."""
    return currency in starter()["currencies"]


def _size(answers, said):
    """Return how many of the currency one euro is, for what is assumed; 1 if alike."""
    if is_alike(answers.currency):
        return 1.0
    try:
        written = figure_of(answers.per_euro, RATE_OF_EURO)
        return RATE_OF_EURO.parse(written).likely
    except Wrong:
        said.append(f"one euro in {answers.currency}: is missing; such as 25")
        return 1.0


def _as_assumed(held):
    value = held["value"] if isinstance(held, dict) else held
    return {"value": value, "note": ASSUMED}


def _job(job, currency, size, said):
    """Return one kind of job as the brief has it."""
    found = {"name": job.name.strip() or "wall"}
    counts = {basis: getattr(job, name) for name, basis in BASES.items()}
    if not any(counts.values()):
        said.append(f"{job.name}: how many; sold, asked for or hoped for, 1 or more")
    found["per_month"] = per_month_of(job)
    found["basis"] = next((basis for basis in counts if counts[basis]), "guess")
    usual = starter()["kinds"].get(job.name, {})
    for key in ("width", "height"):
        what = f"{job.name}, {key}"
        typed = getattr(job, key)
        found[key] = _read(typed, PRINT_SIDE, currency, what, said) or typed
        if not typed.strip():
            said.append(f"{what}: is missing; such as 3 m")
        if typed == usual.get(key):
            found[key] = {"value": found[key], "note": ASSUMED}
    for key, value in (starter()["job"] | _of_kind(usual)).items():
        if key == "artwork_fee":
            value = f"{about(size * value)} {currency}"
        is_figure = key not in PLAIN
        found[key] = {"value": value, "note": ASSUMED} if is_figure else value
    price = _read(job.price, MONEY_PER_M2, currency, f"{job.name}, price", said)
    found["price"] = {"per_m2": price}
    if not job.price.strip():
        said.append(f"{job.name}, price: is missing; such as 85 {currency}/m²")
    elif usual and job.price == about(size * usual["per_m2"]):
        found["price"]["per_m2"] = {"value": price, "note": ASSUMED}
    if usual:
        minimum = f"{about(size * usual['minimum'])} {currency}"
        found["price"]["minimum"] = {"value": minimum, "note": ASSUMED}
    return found


def _of_kind(usual):
    """Return what a common kind of job has otherwise than most."""
    return {key: usual[key] for key in (*PLAIN, "odour_limit") if key in usual}


def _read(typed, dimension, currency, what, said):
    """Return what was typed as a file has it, None where nothing was; faults said."""
    if not str(typed).strip():
        return None
    try:
        return figure_of(typed, dimension, currency)
    except Wrong as wrong:
        said.append(f"{what}: {wrong}")
        return None


def _lay(data, path, value):
    *folders, key = path.split(".")
    for folder in folders:
        data = data.setdefault(folder, {})
    data[key] = value


def _assumed_in(data, path=""):
    parts = data.items() if isinstance(data, dict) else enumerate(data)
    for key, value in parts:
        here = f"{path}{key}"
        if isinstance(value, dict) and value.get("note") == ASSUMED:
            yield here
        elif isinstance(value, dict | list):
            yield from _assumed_in(value, f"{here}.")


def new_job(name, brief):
    """Return one more kind of job for a brief's data: usual in size, all assumed.

    It is priced as the brief's first kind, as sums differ between currencies.
    """
    usual = typical(next(iter(starter()["kinds"])))
    job = _job(usual._replace(hoped=1), brief["currency"], 1.0, [])
    job.pop("artwork_fee")
    price = brief["work"][0]["price"]
    return job | {"name": name, "price": _all_assumed(price)}


def _all_assumed(price):
    """Return a price whose every sum is marked as assumed."""
    if isinstance(price, list):
        return [_all_assumed(band) for band in price]
    return {key: _as_assumed_sum(held) for key, held in price.items()}


def _as_assumed_sum(held):
    return _all_assumed(held) if isinstance(held, list) else _as_assumed(held)
