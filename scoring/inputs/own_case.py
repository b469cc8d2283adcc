"""What somebody types into a form → the text of a brief or of a machine sheet.

The texts are read like any file, so that a form allows what a file allows and faults
are the same sentences. A decimal comma is taken; what is left empty is not told.
"""

import re
from dataclasses import dataclass, field
from pathlib import Path

import yaml

from scoring.errors import shown
from scoring.inputs.quantity import UNKNOWN, Wrong

BRIEF_FILE = "my-case.yaml"
COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))")
THOUSANDS = re.compile(r"\d,\d{3}(?!\d)")
NUMBERS_ALONE = re.compile(r"-?\d+(\.\d+)?(\.\.-?\d+(\.\d+)?){0,2}")
# Of what was only asked for or hoped for, how much is taken as likely; own estimate.
OF_ASKED, OF_HOPED = 0.5, 0.2
ASSUMED = {
    "own_hour": "20",  # free labour is no good news
    "hours_per_day": "8 h",
    "weeks_per_year": "44",
    "bookable_share": "30..45..60 %",
    "cost_per_km": "0.30..0.45..0.70",
    "fixed_costs": "3000..6000..10000",
    "discount_rate": "9 %",
}


@dataclass
class JobTold:
    """A kind of job as it is typed: texts, and how many a year."""

    name: str
    sold: int = 0  # in a year
    asked: int = 0
    hoped: int = 0
    width: str = ""
    height: str = ""
    price: str = ""  # for the job


@dataclass
class CaseTold:
    """What a beginner knows, as it is typed; "" where it is not told."""

    currency: str = "EUR"
    jobs: list[JobTold] = field(default_factory=list)
    people: int = 1
    lift: str = "25 kg"
    days_per_week: str = "5"
    cash: str = ""
    credit: str = ""
    assumed: dict[str, str] = field(default_factory=dict)  # other than ASSUMED
    # machine, years old, what it would bring if sold
    owned: list[tuple[str, str, str]] = field(default_factory=list)


@dataclass
class LeafletTold:
    """What a leaflet tells of a machine, as it is typed; "" where it does not tell."""

    name: str
    price: str = ""
    speed: str = ""
    passes: int = 4
    build: str = ""
    heaviest: str = ""
    reach: str = ""
    ink_price: str = ""
    fee: str = ""
    parts: str = ""
    smell: str = ""


def common_jobs():
    """Return the kinds of job that are common, each as a dict of typical figures."""
    text = Path(__file__).with_name("common_jobs.yaml").read_text("utf-8")
    return {job["name"]: job for job in yaml.safe_load(text)}


def typed(text, unit):
    """Return a figure as it is written in a file: with a point and a unit.

    Raises
    ------
    Wrong
        Where a comma may part thousands or decimals.

    Examples
    --------
    >>> typed("20,5", "min"), typed("1,2..1,8 m", "m"), typed(" ", "kg")
    ('20.5 min', '1.2..1.8 m', '')
    """
    text = " ".join(str(text).split())
    if THOUSANDS.search(text):
        raise Wrong(
            f"{shown(text)} may be read in two ways",
            "thousands without a comma, such as 12900; decimals as 12,9 or 12.9",
        )
    text = COMMA.sub(".", text)
    bare = NUMBERS_ALONE.fullmatch(text.replace(" ", ""))
    return f"{bare[0]} {unit}".strip() if bare else text


def jobs_a_month(job):
    """Return the jobs a month of a kind as a range, from what is known of a year.

    At the least what is sold; at the most all that was asked for and hoped for.

    Examples
    --------
    >>> jobs_a_month(JobTold("wall", sold=6, asked=12, hoped=0))
    '0.5..1..1.5'
    >>> jobs_a_month(JobTold("wall", sold=12))
    '1'
    """
    likely = job.sold + OF_ASKED * job.asked + OF_HOPED * job.hoped
    ends = (job.sold, likely, job.sold + job.asked + job.hoped)
    told = [f"{end / 12:.3g}" for end in ends]
    return told[0] if len(set(told)) == 1 else "..".join(told)


def basis_of(job):
    """Return on what the number of jobs rests mostly: sold, enquiries or guess."""
    parts = {
        "sold": float(job.sold),
        "enquiries": OF_ASKED * job.asked,
        "guess": OF_HOPED * job.hoped,
    }
    return max(parts, key=parts.get) if any(parts.values()) else "guess"


def brief_text(case):
    """Return the text of a brief.

    Raises
    ------
    Wrong
        For what cannot be put into a file; the rest is found when it is read.
    """
    assumed, money = ASSUMED | case.assumed, case.currency
    told = {
        "title": "My case",
        "currency": money,
        "crew": {
            "people": case.people,
            "lift_limit": typed(case.lift, "kg") or "25 kg",
        },
        "working_time": {
            "hours_per_day": typed(assumed["hours_per_day"], "h"),
            "days_per_week": _number(case.days_per_week),
            "weeks_per_year": _number(assumed["weeks_per_year"]),
            "bookable_share": typed(assumed["bookable_share"], "%"),
        },
        "travel": {"cost_per_km": typed(assumed["cost_per_km"], f"{money}/km")},
        "money": {
            "cash": typed(case.cash, money) or f"0 {money}",
            "loan": typed(case.credit, money) or f"0 {money}",
            "discount_rate": typed(assumed["discount_rate"], "%"),
            "fixed_costs": typed(assumed["fixed_costs"], f"{money}/year"),
            "own_hour": typed(assumed["own_hour"], f"{money}/h"),
        },
        "work": [_job(job, money) for job in case.jobs],
        "owned": [
            {
                "machine": name,
                "age": _number(age) or 0,
                "resale": typed(resale, money) or f"0 {money}",
            }
            for name, age, resale in case.owned
        ],
    }
    return _text({key: _told(value) for key, value in told.items() if value})


def _number(text):
    """Return a bare number as a file has it; any other text as it is."""
    text = typed(text, "")
    return float(text) if re.fullmatch(r"-?\d+(\.\d+)?", text) else text


def _job(job, money):
    """Return a kind of job as a brief has it, typical where nothing is typed."""
    usual = common_jobs().get(job.name, {})
    width = job.width or usual.get("width", "")
    height = job.height or usual.get("height", "")
    price = job.price or usual.get("price", "")
    found = {
        "name": job.name,
        "per_month": jobs_a_month(job),
        "basis": basis_of(job),
        "width": typed(width, "m"),
        "height": typed(height, "m"),
        "passes": usual.get("passes", 4),
        "surface": usual.get("surface", "painted"),
        "odour_limit": usual.get("odour_limit", 3.5),
        "price": {"per_job": typed(price, money)},
        "distance": f"{usual.get('distance', 15)} km",
    }
    if usual.get("stairs"):
        found["stairs"] = usual["stairs"]
    return found


def leaflet_text(leaflet, currency):
    """Return the text of a machine sheet: what is told is quoted, the rest unknown.

    Raises
    ------
    Wrong
        As `brief_text`.
    """
    sheet = {
        "name": leaflet.name,
        "note": "from a leaflet",
        "price": _quoted(leaflet.price, currency),
        "speed": {leaflet.passes: _quoted(leaflet.speed, "m²/h")},
        "assembly_time": _quoted(leaflet.build, "min"),
        "pack_down_time": UNKNOWN,
        "prime_time": UNKNOWN,
        "move_time": UNKNOWN,
        "heaviest_lift": _quoted(leaflet.heaviest, "kg"),
        "odour": UNKNOWN,
        "subscription_fees": [{"name": "plan of the leaflet", "fee": UNKNOWN}],
    }
    if leaflet.reach:
        sheet["max_print_height"] = _quoted(leaflet.reach, "m")
    if leaflet.ink_price:
        sheet["ink"] = {"price": _quoted(leaflet.ink_price, f"{currency}/l")}
    if leaflet.fee:
        (plan,) = sheet["subscription_fees"]
        plan["fee"] = typed(leaflet.fee, f"{currency}/year")
    if leaflet.parts:
        sheet["support"] = {"parts_lead_time": _quoted(leaflet.parts, "day")}
    if leaflet.smell:
        smell = _number(leaflet.smell)
        sheet["odour"] = {"preparing": smell, "printing": smell}
    return _text(sheet)


def _quoted(text, unit):
    """Return a figure that a seller tells, or that nobody does."""
    told = typed(text, unit)
    return {"value": told, "basis": "quoted"} if told else UNKNOWN


def _told(value):
    """Return a mapping without what is not told."""
    if isinstance(value, dict):
        return {key: each for key, each in value.items() if each != ""}
    return value


def _text(told):
    return yaml.safe_dump(told, sort_keys=False, allow_unicode=True)
