"""A machine sheet: the YAML file of one machine → Machine."""

from dataclasses import replace
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from scoring.errors import InputFault, InputFaults, ScoringError
from scoring.inputs import fields as f
from scoring.inputs import quantities as q
from scoring.inputs.fields import Record, Sheet, told_or_unknown, unknown
from scoring.inputs.files import load
from scoring.inputs.quantities import Wrong
from scoring.inputs.trials import PRINT_TEST, fit_carriage, tested_speeds

SUFFIXES = (".yaml", ".yml")
WHITE_TIME = {"same_sweep": "1", "separate_run": "2"}  # own estimate, no source


class _OrUnknown:
    """Tells the JSON Schema that `unknown` may stand for a sub-record."""

    def __get_pydantic_json_schema__(self, schema, handler):
        return {"anyOf": [{"const": q.UNKNOWN}, handler(schema)]}


def _or_unknown(model):
    """Return the field type of a sub-record for which `unknown` may stand."""

    def read(written):
        return told_or_unknown(written, model)

    return Annotated[model, BeforeValidator(read), _OrUnknown()]


class PrintTest(Record):
    """One timed print."""

    passes: f.Passes
    width: f.Metres
    height: f.Metres
    time: f.Minutes
    direction: Literal["both", "one"] = "both"
    note: f.Text = ""


class Odour(Record):
    """Intensity 0 (not perceptible) to 6 (extremely strong), after VDI 3882-1."""

    preparing: f.Intensity
    printing: f.Intensity


class Plan(Record):
    """A yearly plan: its fee and the features that it unlocks."""

    name: f.Name
    fee: f.MoneyPerYear
    unlocks: tuple[f.Feature, ...] = ()
    note: f.Text = ""


class Carriage(Record):
    """How the head sweeps the wall; timed prints may tell speed and turnaround."""

    strip_width: f.StripWidth
    head_speed: f.MetresPerSecond = None
    turnaround: f.Minutes = None


class LandedCost(Record):
    """What comes on top of the price until the machine can work."""

    terms: Literal["EXW", "FCA", "FOB", "CIF", "DAP", "DDP"] | None = None
    export_clearance: f.Money = None
    freight: f.Money = unknown(q.MONEY)
    insurance: f.Money = unknown(q.MONEY)
    duty: f.Share = unknown(q.SHARE)
    import_tax: f.Share = unknown(q.SHARE)
    broker: f.Money = None
    inland_freight: f.Money = None
    vehicle_fitting: f.Money = None
    training: f.Money = unknown(q.MONEY)
    accessories: f.Money = unknown(q.MONEY)


class Ink(Record):
    """What the machine drinks."""

    colour: f.InkUse = unknown(q.INK_USE)
    white: f.InkUse = None
    price: f.MoneyPerLitre = unknown(q.MONEY_PER_LITRE)
    white_price: f.MoneyPerLitre = None
    purge: f.Millilitres = unknown(q.MILLILITRES)
    idle_care: f.Millilitres = unknown(q.MILLILITRES)
    idle_every: f.IdleDays = unknown(q.IDLE_DAYS)
    smallest_order: f.Millilitres = None
    shelf_life: f.LifeMonths = None
    sold_by_others: f.YesNo = None


class White(Record):
    """Whether white goes under the picture, and how much longer that takes."""

    mode: Literal["none", "same_sweep", "separate_run"] = "none"
    time_factor: f.Number = None


class Wear(Record):
    """Heads and lamps: price, life by area printed and by age."""

    head_price: f.Money = unknown(q.MONEY)
    head_life: f.LifeArea = unknown(q.LIFE_M2)
    head_months: f.LifeMonths = None
    lamp_price: f.Money = unknown(q.MONEY)
    lamp_life: f.LifeArea = unknown(q.LIFE_M2)
    lamp_months: f.LifeMonths = None


class EffectFields(Record):
    """The fields that a feature may replace while it is in use."""

    assembly_time: f.Minutes = None
    pack_down_time: f.Minutes = None
    prime_time: f.Minutes = None
    move_time: f.Minutes = None
    shift_time: f.Minutes = None
    spoilt_share: f.Share = None


def _given(effect):
    return {name: getattr(effect, name) for name in sorted(effect.model_fields_set)}


class Piece(Record):
    """One piece that is carried."""

    name: f.Name
    mass: f.Kilograms
    longest_side: f.Metres = None
    wheels: f.StrictBool = False


class Reliability(Record):
    """How often the machine stands still, and for how long."""

    jobs_between_stoppages: f.LifeJobs = unknown(q.LIFE_JOBS)
    days_down: f.Days = unknown(q.DAYS)


class Support(Record):
    """What happens when it stands still, and what the buyer is tied to."""

    response: f.Days = unknown(q.DAYS)
    parts_lead_time: f.Days = unknown(q.DAYS)
    head_lead_time: f.Days = None
    warranty: f.Number = None
    owner_may_swap_heads: f.YesNo = None
    prints_if_fee_lapses: f.YesNo = None
    licence_transfers: f.YesNo = None
    in_your_hours: f.YesNo = None
    in_your_language: f.YesNo = None


class Vehicle(Record):
    """What the machine asks of the vehicle."""

    longest_piece: f.Metres = None
    volume: f.CubicMetres = None
    mass: f.Kilograms = None


class Machine(Sheet):
    """One machine, as its sheet tells it; figures that nobody tells are unknown."""

    name: f.Name = Field(description="the machine's name")
    note: f.Text = ""
    built_by: f.Text = ""
    builds_before: Annotated[f.StrictInt, Field(ge=0, le=10_000)] | None = None
    price: f.Money
    landed_cost: _or_unknown(LandedCost) = Field(default_factory=LandedCost)
    resale: f.Money = unknown(q.MONEY)
    upkeep: f.MoneyPerYear = unknown(q.MONEY_PER_YEAR)
    speed: dict[f.PassMode, f.AreaSpeed] = {}
    print_tests: tuple[PrintTest, ...] = ()
    pass_modes: tuple[f.Passes, ...] | None = None
    assembly_time: f.Minutes
    pack_down_time: f.Minutes
    prime_time: f.Minutes
    move_time: f.Minutes
    shift_time: f.Minutes = None
    carriage: Carriage = None
    rail_length: f.RailLength = None
    heaviest_lift: f.Kilograms
    pieces: tuple[Piece, ...] = ()
    vehicle: Vehicle = None
    odour: _or_unknown(Odour) = Field(
        description="preparing and printing, each 0 to 6 after VDI 3882-1"
    )
    ink: _or_unknown(Ink) = Field(default_factory=Ink)
    white: White = Field(default_factory=White)
    wear: _or_unknown(Wear) = Field(default_factory=Wear)
    spoilt_share: f.Share = unknown(q.SHARE)
    max_print_height: f.Metres = None
    lowest_print_height: f.Metres = None
    side_clearance: f.Metres = None
    head_gap: f.Metres = None
    surfaces: tuple[f.Name, ...] | None = None
    features: tuple[f.Feature, ...] = ()
    effects: dict[f.Feature, Annotated[EffectFields, AfterValidator(_given)]] = {}
    subscription_fees: Annotated[tuple[Plan, ...], Field(min_length=1)] = Field(
        description="one plan or more, each with name and fee; 0 EUR/year if free"
    )
    reliability: _or_unknown(Reliability) = Field(default_factory=Reliability)
    support: _or_unknown(Support) = Field(default_factory=Support)
    power: f.Watts = None
    noise: f.Decibels = None
    ratings: dict[f.Feature, f.Rating] = {}

    def model_post_init(self, context):
        """Settle what follows from what: the carriage, white ink and its time."""
        super().model_post_init(context)
        if self.carriage is not None and not _told(self.carriage):
            self._settle("carriage", _fitted(self.carriage, self.print_tests))
        if self.white.mode == "none":
            return
        if self.ink.white is None:
            self._settle(
                "ink", self.ink.model_copy(update={"white": q.INK_USE.unknown})
            )
        if self.white.time_factor is None:
            factor = q.NUMBER.parse(WHITE_TIME[self.white.mode])
            self._settle("white", self.white.model_copy(update={"time_factor": factor}))

    def _settle(self, name, value):
        object.__setattr__(self, name, value)

    def speeds(self):
        """Return {pass mode: (Quantity, origin)} of every mode offered.

        Timed prints win over what is stated; a mode without either is inferred from the
        nearest one by speed ∝ 1/passes.
        """
        stated = {passes: (speed, "stated") for passes, speed in self.speed.items()}
        tested = {
            passes: (speed, PRINT_TEST)
            for passes, speed in tested_speeds(self.print_tests).items()
        }
        known = stated | tested
        offered = self.pass_modes or sorted(known)
        return {
            passes: known[passes] if passes in known else _inferred(passes, known)
            for passes in offered
        }


def _told(carriage):
    """Return which of the two figures of the carriage's motion are there."""
    names = ("head_speed", "turnaround")
    return [name for name in names if getattr(carriage, name) is not None]


def _fitted(carriage, tests):
    """Return the Carriage with what timed prints tell, None where they tell nothing.

    Without it, printing goes by the area rate.
    """
    if carriage.strip_width.is_unknown:
        return None
    fit = fit_carriage(tests, carriage.strip_width.likely)
    if fit is None:
        return None
    n = f"from {len(tests)} timed prints"
    speed, turn = fit.head_speed / 60, fit.turnaround
    return carriage.model_copy(
        update={
            "head_speed": _measured(q.METRES_PER_SECOND, speed, f"{speed:.2f} m/s {n}"),
            "turnaround": _measured(q.MINUTES, turn, f"{60 * turn:.1f} s {n}"),
        }
    )


def _measured(dimension, value, text):
    unit, kind, bounds = dimension.unit, dimension.kind, dimension.bounds
    return q.Quantity(value, value, value, unit, kind, "measured", bounds, text)


def _inferred(passes, known):
    """Return (Quantity, origin) by speed ∝ 1/passes from the nearest known mode."""
    nearest = min(known, key=lambda other: (abs(other - passes), other))
    speed = known[nearest][0]
    if speed.is_unknown:
        return speed, "stated"
    factor = nearest / passes
    ends = {end: getattr(speed, end) * factor for end in ("low", "likely", "high")}
    text = f"{speed.text} × {nearest}/{passes}"
    return replace(speed, **ends, text=text), f"inferred from {nearest}-pass"


def load_machines(source):
    """Return the machines of a folder, or of some files, sorted by name.

    Raises
    ------
    InputFaults
        With every fault of all files; two machines with one name are a fault.
    ScoringError
        If there is no machine sheet.
    """
    paths = sheets_in(source) if isinstance(source, str | Path) else list(source)
    if not paths:
        raise ScoringError(f"{source}: no machine sheet (*.yaml) in this folder")
    machines, faults = [], []
    for path in paths:
        try:
            machines.append(read_machine(path))
        except InputFaults as found:
            faults += found.faults
    faults += same_names(machines)
    if faults:
        raise InputFaults(faults)
    return tuple(sorted(machines, key=lambda machine: machine.name))


def sheets_in(folder):
    """Return the YAML files of a folder in order; a file stands for itself."""
    folder = Path(folder)
    if folder.is_file():
        return [folder]
    if not folder.is_dir():
        raise ScoringError(f"{folder}: there is no such folder")
    return sorted(path for path in folder.iterdir() if path.suffix in SUFFIXES)


def same_names(machines):
    """Return a fault for each machine whose name another one has before it."""
    first, faults = {}, []
    for machine in machines:
        if machine.name in first:
            what = f"{q.shown(machine.name)} is the name of {first[machine.name]} too"
            line = machine.line_of("name")
            faults.append(
                InputFault(machine.source, line, "name", what, "a name of its own")
            )
        first.setdefault(machine.name, machine.source)
    return faults


def read_machine(source):
    """Return the Machine of a path, or of (name, bytes), or raise InputFaults."""
    machine, document = load(Machine, source, cross_check=_cross_check)
    return machine.keep(document)


def _cross_check(machine):
    """Return [(path, Wrong)] of what several fields say together."""
    return [
        *_speed_check(machine),
        *_carriage_check(machine),
        *_pieces_check(machine),
        *_effects_check(machine),
        *_plans_check(machine),
    ]


def _speed_check(machine):
    if not machine.speed and not machine.print_tests:
        allowed = "at least one pass mode with its speed, such as 4: 1.7 m²/h"
        key, what = ("speed",), "is missing"
        if "speed" in machine.model_fields_set:
            what = "is an empty table"
        elif "print_tests" in machine.model_fields_set:
            key, what, allowed = ("print_tests",), "is empty", "a timed print or speed"
        return [(key, Wrong(what, allowed))]
    return [
        (("print_tests", k, key), Wrong("is 0 or unknown", "a figure above 0"))
        for k, test in enumerate(machine.print_tests)
        for key in ("width", "height", "time")
        if not (getattr(test, key).low or 0) > 0
    ]


def _carriage_check(machine):
    if machine.carriage is None or len(_told(machine.carriage)) != 1:
        return []
    allowed = "both of head_speed and turnaround, or neither"
    (other,) = {"head_speed", "turnaround"} - set(_told(machine.carriage))
    return [(("carriage", other), Wrong("is missing", allowed))]


def _pieces_check(machine):
    masses = [piece.mass for piece in machine.pieces]
    known = [mass.likely for mass in masses if not mass.is_unknown]
    lift = machine.heaviest_lift
    if lift.is_unknown or not known or len(known) < len(masses):
        return []
    if abs(lift.likely - max(known)) <= 0.01 * max(known):
        return []
    what = f"{lift.text!r}, but the heaviest of pieces weighs {max(known):g} kg"
    return [(("heaviest_lift",), Wrong(what, "the same in both"))]


def _effects_check(machine):
    had = set(machine.features).union(*(p.unlocks for p in machine.subscription_fees))
    return [
        (
            ("effects", feature),
            Wrong(
                f"no plan unlocks {feature!r} and it is not built in"
                + q.nearest(feature, had),
                "a feature of features or of a plan's unlocks",
            ),
        )
        for feature in machine.effects
        if feature not in had
    ]


def _plans_check(machine):
    names = [plan.name for plan in machine.subscription_fees]
    return [
        (("subscription_fees", k, "name"), Wrong(f"{name!r} twice", "each plan once"))
        for k, name in enumerate(names)
        if name in names[:k]
    ]
