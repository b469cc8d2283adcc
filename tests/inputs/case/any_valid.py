"""Strategies: any brief and any machine sheet that are valid, built from the records.

A valid one is begun with; then values are drawn for some of all the fields that records
declare, and each that the readers take stays.
"""

from hypothesis import strategies as st

from scoring.decision.criteria import STANDARD
from scoring.errors import ScoringError
from scoring.inputs.brief import AIDS, Aid, Band, Brief, JobType, Owned
from scoring.inputs.case import fields as kinds
from scoring.inputs.case.edit import at, data_of
from scoring.inputs.case.fields import fields_of
from scoring.inputs.case.judging import SPREAD, criterion_fields, spread_field
from scoring.inputs.case.record import with_brief, with_sheet
from scoring.inputs.case.typed import unit_of
from scoring.inputs.machine import Machine, Piece, PrintTest, YearlyPlan
from scoring.inputs.quantity import BASES, UNKNOWN

FILES = ("artwork", "leads")  # name files that a case would have to hold
WORDS = st.text(
    st.characters(categories=("Lu", "Ll", "Lo", "Nd")), min_size=1, max_size=12
)
BASIS = st.sampled_from([basis for basis in BASES if basis != UNKNOWN])


def values(field, currency="EUR"):
    """Return a strategy of what a file may hold in a field, most of it valid."""
    if field.kind == kinds.FIGURE:
        return figures(field.dimension, currency)
    return {
        kinds.CHOICE: st.sampled_from(field.choices or ("",)),
        kinds.YES_NO: st.booleans(),
        kinds.WHOLE: st.integers(1, 12),
        kinds.NAMES: st.lists(WORDS, min_size=1, max_size=3, unique=True),
        kinds.NUMBERS: numbers(2 if field.path.startswith("scale.") else 12),
        kinds.NUMBER: st.floats(0, 1).map(lambda x: round(x, 6)),
        kinds.CHANGES: st.lists(st.integers(-99, 900), min_size=3, max_size=3).map(
            lambda ends: [f"{end} %" for end in sorted(ends)]
        ),
    }.get(field.kind, WORDS)


def numbers(n):
    """Return a strategy of so many numbers, some below 0 and some with a part."""
    whole = st.integers(-3, 3) if n == 2 else st.integers(0, 3)
    return st.lists(st.one_of(whole, st.just(1.5)), min_size=n, max_size=n)


@st.composite
def figures(draw, dimension, currency):
    """Draw a figure: one number or a range, short or with basis, day and note."""
    low, high = dimension.bounds
    low, high = max(low, -1e3), min(high, 1e4)
    shares = draw(st.lists(st.integers(0, 1000), min_size=1, max_size=3))
    ends = sorted(low + (high - low) * share / 1000 for share in shares)
    text = "..".join(f"{end:.5g}" for end in ends)
    if dimension.unit == "share":
        text = "..".join(f"{100 * end:.5g}" for end in ends)
    text = f"{text} {unit_of(dimension, currency)}".strip()
    if draw(st.booleans()):
        return text
    told = {"value": text, "basis": draw(BASIS), "note": draw(WORDS)}
    return told | draw(st.sampled_from([{}, {"as_of": "2026-11-20"}]))


def judging():
    """Return the FormFields of how machines are judged, of some criteria and bases."""
    found = [spread_field(basis, kind) for basis in SPREAD for kind in ("time", "life")]
    for criterion in STANDARD[:3]:
        found += criterion_fields(criterion.id, is_own=False)
    return tuple(found)


def brief_places(data):
    """Return [(where a record stands, its FormFields)] of a brief, as in forms."""
    found = [("", fields_of(Brief)), ("", judging())]
    for j, job in enumerate(data["work"]):
        found.append((f"work.{j}.", fields_of(JobType)))
        bands = at(job, "price.bands", [])
        found += [
            (f"work.{j}.price.bands.{n}.", fields_of(Band)) for n, _ in enumerate(bands)
        ]
    found += [(f"owned.{n}.", fields_of(Owned)) for n, _ in enumerate(data["owned"])]
    found += [(f"crew.aids.{name}.", fields_of(Aid)) for name in data["crew"]["aids"]]
    return found


def sheet_places(data):
    """Return the same of a machine sheet."""
    lists = {"print_tests": PrintTest, "pieces": Piece}
    lists["subscription_fees"] = YearlyPlan
    found = [("", fields_of(Machine))]
    for key, model in lists.items():
        found += [
            (f"{key}.{n}.", fields_of(model)) for n, _ in enumerate(data.get(key, []))
        ]
    return found


@st.composite
def cases(draw, begun, n_changes=12):
    """Draw a Case that is valid, from one that is; its sheet is `alder.yaml`."""
    case = begun
    aid, up_to = draw(st.sampled_from(AIDS)), draw(st.integers(1, 50))
    case = with_brief(
        case,
        {
            f"crew.aids.{aid}": {"price": "300 EUR", "minutes_per_job": "5 min"},
            "owned": [
                {"machine": data_of(case.sheets["alder.yaml"])["name"], "age": 2}
            ],
        },
    )
    if draw(st.booleans()):
        bands = [
            {"up_to": f"{up_to} m²", "per_m2": "90 EUR/m²"},
            {"per_m2": "70 EUR/m²"},
        ]
        case = with_brief(case, {"work.0.price.bands": bands})
    for _ in range(draw(st.integers(1, n_changes))):
        is_brief = draw(st.booleans())
        text = case.brief if is_brief else case.sheets["alder.yaml"]
        data = data_of(text)
        places = brief_places(data) if is_brief else sheet_places(data)
        path, fields = draw(st.sampled_from(places))
        field = draw(st.sampled_from([f for f in fields if f.path not in FILES]))
        change = {f"{path}{field.path}": draw(values(field))}
        try:
            if is_brief:
                case = with_brief(case, change)
            else:
                case = with_sheet(case, "alder.yaml", change)
        except ScoringError:
            continue  # what no file may hold
    return case
