"""What was timed, weighed, smelled, judged and heard → a machine sheet that says so."""

import re
from copy import deepcopy
from typing import NamedTuple

from scoring.errors import InputFaults, ScoringError, shown
from scoring.inputs.dimensions import (
    DAYS,
    INTENSITY,
    KILOGRAMS,
    LIFE_JOBS,
    LIFE_M2,
    METRES,
    MINUTES,
    RAIL,
    RATING,
    SHARE,
    Dimension,
)
from scoring.inputs.quantity import UNKNOWN, Wrong
from scoring.inputs.sheet_writer import rewritten
from scoring.inputs.yaml_lines import read_yaml

# Source: VDI 3882 Part 1 (1992), odour intensity: the seven steps, in plain wording.
INTENSITIES = (
    "not perceptible",
    "very weak",
    "weak",
    "distinct",
    "strong",
    "very strong",
    "extremely strong",
)
N_NOSES = 3
N_RUNS = 3
N_JUDGES = 3  # of sample boards, as on the printed sheet
N_OWNERS = 2
HEARD = "estimated"  # what an owner tells was not measured by the buyer
CLOCK = re.compile(r"(?:(\d{1,3}):)?(\d{1,4}):([0-5]\d(?:\.\d+)?)")
BARE = re.compile(r"-?\d+(?:[.,]\d+)?")


class Measured(NamedTuple):
    """A figure that a visit settles: its key, name, kind, units and repeats."""

    path: str
    what: str
    dimension: Dimension
    metric: str  # the unit of a bare number
    us: str
    n_runs: int = 1
    basis: str = "measured"


class Print(NamedTuple):
    """One picture, printed once or more in the same way."""

    passes: int
    width: str
    height: str
    times: tuple[str, ...]


TIMED = (
    Measured("assembly_time", "build", MINUTES, "min", "min", N_RUNS),
    Measured("pack_down_time", "pack-down", MINUTES, "min", "min", N_RUNS),
    Measured("prime_time", "purge, nozzle check and head gap", MINUTES, "min", "min"),
    Measured("move_time", "move to a second wall", MINUTES, "min", "min"),
    Measured("shift_time", "shift along the wall", MINUTES, "min", "min"),
)
TAKEN = (
    Measured("heaviest_lift", "heaviest piece", KILOGRAMS, "kg", "lb"),
    Measured("max_print_height", "highest it prints", METRES, "m", "ft"),
    Measured("lowest_print_height", "strip left at the floor", METRES, "mm", "in"),
    Measured("side_clearance", "strip left in a corner", METRES, "mm", "in"),
    Measured("head_gap", "widest gap that prints sharp", METRES, "mm", "in"),
    Measured("rail_length", "rail", RAIL, "m", "ft"),
)
SMELLED = (
    Measured("odour.preparing", "smell while preparing", INTENSITY, "", ""),
    Measured("odour.printing", "smell while printing", INTENSITY, "", ""),
)
JUDGED = (
    Measured("ratings.print_quality", "print quality", RATING, "", "", N_JUDGES),
    Measured("ratings.software_ease", "ease of the software", RATING, "", ""),
)
TOLD = tuple(
    Measured(path, what, dimension, metric, us, N_OWNERS, HEARD)
    for path, what, dimension, metric, us in (
        ("spoilt_share", "prints spoilt", SHARE, "%", "%"),
        ("reliability.jobs_between_stoppages", "jobs between stops", LIFE_JOBS, "", ""),
        ("reliability.days_down", "days down at each stop", DAYS, "day", "day"),
        ("wear.head_life", "a head lasts", LIFE_M2, "m²", "ft²"),
        ("wear.lamp_life", "a lamp lasts", LIFE_M2, "m²", "ft²"),
    )
)
BY_PATH = {figure.path: figure for figure in (*TIMED, *TAKEN, *SMELLED, *JUDGED, *TOLD)}


def with_unit(entry, unit):
    """Return what was typed, with a unit where it is a bare number.

    Examples
    --------
    >>> with_unit("24.5", "kg"), with_unit("52 lb", "kg"), with_unit("12:30", "min")
    ('24.5 kg', '52 lb', '12:30')
    """
    entry = str(entry).strip()
    return f"{entry} {unit}".strip() if BARE.fullmatch(entry) else entry


def clock(seconds):
    """Return a time as a stopwatch shows it.

    Examples
    --------
    >>> clock(754.4), clock(3661)
    ('12:34', '1:01:01')
    """
    minutes, rest = divmod(round(seconds), 60)
    hours, part = divmod(minutes, 60)
    return f"{hours}:{part:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def later_smells(after_hour, after_day):
    """Return in words how it smelled later, by all noses, "" where nobody told.

    Examples
    --------
    >>> later_smells([1, 3, 2], [0])
    'after an hour 1 to 3; after a day 0'
    """
    said = []
    for when, noses in (("an hour", after_hour), ("a day", after_day)):
        if noses:
            low, high = min(noses), max(noses)
            said.append(f"after {when} {low}" + (f" to {high}" if low < high else ""))
    return "; ".join(said)


def with_measured(machine_text, figures, prints=(), notes=None, as_of=""):
    """Return a machine sheet in which what was measured replaces what stood there.

    Repeats become lowest..mean..highest; one figure stands alone, and its basis tells
    how far it may be out. What owners tell counts as estimated. A new weight of the
    heaviest piece is also that of the heaviest of `pieces`. Comments stay where people
    wrote them.

    Parameters
    ----------
    machine_text : YAML of a sheet
    figures : {path: figures, one a repeat}
        Paths of BY_PATH; a number is in the path's internal unit, a text has a unit or,
        for times, may be minutes:seconds. Empty texts count as not typed.
    prints : Prints, each time of which becomes a timed print
    notes : {path: text}, optional
    as_of : ISO day, optional

    Raises
    ------
    ScoringError
        With every figure that cannot be read, a line each.
    InputFaults
        If the sheet itself is no YAML.
    """
    document, faults = read_yaml(machine_text.encode(), "sheet")
    if faults:
        raise InputFaults(faults)
    data, said = deepcopy(document.data), []
    for path, typed in figures.items():
        measured = BY_PATH.get(path)
        if measured is None:
            said.append(f"{path}: is not measured on a visit; one of {list(BY_PATH)}")
            continue
        values = _values(typed, measured.what, measured.dimension, said)
        if values:
            more = {"as_of": as_of, "note": (notes or {}).get(path, "")}
            put(data, path, _written(values, measured, more))
    tests = [test for print_ in prints for test in _tests(print_, as_of, said)]
    if said:
        raise ScoringError("\n".join(said))
    if tests:
        data["print_tests"] = [*(data.get("print_tests") or []), *tests]
    return rewritten(machine_text, document.data, data)


def _values(typed, what, dimension, said):
    """Return the figures of some repeats in internal units; faults go to `said`."""
    values = []
    for n, entry in enumerate(typed, start=1):
        if entry == "" or entry is None:
            continue
        run = f"{what}, no. {n}" if len(typed) > 1 else what
        try:
            values.append(_value(entry, dimension))
        except Wrong as wrong:
            said.append(f"{run}: {wrong}")
    return values


def _value(entry, dimension):
    """Return one figure in the internal unit; Wrong if it is none."""
    if not isinstance(entry, str):
        entry = f"{entry:.6f} {_unit(dimension)}".strip()
    timed = CLOCK.fullmatch(entry.strip())
    if timed and dimension.unit == "min":
        hours, minutes, seconds = (float(part or 0) for part in timed.groups())
        return 60 * hours + minutes + seconds / 60
    read = dimension.parse(entry, "measured")
    if read.is_unknown:
        raise Wrong(f"{shown(entry)} is not a figure", dimension.allowed)
    if read.is_range:
        raise Wrong(f"{shown(entry)} is a range", "one figure for each repeat")
    return read.likely


def _unit(dimension):
    """Return the unit that a figure is written with; none where it may be bare."""
    return "" if dimension.may_be_bare else dimension.unit


def _written(values, measured, more):
    """Return the long form of repeats; `more` is left out where it is empty."""
    low, high = min(values), max(values)
    mean = min(max(sum(values) / len(values), low), high)
    ends = [_digits(end) for end in (low, mean, high)]
    text = ends[1] if ends[0] == ends[2] else "..".join(ends)
    value = f"{text} {_unit(measured.dimension)}".strip()
    found = {"value": value, "basis": measured.basis}
    note = "; ".join(filter(None, [_taken(measured, len(values)), more["note"]]))
    return found | {k: v for k, v in (more | {"note": note}).items() if v}


def _taken(measured, n):
    """Return in words how a figure was come by."""
    if measured.basis == HEARD:
        return "told by one owner" if n == 1 else f"told by {n} owners"
    return f"taken {'once' if n == 1 else f'{n} times'} on a visit"


def _digits(value):
    return f"{value:.4f}".rstrip("0").rstrip(".")


def put(data, path, written):
    """Write one figure into the sheet's data."""
    first, _, rest = path.partition(".")
    if first == "heaviest_lift":
        _weigh(data.get("pieces"), written)
    if not rest:
        data[first] = written
        return
    held = data.get(first)
    told = held if isinstance(held, dict) else {}
    # A smell is told whole: what was not smelled on the visit stays as it was.
    smells = (figure.path.partition(".") for figure in SMELLED)
    needed = {rest for key, _, rest in smells if key == first}
    data[first] = {key: UNKNOWN for key in sorted(needed)} | told | {rest: written}


def _weigh(pieces, written):
    """Give the heaviest of the pieces the weight that a scale showed."""
    if not isinstance(pieces, list):
        return
    masses = []
    for piece in pieces:
        try:
            masses.append(KILOGRAMS.parse(piece["mass"]).likely)
        except (Wrong, KeyError, TypeError):
            return  # what is wrong with it, the reader of the sheet tells
    if masses and None not in masses:
        heaviest = max(range(len(masses)), key=masses.__getitem__)
        pieces[heaviest]["mass"] = dict(written)


def _tests(print_, as_of, said):
    """Return the timed prints of one Print, as a sheet has them."""
    times = _values(print_.times, "print", MINUTES, said)
    sides = {}
    if times:
        for key in ("width", "height"):
            entry, what = getattr(print_, key), f"{key} of the print"
            if not entry:
                said.append(f"{what}: is missing; {METRES.allowed}")
            for value in _values([entry], what, METRES, said):
                sides[key] = f"{_digits(value)} m"
    note = f"timed on a visit, {as_of}" if as_of else "timed on a visit"
    return [
        {"passes": print_.passes, **sides, "time": f"{_digits(t)} min", "note": note}
        for t in times
    ]
