"""What was learnt of sellers' claims: a file of its own, or part of a brief."""

from typing import Annotated

import yaml
from pydantic import Field

from scoring.inputs import kinds
from scoring.inputs.faults import load
from scoring.inputs.records import Record, Sheet

LEARNING = (
    "time",
    "speed",
    "life",
    "ink",
    "mass",
    "price",
)  # kinds that a log may tell
RATIO = "timed as a share of claimed, such as 1.1"
SPREAD = "a standard deviation of its logarithm, such as 0.1"
Ratio = Annotated[kinds.Finite, Field(ge=0.001, le=100, description=RATIO)]
Spread = Annotated[kinds.Finite, Field(ge=0, le=10, description=SPREAD)]
HEAD = """\
# Timed as a share of claimed, as learnt from {n} by python -m scoring log.
# Copy a kind into a brief under trust: learnt:, or hand this file to log --priors.
"""


class SellerLearnt(Record):
    """What was learnt of one seller's claims of a kind."""

    ratio: Ratio
    unsure: Spread


class ClaimsLearnt(Record):
    """What was learnt of a kind of claim: ratio, and standard deviations of its log."""

    ratio: Ratio
    unsure: Spread  # of the ratio itself
    between_sellers: Spread
    between_figures: Spread
    seen: Annotated[kinds.StrictInt, Field(ge=0)] = 0  # figures timed
    sellers: Annotated[dict[kinds.Name, SellerLearnt], kinds.up_to(500, "sellers")] = {}


class ClaimsFile(Sheet):
    """Kinds of figure, each with what was learnt of its claims."""

    time: ClaimsLearnt | None = None
    speed: ClaimsLearnt | None = None
    life: ClaimsLearnt | None = None
    ink: ClaimsLearnt | None = None
    mass: ClaimsLearnt | None = None
    price: ClaimsLearnt | None = None

    @property
    def learnt(self):
        """{kind: ClaimsLearnt} of the kinds that are told."""
        found = {kind: getattr(self, kind) for kind in LEARNING}
        return {kind: one for kind, one in found.items() if one is not None}


def load_claims(source):
    """Return the ClaimsFile of a path or (name, bytes); InputFaults with its faults."""
    record, document = load(ClaimsFile, source)
    return record.keep(document)


def claims_data(learnt):
    """Return what was learnt as plain data, for a file or for a brief."""
    return {
        kind: {
            "ratio": round(one.ratio, 4),
            "unsure": round(one.unsure, 4),
            "between_sellers": round(one.between_sellers, 4),
            "between_figures": round(one.between_figures, 4),
            "seen": one.seen,
            "sellers": {
                name: {"ratio": round(s.ratio, 4), "unsure": round(s.unsure, 4)}
                for name, s in one.sellers.items()
            },
        }
        for kind, one in learnt.items()
    }


def claims_text(learnt, of):
    """Return the YAML of a file of claims learnt; `of` says from what."""
    body = yaml.safe_dump(claims_data(learnt), sort_keys=False, allow_unicode=True)
    return HEAD.format(n=of) + body
