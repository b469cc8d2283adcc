"""What a buyer could do besides buying a new machine: `also:` of a brief."""

from typing import Annotated, Literal

from pydantic import Field

from scoring.inputs import kinds
from scoring.inputs.dimensions import FACTOR, SHARE
from scoring.inputs.quantity import STATED
from scoring.inputs.records import Record

INCLUDED = ("ink", "wear")


class HireOperator(Record):
    """Somebody with a machine does the job; the buyer sells and oversees it."""

    per_job: kinds.Money


class RentByDay(Record):
    """A machine for a day; the buyer runs it."""

    per_day: kinds.Money
    includes: tuple[Literal[INCLUDED], ...] = ()


class UsedMachine(Record):
    """A machine that somebody had before, like one of the sheets; no warranty."""

    machine: kinds.Name  # the sheet that it is like
    price: kinds.Money
    age: kinds.Number  # years
    # times as many stoppages as a new one: own estimate, no source
    stoppages: kinds.Factor = Field(default_factory=lambda: FACTOR.parse("1.5", STATED))


class Waiting(Record):
    """How long the decision may take, and what becomes of prices meanwhile."""

    months: Annotated[kinds.StrictInt, Field(ge=0, le=24)] = 6
    # of the price, in a year: own estimate for a young market, no source
    cheaper: kinds.Share = Field(default_factory=lambda: SHARE.parse("5 %", STATED))


class Also(Record):
    """Ways to work, or to wait, without buying now."""

    hire: HireOperator | None = None
    rent: RentByDay | None = None
    used: Annotated[tuple[UsedMachine, ...], Field(max_length=10)] = ()
    wait: Waiting = Field(default_factory=Waiting)
