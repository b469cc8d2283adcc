"""The kinds of fields that machine sheets and briefs are made of, one type each."""

import re
from typing import Annotated

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    PrivateAttr,
    StrictBool,
    StrictInt,
    StringConstraints,
    WithJsonSchema,
)

from scoring.inputs import quantities as q
from scoring.inputs.quantities import STATED, UNKNOWN, Quantity, Wrong, shown

LARGEST = 1e12  # of plain numbers; beyond it arithmetic loses its digits
FEATURE = r"[a-z][a-z0-9_]*"


class Record(BaseModel):
    """A frozen record whose attributes are the keys of the file."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)


class Sheet(Record):
    """A record that is a whole file, and knows where it came from."""

    _document: object = PrivateAttr(default=None)

    def keep(self, document):
        """Return this record with the document that it was read from."""
        self._document = document
        return self

    @property
    def source(self):
        """The file's name."""
        return self._document.name if self._document else ""

    @property
    def text(self):
        """The YAML as it was read."""
        return self._document.text if self._document else ""

    def line_of(self, path):
        """Return the line on which a dotted path stands, or its nearest parent."""
        return self._document.line_of(path.split(".")) if self._document else 1


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


Minutes = measured_in(q.MINUTES)
Metres = measured_in(q.METRES)
StripWidth = measured_in(q.STRIP_WIDTH)
RailLength = measured_in(q.RAIL)
SquareMetres = measured_in(q.SQUARE_METRES)
CubicMetres = measured_in(q.CUBIC_METRES)
Kilograms = measured_in(q.KILOGRAMS)
Millilitres = measured_in(q.MILLILITRES)
InkUse = measured_in(q.INK_USE)
AreaSpeed = measured_in(q.AREA_SPEED)
LifeArea = measured_in(q.LIFE_M2)
LifeJobs = measured_in(q.LIFE_JOBS)
LifeMonths = measured_in(q.LIFE_MONTHS)
MetresPerSecond = measured_in(q.METRES_PER_SECOND)
KmPerHour = measured_in(q.KM_PER_HOUR)
Kilometres = measured_in(q.KILOMETRES)
Days = measured_in(q.DAYS)
IdleDays = measured_in(q.IDLE_DAYS)
Watts = measured_in(q.WATTS)
Decibels = measured_in(q.DECIBELS)
Share = measured_in(q.SHARE)
WorkingDay = measured_in(q.WORKING_DAY)
WeekDays = measured_in(q.WEEK_DAYS)
YearWeeks = measured_in(q.YEAR_WEEKS)
Margin = measured_in(q.MARGIN)
BlankShare = measured_in(q.BLANK_SHARE)
PrintSide = measured_in(q.PRINT_SIDE)
JobsPerMonth = measured_in(q.JOBS_PER_MONTH)
Months = measured_in(q.MONTHS)
Factor = measured_in(q.FACTOR)
Rate = measured_in(q.RATE)
Number = measured_in(q.NUMBER)
Rating = measured_in(q.RATING)
Intensity = measured_in(q.INTENSITY)
Money = measured_in(q.MONEY)
MoneyPerM2 = measured_in(q.MONEY_PER_M2)
MoneyPerLitre = measured_in(q.MONEY_PER_LITRE)
MoneyPerHour = measured_in(q.MONEY_PER_HOUR)
MoneyPerKm = measured_in(q.MONEY_PER_KM)
MoneyPerYear = measured_in(q.MONEY_PER_YEAR)
Name = Annotated[str, StringConstraints(strict=True, min_length=1, max_length=300)]
Text = Annotated[str, StringConstraints(strict=True, max_length=2000)]
Feature = Annotated[str, StringConstraints(strict=True, pattern=f"^{FEATURE}$")]
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
