"""A machine sheet: the YAML file of one machine → Machine."""

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from scoring.inputs import kinds
from scoring.inputs.carriage import fit_carriage
from scoring.inputs.dimensions import (
    DAYS,
    IDLE_DAYS,
    INK_USE,
    LIFE_JOBS,
    LIFE_M2,
    METRES_PER_SECOND,
    MILLILITRES,
    MINUTES,
    MONEY,
    MONEY_PER_LITRE,
    MONEY_PER_YEAR,
    NUMBER,
    SHARE,
)
from scoring.inputs.kinds import told_or_unknown, unknown
from scoring.inputs.print_tests import PRINT_TEST, tested_speeds
from scoring.inputs.quantity import UNKNOWN, Quantity
from scoring.inputs.records import Record, Sheet

WHITE_TIME = {"same_sweep": "1", "separate_run": "2"}  # own estimate, no source


class _OrUnknown:
    """Tells the JSON Schema that `unknown` may stand for a sub-record."""

    def __get_pydantic_json_schema__(self, schema, handler):
        return {"anyOf": [{"const": UNKNOWN}, handler(schema)]}


def _or_unknown(model):
    """Return the field type of a sub-record for which `unknown` may stand."""

    def read(written):
        return told_or_unknown(written, model)

    return Annotated[model, BeforeValidator(read), _OrUnknown()]


class PrintTest(Record):
    """One timed print."""

    passes: kinds.Passes
    width: kinds.Metres
    height: kinds.Metres
    time: kinds.Minutes
    direction: Literal["both", "one"] = "both"
    note: kinds.Text = ""


class Odour(Record):
    """Intensity 0 (not perceptible) to 6 (extremely strong), after VDI 3882-1."""

    preparing: kinds.Intensity
    printing: kinds.Intensity


class YearlyPlan(Record):
    """A maker's plan: its yearly fee and the features that it unlocks."""

    name: kinds.Name
    fee: kinds.MoneyPerYear
    unlocks: tuple[kinds.Feature, ...] = ()
    note: kinds.Text = ""


class Carriage(Record):
    """How the head sweeps the wall; timed prints may tell speed and turnaround."""

    strip_width: kinds.StripWidth
    head_speed: kinds.MetresPerSecond = None
    turnaround: kinds.Minutes = None


class LandedCost(Record):
    """What comes on top of the price until the machine can work."""

    terms: Literal["EXW", "FCA", "FOB", "CIF", "DAP", "DDP"] | None = None
    export_clearance: kinds.Money = None
    freight: kinds.Money = unknown(MONEY)
    insurance: kinds.Money = unknown(MONEY)
    duty: kinds.Share = unknown(SHARE)
    import_tax: kinds.Share = unknown(SHARE)
    broker: kinds.Money = None
    inland_freight: kinds.Money = None
    vehicle_fitting: kinds.Money = None
    training: kinds.Money = unknown(MONEY)
    accessories: kinds.Money = unknown(MONEY)


class Ink(Record):
    """What the machine drinks."""

    colour: kinds.InkUse = unknown(INK_USE)
    white: kinds.InkUse = None
    price: kinds.MoneyPerLitre = unknown(MONEY_PER_LITRE)
    white_price: kinds.MoneyPerLitre = None
    purge: kinds.Millilitres = unknown(MILLILITRES)
    idle_care: kinds.Millilitres = unknown(MILLILITRES)
    idle_every: kinds.IdleDays = unknown(IDLE_DAYS)
    smallest_order: kinds.Millilitres = None
    shelf_life: kinds.LifeMonths = None
    sold_by_others: kinds.YesNo = None


class White(Record):
    """Whether white goes under the picture, and how much longer that takes."""

    mode: Literal["none", "same_sweep", "separate_run"] = "none"
    time_factor: kinds.Number = None


class Wear(Record):
    """Heads and lamps: price, life by area printed and by age."""

    head_price: kinds.Money = unknown(MONEY)
    head_life: kinds.LifeArea = unknown(LIFE_M2)
    head_months: kinds.LifeMonths = None
    lamp_price: kinds.Money = unknown(MONEY)
    lamp_life: kinds.LifeArea = unknown(LIFE_M2)
    lamp_months: kinds.LifeMonths = None


class EffectFields(Record):
    """The fields that a feature may replace while it is in use."""

    assembly_time: kinds.Minutes = None
    pack_down_time: kinds.Minutes = None
    prime_time: kinds.Minutes = None
    move_time: kinds.Minutes = None
    shift_time: kinds.Minutes = None
    spoilt_share: kinds.Share = None


def _given(effect):
    return {name: getattr(effect, name) for name in sorted(effect.model_fields_set)}


class SurfaceNeeds(Record):
    """What a surface needs besides the print, before it or on top."""

    primer: kinds.TimePerM2 = None
    varnish: kinds.TimePerM2 = None
    cost: kinds.MoneyPerM2 = None
    drying: kinds.Minutes = None


READY = "ready"


def _by_surface(told):
    """Return a list of surfaces as a mapping from each to what it needs: nothing."""
    if isinstance(told, list | tuple) and all(isinstance(one, str) for one in told):
        return {name: {} for name in told}
    if isinstance(told, dict):
        return {name: {} if of == READY else of for name, of in told.items()}
    return told


class Piece(Record):
    """One piece that is carried."""

    name: kinds.Name
    mass: kinds.Kilograms
    longest_side: kinds.Metres = None
    wheels: kinds.StrictBool = False


class Reliability(Record):
    """How often the machine stands still, and for how long."""

    jobs_between_stoppages: kinds.LifeJobs = unknown(LIFE_JOBS)
    days_down: kinds.Days = unknown(DAYS)


class Support(Record):
    """What happens when it stands still, and what the buyer is tied to."""

    response: kinds.Days = unknown(DAYS)
    parts_lead_time: kinds.Days = unknown(DAYS)
    head_lead_time: kinds.Days = None
    warranty: kinds.Number = None
    owner_may_swap_heads: kinds.YesNo = None
    prints_if_fee_lapses: kinds.YesNo = None
    licence_transfers: kinds.YesNo = None
    in_your_hours: kinds.YesNo = None
    in_your_language: kinds.YesNo = None


class Vehicle(Record):
    """What the machine asks of the vehicle."""

    longest_piece: kinds.Metres = None
    volume: kinds.CubicMetres = None
    mass: kinds.Kilograms = None


class Machine(Sheet):
    """One machine, as its sheet tells it; figures that nobody tells are unknown."""

    name: kinds.Name = Field(description="the machine's name")
    note: kinds.Text = ""
    built_by: kinds.Text = ""
    builds_before: Annotated[kinds.StrictInt, Field(ge=0, le=10_000)] | None = None
    price: kinds.Money
    landed_cost: _or_unknown(LandedCost) = Field(default_factory=LandedCost)
    resale: kinds.Money = unknown(MONEY)
    upkeep: kinds.MoneyPerYear = unknown(MONEY_PER_YEAR)
    speed: Annotated[
        dict[kinds.PassMode, kinds.AreaSpeed], kinds.up_to(20, "pass modes")
    ] = {}
    print_tests: Annotated[tuple[PrintTest, ...], kinds.up_to(100, "timed prints")] = ()
    pass_modes: Annotated[
        tuple[kinds.Passes, ...] | None, kinds.up_to(20, "pass modes")
    ] = None
    assembly_time: kinds.Minutes
    pack_down_time: kinds.Minutes
    prime_time: kinds.Minutes
    move_time: kinds.Minutes
    shift_time: kinds.Minutes = None
    carriage: Carriage = None
    rail_length: kinds.RailLength = None
    heaviest_lift: kinds.Kilograms
    pieces: Annotated[tuple[Piece, ...], kinds.up_to(50, "pieces")] = ()
    vehicle: Vehicle = None
    odour: _or_unknown(Odour) = Field(
        description="preparing and printing, each 0 to 6 after VDI 3882-1"
    )
    ink: _or_unknown(Ink) = Field(default_factory=Ink)
    white: White = Field(default_factory=White)
    wear: _or_unknown(Wear) = Field(default_factory=Wear)
    spoilt_share: kinds.Share = unknown(SHARE)
    max_print_height: kinds.Metres = None
    lowest_print_height: kinds.Metres = None
    side_clearance: kinds.Metres = None
    head_gap: kinds.Metres = None
    surfaces: Annotated[
        dict[kinds.Name, Annotated[SurfaceNeeds, AfterValidator(_given)]],
        BeforeValidator(
            _by_surface,
            json_schema_input_type=tuple[kinds.Name, ...]
            | dict[kinds.Name, Literal[READY] | SurfaceNeeds],
        ),
        kinds.up_to(50, "surfaces"),
    ] = None
    features: tuple[kinds.Feature, ...] = ()
    effects: Annotated[
        dict[kinds.Feature, Annotated[EffectFields, AfterValidator(_given)]],
        kinds.up_to(50, "features"),
    ] = {}
    subscription_fees: Annotated[
        tuple[YearlyPlan, ...], Field(min_length=1, max_length=20)
    ] = Field(description="1 to 20 plans, each with name and fee; 0 EUR/year if free")
    reliability: _or_unknown(Reliability) = Field(default_factory=Reliability)
    support: _or_unknown(Support) = Field(default_factory=Support)
    power: kinds.Watts = None
    noise: kinds.Decibels = None
    ratings: Annotated[
        dict[kinds.Feature, kinds.Rating], kinds.up_to(50, "ratings")
    ] = {}

    def model_post_init(self, context):
        """Settle what follows from what: the carriage, white ink and its time."""
        super().model_post_init(context)
        if self.carriage is not None and not motion_told(self.carriage):
            self._settle("carriage", _fitted(self.carriage, self.print_tests))
        elif self.carriage is not None and not _is_known(self.carriage):
            self._settle("carriage", None)  # printing goes by the area rate
        if self.white.mode == "none":
            return
        if self.ink.white is None:
            self._settle("ink", self.ink.model_copy(update={"white": INK_USE.unknown}))
        if self.white.time_factor is None:
            factor = NUMBER.parse(WHITE_TIME[self.white.mode])
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


def _is_known(carriage):
    """Return whether nothing that is told of a carriage is told as unknown."""
    figures = (getattr(carriage, name) for name in type(carriage).model_fields)
    return not any(figure.is_unknown for figure in figures if figure is not None)


def motion_told(carriage):
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
            "head_speed": _measured(METRES_PER_SECOND, speed, f"{speed:.2f} m/s {n}"),
            "turnaround": _measured(MINUTES, turn, f"{60 * turn:.1f} s {n}"),
        }
    )


def _measured(dimension, value, text):
    unit, kind, bounds = dimension.unit, dimension.kind, dimension.bounds
    return Quantity(value, value, value, unit, kind, "measured", bounds, text)


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
