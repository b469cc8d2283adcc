"""A prediction that was frozen when a machine was bought: a YAML file of its own."""

from typing import Annotated

import yaml
from pydantic import Field

from scoring.inputs import kinds
from scoring.inputs.faults import load
from scoring.inputs.quantity import Wrong
from scoring.inputs.records import Record, Sheet

VERSION = 1
N_QUANTILES = 21  # evenly spaced, from 1/42 to 41/42
PARTS = ("build", "prime", "move", "pack", "carry", "print", "paid", "jobs_a_month")
PARTS += ("days_to_pay", "jobs_between")
HEAD = """\
# A prediction, frozen before the machine was used: python -m scoring lived FILE LOG
# says later how it came out. Change nothing in here.
"""


class PredictedFigure(Record):
    """One figure: its middle and the ends between which it lies in 8 of 10 draws."""

    part: kinds.Name
    kind: kinds.Text = ""  # of job; "" where it is the machine's or the trade's
    unit: kinds.Text = ""
    area: kinds.NotNegative | None = None  # m² of a job, of what goes with the area
    p10: kinds.Finite
    p50: kinds.Finite
    p90: kinds.Finite
    quantiles: Annotated[
        tuple[kinds.Finite, ...], Field(min_length=2, max_length=N_QUANTILES)
    ]


class PredictionFile(Sheet):
    """A machine for a brief, as it was expected on a day."""

    machine: kinds.Name = Field(description="the machine's name")
    title: kinds.Name = Field(description="of the brief")
    frozen: kinds.Text = Field(description="the day")
    version: Annotated[kinds.StrictInt, Field(ge=1, le=VERSION)] = Field(
        description="of this kind of file"
    )
    seed: Annotated[kinds.StrictInt, Field(ge=0)]
    draws: Annotated[kinds.StrictInt, Field(ge=0)]
    inputs: kinds.Text = Field(description="hash of the files behind it")
    currency: kinds.Currency
    figures: dict[kinds.Name, PredictedFigure] = Field(description="by name")


def load_prediction(source):
    """Return the PredictionFile of a path or (name, bytes); InputFaults otherwise."""
    record, document = load(PredictionFile, source, cross_check=_check)
    return record.keep(document)


def _check(record):
    """Return the faults of figures that are no prediction."""
    found = []
    for name, figure in record.figures.items():
        path = ("figures", name)
        if figure.part not in PARTS:
            found.append((path, Wrong(f"part {figure.part!r}", ", ".join(PARTS))))
        rising = (figure.p10, figure.p50, figure.p90), figure.quantiles
        if any(list(ends) != sorted(ends) for ends in rising):
            found.append((path, Wrong("does not rise", "p10, p50, p90 in order")))
    return found


def prediction_text(record):
    """Return the YAML of a PredictionFile."""
    data = record.model_dump()
    data["figures"] = {
        name: {
            key: list(value) if isinstance(value, tuple) else value
            for key, value in figure.items()
            if value not in (None, "")
        }
        for name, figure in data["figures"].items()
    }
    return HEAD + yaml.safe_dump(
        data, sort_keys=False, allow_unicode=True, default_flow_style=None, width=88
    )
