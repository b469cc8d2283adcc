"""One figure as written: low, likely, high, and why."""

from dataclasses import dataclass

import numpy as np

from scoring.evidence.claims import claim_range
from scoring.evidence.sheet_figures import SELLERS_SHARES, SELLERS_STEPS
from scoring.inputs.quantity import spread


@dataclass(frozen=True)
class Evidence:
    """One figure as written: low, likely, high in `unit`, and why."""

    owner: str  # a machine's name, or "brief"
    path: str  # the dotted key, as in the file
    low: float
    likely: float
    high: float
    unit: str
    basis: str
    text: str
    currency: str | None = None
    note: str = ""
    told: float = np.nan  # as it is written, before its basis widens or moves it

    @property
    def is_unknown(self):
        return self.basis == "unknown"


def _spread(owner, path, quantity, brief):
    """Return low, likely and high, a seller's figure to the seller's side.

    What the brief says of trust goes before what was learnt of claims, that before the
    table.
    """
    steps = SELLERS_STEPS.get(path.partition(".")[0])
    told = brief.trust.quoted.get(quantity.kind)
    is_quote = quantity.basis == "quoted" and not quantity.is_explicit
    if steps and is_quote and told is None:
        return quantity.within_bounds([quantity.likely + step for step in steps])
    shares = SELLERS_SHARES.get(path)
    learnt = brief.trust.learnt.get(quantity.kind)
    if shares is None and learnt is not None and is_quote:
        shares = claim_range(learnt, owner)
    return spread(quantity, brief.trust.spreads, shares)


def evidence(owner, path, quantity, brief, note=""):
    """Return the figure with its range; an unknown one still without."""
    none, told = (np.nan, np.nan, np.nan), quantity.likely
    low, likely, high = (
        none if quantity.is_unknown else _spread(owner, path, quantity, brief)
    )
    return Evidence(
        owner,
        path,
        low,
        likely,
        high,
        quantity.unit,
        quantity.basis,
        quantity.text,
        quantity.currency,
        note or quantity.note,
        np.nan if told is None else told,
    )
