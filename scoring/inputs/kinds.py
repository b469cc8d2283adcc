"""The kinds of fields that machine sheets and briefs are made of, one type each."""

import re
from typing import Annotated

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainValidator,
    StrictBool,
    StrictInt,
    StringConstraints,
    WithJsonSchema,
)

from scoring.errors import shown
from scoring.inputs.dimensions import (
    AREA_SPEED,
    BLANK_SHARE,
    CUBIC_METRES,
    DAYS,
    DECIBELS,
    FACTOR,
    IDLE_DAYS,
    INK_USE,
    INTENSITY,
    JOBS_PER_MONTH,
    KILOGRAMS,
    KILOMETRES,
    KM_PER_HOUR,
    LIFE_JOBS,
    LIFE_M2,
    LIFE_MONTHS,
    MARGIN,
    METRES,
    METRES_PER_SECOND,
    MILLILITRES,
    MINUTES,
    MONEY,
    MONEY_PER_HOUR,
    MONEY_PER_KM,
    MONEY_PER_LITRE,
    MONEY_PER_M2,
    MONEY_PER_YEAR,
    MONTHS,
    NUMBER,
    PRINT_SIDE,
    RAIL,
    RATE,
    RATING,
    SHARE,
    SQUARE_METRES,
    STRIP_WIDTH,
    TIME_PER_M2,
    WATTS,
    WEEK_DAYS,
    WORK_HOURS,
    WORKING_DAY,
    YEAR_WEEKS,
)
from scoring.inputs.quantity import STATED, UNKNOWN, Quantity, Wrong

LARGEST = 1e12  # of plain numbers; beyond it arithmetic loses its digits
FEATURE = r"[a-z][a-z0-9_]*"


def measured_in(dimension):
    """Return the field type of a figure of one dimension."""

    def read(written, info):
        if isinstance(written, Quantity):
            return written
        is_buyers_own = (info.context or {}).get("is_buyers_own")
        quantity = dimension.parse(written, STATED if is_buyers_own else "estimated")
        if quantity.is_unknown and is_buyers_own:
            raise Wrong("unknown", f"{dimension.allowed}; a range where it is not sure")
        return quantity

    schema = WithJsonSchema(dimension.json_schema())
    return Annotated[Quantity, PlainValidator(read), schema, dimension]


def unknown(dimension):
    """Return the default of an optional figure that is not 0 when nobody tells it."""
    return Field(default_factory=lambda: dimension.unknown)


def _known_or_none(written):
    return None if written == UNKNOWN else written


def _pass_mode(written):
    """Return a key of the speed table as a number of passes."""
    if not re.fullmatch(r"[1-9]\d?", str(written)):
        raise Wrong(f"{shown(written)} is no pass mode", "passes from 1 to 99")
    return int(written)


def _number(written):
    """Return a plain, finite number; text and true/false are none."""
    is_number = isinstance(written, int | float) and not isinstance(written, bool)
    if not is_number or not abs(written) <= LARGEST:
        raise Wrong(
            f"{shown(written)} is not a number", "digits, with a point if needed"
        )
    return float(written)


def _share_of_change(written):
    """Return a change such as −5 % as a decimal; it may be below 0."""
    found = re.fullmatch(r"([+-]?\d+(?:\.\d+)?) ?%", str(written))
    change = float(found[1]) / 100 if found else _number(written)
    if not -1 < change <= 10:
        raise Wrong(f"{shown(written)} is no change", "above -100 %, such as -5 %")
    return change


def _one_line(name):
    """Return a name that stands on one line and begins with what can be seen."""
    if "\n" in name or "\t" in name:
        raise Wrong(
            f"{shown(name)} has a line break or tab in it", "a name on one line"
        )
    if not name.strip():
        raise Wrong("is blank", "a name")
    return name


def _name_or_names(written):
    """Return one criterion, or a tuple of those that share a place."""
    entries = written if isinstance(written, list | tuple) else [written]
    for name in entries:
        if not isinstance(name, str) or not re.fullmatch(FEATURE, name):
            raise Wrong(
                f"{shown(name)} is no criterion", "an id such as odour, or a list"
            )
    return written if isinstance(written, str) else tuple(written)


def told_or_unknown(written, model):
    """Return a sub-record of which every figure is unknown, where `unknown` stands."""
    if written != UNKNOWN:
        return written
    fields = model.model_fields.items()
    return {name: UNKNOWN for name, field in fields if field.is_required()}


Minutes = measured_in(MINUTES)
Metres = measured_in(METRES)
StripWidth = measured_in(STRIP_WIDTH)
RailLength = measured_in(RAIL)
SquareMetres = measured_in(SQUARE_METRES)
CubicMetres = measured_in(CUBIC_METRES)
Kilograms = measured_in(KILOGRAMS)
Millilitres = measured_in(MILLILITRES)
InkUse = measured_in(INK_USE)
AreaSpeed = measured_in(AREA_SPEED)
LifeArea = measured_in(LIFE_M2)
LifeJobs = measured_in(LIFE_JOBS)
LifeMonths = measured_in(LIFE_MONTHS)
MetresPerSecond = measured_in(METRES_PER_SECOND)
KmPerHour = measured_in(KM_PER_HOUR)
Kilometres = measured_in(KILOMETRES)
Days = measured_in(DAYS)
IdleDays = measured_in(IDLE_DAYS)
Watts = measured_in(WATTS)
Decibels = measured_in(DECIBELS)
Share = measured_in(SHARE)
WorkingDay = measured_in(WORKING_DAY)
WorkHours = measured_in(WORK_HOURS)
WeekDays = measured_in(WEEK_DAYS)
YearWeeks = measured_in(YEAR_WEEKS)
Margin = measured_in(MARGIN)
BlankShare = measured_in(BLANK_SHARE)
PrintSide = measured_in(PRINT_SIDE)
JobsPerMonth = measured_in(JOBS_PER_MONTH)
Months = measured_in(MONTHS)
Factor = measured_in(FACTOR)
Rate = measured_in(RATE)
Number = measured_in(NUMBER)
Rating = measured_in(RATING)
Intensity = measured_in(INTENSITY)
Money = measured_in(MONEY)
TimePerM2 = measured_in(TIME_PER_M2)
MoneyPerM2 = measured_in(MONEY_PER_M2)
MoneyPerLitre = measured_in(MONEY_PER_LITRE)
MoneyPerHour = measured_in(MONEY_PER_HOUR)
MoneyPerKm = measured_in(MONEY_PER_KM)
MoneyPerYear = measured_in(MONEY_PER_YEAR)
Name = Annotated[
    str,
    StringConstraints(strict=True, min_length=1, max_length=300),
    AfterValidator(_one_line),
]
Text = Annotated[str, StringConstraints(strict=True, max_length=2000)]


def up_to(most, what):
    """Return the field of a list or mapping that holds so many of something at most."""
    return Field(max_length=most, description=f"{most} {what} or fewer")


Key = Annotated[
    str, StringConstraints(strict=True, max_length=100, pattern=r"^[a-z][a-z0-9_.]*$")
]
Feature = Annotated[
    str, StringConstraints(strict=True, max_length=60, pattern=f"^{FEATURE}$")
]
Finite = Annotated[float, BeforeValidator(_number)]
NotNegative = Annotated[Finite, Field(ge=0)]
TwelveMonths = Annotated[
    tuple[NotNegative, ...],
    Field(min_length=12, max_length=12, description="twelve numbers, January first"),
]
Positive = Annotated[Finite, Field(gt=0)]
Change = Annotated[
    float,
    BeforeValidator(_share_of_change),
    WithJsonSchema({"type": ["string", "number"], "examples": ["-5 %", "60 %"]}),
]
NameOrNames = Annotated[
    object,
    PlainValidator(_name_or_names),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string"},
                {"type": "array", "items": {"type": "string"}},
            ]
        }
    ),
]
Currency = Annotated[str, StringConstraints(strict=True, pattern=r"^[A-Z]{3}$")]
Count = Annotated[StrictInt, Field(ge=1, le=1000)]
PassMode = Annotated[int, BeforeValidator(_pass_mode)]
Passes = Annotated[StrictInt, Field(ge=1, le=99)]
YesNo = Annotated[
    StrictBool | None,
    BeforeValidator(_known_or_none),
    WithJsonSchema({"enum": [True, False, UNKNOWN]}),
]
