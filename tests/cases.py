"""Small machines and briefs, invented, for tests of the whole evaluation; the demo's.

What is read is frozen, so each text is read once in a process.
"""

from functools import cache, lru_cache
from pathlib import Path

from scoring import evaluate
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import load_machines, read_machine

PROFILES = Path(__file__).parents[1] / "profiles"

# The small brief takes every figure of a sheet at its word (`trust`), so that what to
# expect is what stands here and a hand can follow it.
MACHINE = """\
name: {name}
price: {price} EUR
landed_cost: {{freight: 0 EUR, insurance: 0 EUR, duty: 0 %, import_tax: 0 %,
  training: 0 EUR, accessories: 0 EUR, export_clearance: 0 EUR, broker: 0 EUR,
  inland_freight: 0 EUR, vehicle_fitting: 0 EUR}}
resale: 0 EUR
upkeep: 0 EUR/year
speed: {{{speed}}}
assembly_time: {assembly} min
pack_down_time: {pack_down} min
prime_time: {prime} min
move_time: {move} min
shift_time: {shift} min
{rail}heaviest_lift: {lift} kg
odour: {{preparing: 1, printing: {odour}}}
ink: {{colour: 0 ml/m², price: 0 EUR/l, purge: 0 ml, idle_care: 0 ml,
  idle_every: 7 day, smallest_order: 0 ml, shelf_life: 100}}
wear: {{head_price: 0 EUR, head_life: 100 m², head_months: 100, lamp_price: 0 EUR,
  lamp_life: 100 m², lamp_months: 100}}
max_print_height: 100 m
lowest_print_height: 0 m
side_clearance: 0 m
head_gap: 1 m
pieces: [{{name: all, mass: {lift} kg, wheels: true}}]
spoilt_share: 0 %
subscription_fees: [{{name: No plan, fee: 0 EUR/year}}]
reliability: {{jobs_between_stoppages: 100, days_down: 0 day}}
support: {{response: {response} day, parts_lead_time: 1 day}}
ratings: {{print_quality: {quality}, software_ease: 3}}
{more}"""
FIGURES = {
    "name": "Alder",
    "price": 10000,
    "speed": "4: 4 m²/h",
    "assembly": 20,
    "pack_down": 15,
    "prime": 10,
    "move": 12,
    "shift": 6,
    "rail": "",
    "lift": 20,
    "odour": 2,
    "response": 1,
    "quality": 3,
    "more": "",
}
BRIEF = """\
title: An invented studio
currency: EUR
demand: 1
crew: {{people: {people}, lift_limit: 25 kg{crew}}}
working_time: {{hours_per_day: 8 h, days_per_week: 5, weeks_per_year: 48,
  bookable_share: 50 %, day_margin: 0 %}}
travel: {{speed: 60 km/h, cost_per_km: 0 EUR/km, loading: 0 min,
  loading_per_100kg: 0 min}}
money: {{cash: {cash} EUR, discount_rate: 0 %, fixed_costs: 0 EUR/year,
  alike_rigs_save: 15 %}}
{limits}trust: {{estimated: {{time: {closed}, speed: {closed}, life: {closed},
  ink: {closed}, mass: {closed}, price: {closed}, length: {closed}, share: {closed},
  number: {closed}, rating: {closed}}}}}
work:
{jobs}{more}"""
CLOSED = "[0, 0, 0]"
JOB = """\
  - name: {name}
    per_month: {per_month}
    walls: {walls}
    width: {width} m
    height: {height} m
    passes: {passes}
    price: {{per_job: {price} EUR}}
    measure_mask_time: 30 min
    closing_time: 10 min
    arrival_time: 0 min
    off_site_time: 0 h
    carry: 0 min
    overnight: {overnight}
{more}"""
WORK = {
    "name": "wall",
    "per_month": 4,
    "walls": 1,
    "width": 4,
    "height": 2,
    "passes": 4,
    "price": 500,
    "overnight": "true",
    "more": "",
}


def machine(*edits, **figures):
    """Return a small Machine with some figures, or (old, new) texts, changed."""
    text = edited(MACHINE.format(**{**FIGURES, **figures}), edits)
    return _read(f"{figures.get('name', 'Alder')[:40]}.yaml", text)


@lru_cache(maxsize=256)  # generated cases seldom come back: not all are kept
def _read(name, text):
    return read_machine((name, text.encode()))


@cache
def demo_machines():
    """Return the machines of the demo."""
    return load_machines(PROFILES / "machines")


@cache
def demo(name):
    """Return the Evaluation of a brief of the demo, such as "workshop"."""
    brief_file = PROFILES / "briefs" / f"{name}.yaml"
    return evaluate(load_brief(brief_file), demo_machines())


def job(**figures):
    """Return the YAML of a kind of job."""
    told = {**WORK, **figures}
    n_jobs = told["per_month"]
    if not isinstance(n_jobs, str):  # exactly so many
        told["per_month"] = f"{n_jobs}..{n_jobs}"
    return JOB.format(**told)


def edited(text, edits):
    """Return the text with each (old, new) changed; each old stands there once."""
    for old, new in edits:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def brief(*jobs, **told):
    """Return the small Brief of `brief_text`."""
    return load_brief(("brief.yaml", brief_text(*jobs, **told).encode()))


def brief_text(
    *jobs,
    edits=(),
    people=1,
    crew="",
    cash=100000,
    limits="",
    more="",
    closed=CLOSED,
):
    """Return the YAML of a small Brief; without kinds of job it has one.

    `closed` is the spread of a sheet's estimated figures, (low, likely, high) shares.
    """
    text = BRIEF.format(
        people=people,
        crew=crew,
        cash=cash,
        limits=f"limits: {{{limits}}}\n" if limits else "",
        jobs="".join(jobs) or job(),
        closed=closed,
        more=more,
    )
    return edited(text, edits)
