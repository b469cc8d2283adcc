"""One figure as written: low, likely, high, and why."""

from dataclasses import dataclass

import numpy as np

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


def evidence(owner, path, quantity, brief, note=""):
    """Return the figure with its range; an unknown one still without."""
    none, told = (np.nan, np.nan, np.nan), quantity.likely
    low, likely, high = none if quantity.is_unknown else spread(quantity, brief.trust)
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


def in_brief_currency(evidence, found, brief):
    """Return what one unit of the figure's currency is in the brief's, likely value."""
    if evidence.currency in (None, brief.currency):
        return 1.0
    return found["brief", f"exchange.{evidence.currency}"].likely
