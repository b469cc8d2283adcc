"""Figures with ranges and a basis, and how far a figure of each basis may be off."""

import math
import re
from dataclasses import dataclass
from difflib import get_close_matches

from scoring.errors import SHOWN, ScoringError
from scoring.inputs.claims_table import claimed_ranges

BASES = ("measured", "quoted", "estimated", "unknown")
UNKNOWN = "unknown"
STATED = "stated"  # the buyer's own figure: a decision or a fact, taken as written
# Shares (low, likely, high) around one figure, by basis and kind; own estimate, no
# source. Those of sellers' claims stand in a table of their own: claims.yaml.
SPREADS = {
    STATED: {"": (0.0, 0.0, 0.0)},
    "measured": {"": (-0.05, 0.0, 0.05), "mass": (-0.02, 0.0, 0.02)},
    "estimated": {"": (-0.30, 0.0, 0.30)},
}
KINDS = ("time", "speed", "life", "ink", "mass", "price", "length", "share", "number")
KINDS += ("rating",)
MONEY_TEXT = re.compile(r"([A-Z]{3})(?:\s*/\s*(.+))?")


class Wrong(ScoringError, ValueError):
    """A figure that cannot be read: what is wrong with it, and what is allowed."""

    def __init__(self, what, allowed):
        super().__init__(f"{what}; {allowed}")
        self.what, self.allowed = what, allowed


@dataclass(frozen=True)
class Quantity:
    """One figure as it was written: low, likely, high in `unit`, None when unknown."""

    low: float | None
    likely: float | None
    high: float | None
    unit: str
    kind: str
    basis: str = "estimated"
    bounds: tuple[float, float] = (0.0, math.inf)
    text: str = ""
    as_of: str = ""
    note: str = ""

    @property
    def is_unknown(self):
        return self.basis == UNKNOWN

    @property
    def is_range(self):
        return not self.is_unknown and self.low < self.high

    @property
    def is_explicit(self):
        """Whether a range was written, even one without any width."""
        return self.is_range or (not self.is_unknown and ".." in self.text)

    def within_bounds(self, ends):
        """Return figures no lower and no higher than the field allows."""
        least, most = self.bounds
        return tuple(min(max(end, least), most) for end in ends)

    @property
    def currency(self):
        """The ISO code of a sum of money, else None."""
        found = MONEY_TEXT.fullmatch(self.unit)
        return found[1] if found else None


def nearest(name, known):
    """Return ", did you mean …?" where a known name is near, else ""."""
    if len(str(name)) > SHOWN:  # nobody's slip, and dear to compare
        return ""
    near = [str(k) for k in known if len(str(k)) <= SHOWN]
    found = get_close_matches(str(name), near, n=1, cutoff=0.6)
    return f", did you mean {found[0]!r}?" if found else ""


CENTIMETRE = 0.01  # to which a measured length is known


def spread(quantity, trust=None, sellers=None):
    """Return (low, likely, high) of a known figure: its range, or that of its basis.

    Parameters
    ----------
    trust : {basis: {kind: (low, likely, high) shares}}, optional
        Replaces the spreads of single figures; explicit ranges are left alone.
    sellers : (low, likely, high) shares by which a seller's figure may be off, optional
        Where the figure errs to another side than its kind does.

    Examples
    --------
    >>> from scoring.inputs.dimensions import MINUTES
    >>> spread(MINUTES.parse({"value": "20 min", "basis": "quoted"}))
    (19.0, 23.0, 32.0)
    >>> spread(MINUTES.parse("20..24..40 min"))
    (20.0, 24.0, 40.0)
    """
    if quantity.is_explicit:
        return quantity.low, quantity.likely, quantity.high
    by_kind = _by_kind(quantity.basis)
    shares = by_kind.get(quantity.kind, by_kind[""])
    if quantity.basis == "quoted" and sellers is not None:
        shares = sellers
    told = (trust or {}).get(quantity.basis, {}).get(quantity.kind)
    shares = shares if told is None else told
    ends = sorted(quantity.likely * (1 + share) for share in shares)
    if (quantity.basis, quantity.unit, told) == ("measured", "m", None):
        off = min(CENTIMETRE, quantity.likely * shares[-1])  # of a head gap, less
        ends = [quantity.likely - off, quantity.likely, quantity.likely + off]
    return quantity.within_bounds(ends)


def _by_kind(basis):
    """Return {kind: shares} of a basis."""
    if basis == "quoted":
        return claimed_ranges()
    return SPREADS[basis]


def pert_mean(low, likely, high):
    """Return the mean of a Beta-PERT range (λ = 4).

    Source
    ------
    Malcolm, Roseboom, Clark & Fazar (1959), Operations Research 7(5), 646–669,
    doi:10.1287/opre.7.5.646.

    Examples
    --------
    >>> pert_mean(6, 9, 18)
    10.0
    """
    return (low + 4 * likely + high) / 6


def parts_of(record):
    """Return {key: what stands there} of a record, a mapping or a list."""
    if isinstance(record, dict):
        return {str(key): value for key, value in record.items()}
    if isinstance(record, tuple | list):
        return {str(k): value for k, value in enumerate(record)}
    names = getattr(type(record), "model_fields", {})
    return {name: getattr(record, name) for name in names}


def quantities_of(record, path=""):
    """Yield (dotted path, Quantity) of every figure in a record."""
    for key, value in parts_of(record).items():
        here = f"{path}{key}"
        if isinstance(value, Quantity):
            yield here, value
        else:
            yield from quantities_of(value, f"{here}.")


def quantity_at(record, path):
    """Return the Quantity at a dotted path, None where there is none."""
    for key in path.split("."):
        record = parts_of(record).get(key)
    return record if isinstance(record, Quantity) else None
