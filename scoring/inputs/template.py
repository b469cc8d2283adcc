"""A template of many buyers: a brief, and how buyers differ from it."""

from typing import Annotated

from pydantic import Field, PlainValidator

from scoring.inputs import kinds
from scoring.inputs.brief import Brief
from scoring.inputs.records import Record

MOST_DIFFERENCES = 12
MOST_CHOICES = 8

Anything = Annotated[object, PlainValidator(lambda written: written)]
Range = Annotated[
    object,
    PlainValidator(lambda written: written),
    Field(json_schema_extra={"type": ["string", "number"]}),
]


class ChosenBy(Record):
    """One of several things of which each buyer has one."""

    value: Anything
    share: kinds.Share
    called: kinds.Name | None = None


class Varied(Record):
    """In what buyers differ: figures of the brief that move together."""

    name: kinds.Name
    key: kinds.Text | None = None
    keys: Annotated[tuple[kinds.Text, ...], kinds.up_to(50, "keys")] = ()
    between: Range | None = None
    times: Range | None = None
    evenly: kinds.StrictBool = False  # else most are near the likely one
    one_of: Annotated[tuple[ChosenBy, ...], kinds.up_to(MOST_CHOICES, "choices")] = ()

    @property
    def written_keys(self):
        """The keys as they were written, one or many."""
        return (*(() if self.key is None else (self.key,)), *self.keys)

    @property
    def way(self):
        """The way in which it is stated: between, times, one_of; None if not one."""
        ways = ("between", "times", "one_of")
        said = [name for name in ways if name in self.model_fields_set]
        return said[0] if len(said) == 1 else None


class GoTogether(Record):
    """Two differences that go together, or against each other."""

    of: tuple[kinds.Name, kinds.Name]
    correlation: Annotated[
        kinds.Finite, Field(ge=-0.99, le=0.99, description="from -0.99 to 0.99")
    ]


class Buyers(Record):
    """How the buyers differ."""

    differ: Annotated[
        tuple[Varied, ...],
        Field(
            min_length=2,
            max_length=MOST_DIFFERENCES,
            description=f"2 to {MOST_DIFFERENCES} differences",
        ),
    ]
    together: Annotated[tuple[GoTogether, ...], kinds.up_to(66, "pairs")] = ()


class Template(Brief):
    """A brief with `buyers:`, which say how many buyers differ from it."""

    buyers: Buyers = Field(description="differ, and together where some do")
