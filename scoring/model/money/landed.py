"""What it costs to have a machine standing in the yard, by terms of delivery.

Before tax on profit; customs value, duty and tax bases differ by country and case: ask
an accountant and a customs broker. Money in the brief's currency, above 0 for what is
paid; a quote in another currency is changed before it comes here.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError
from scoring.model.numbers import amount


class Landed(NamedTuple):
    """What the buyer pays, line by line; they sum to the cost; (draw, machine, 1).

    A part that the price already holds is 0 here.
    """

    price: np.ndarray
    export_clearance: np.ndarray  # with carriage and loading in the seller's country
    freight: np.ndarray
    insurance: np.ndarray
    duty: np.ndarray
    import_tax: np.ndarray
    broker: np.ndarray
    inland_freight: np.ndarray  # terminal, and from port or border to the yard
    training: np.ndarray
    accessories: np.ndarray
    vehicle_fitting: np.ndarray


class TermParts(NamedTuple):
    """Names of the lines of Landed: each one stands in one of the three."""

    held: tuple  # the seller pays: the quote's price holds them
    added: tuple  # the buyer pays them on top
    not_asked: tuple  # nobody owes them to the other


class Bases(NamedTuple):
    """What duty and import tax are taken on; (draw, machine, 1)."""

    customs_value: np.ndarray
    import_tax_base: np.ndarray


# the parts on the way, in order; the terms of delivery say nothing of the own ones
_WAY = (
    "export_clearance",
    "freight",
    "insurance",
    "duty",
    "import_tax",
    "broker",
    "inland_freight",
)
_OWN = ("training", "accessories", "vehicle_fitting")
_SELLER_PAYS = {
    "EXW": (),
    "FCA": ("export_clearance",),
    "FOB": ("export_clearance",),
    "CIF": ("export_clearance", "freight", "insurance"),
    "DAP": ("export_clearance", "freight", "inland_freight"),
    "DDP": (
        "export_clearance",
        "freight",
        "duty",
        "import_tax",
        "broker",
        "inland_freight",
    ),
}
# to a named place the seller bears the risk, and insures or not as he likes
_NOT_ASKED = {"DAP": ("insurance",), "DDP": ("insurance",)}
TERMS = tuple(_SELLER_PAYS)
TO_BORDER = "to_border"  # EU and UK: with transport and insurance to the border
WITHOUT_FREIGHT = "without_freight"  # US: without international freight and insurance
CUSTOMS_BASES = (TO_BORDER, WITHOUT_FREIGHT)


def parts_of_terms(terms):
    """Return the TermParts of these terms: who pays for what.

    Parameters
    ----------
    terms : one of TERMS

    Notes
    -----
    CIF holds the least insurance only, and carriage to the port, not to the yard. DAP
    and DDP are taken to name the yard as the place; unloading there is the buyer's.
    Under DDP the seller pays the import tax: who may reclaim it is for an accountant.

    Raises
    ------
    ScoringError
        If the terms are not one of TERMS.

    Source
    ------
    Incoterms 2020 in a secondary summary; the rules themselves were not read, and their
    publisher warns not to rely on a chart alone.

    Examples
    --------
    >>> parts_of_terms("CIF").held
    ('price', 'export_clearance', 'freight', 'insurance')
    >>> parts_of_terms("DAP").added[:3]
    ('duty', 'import_tax', 'broker')
    """
    _check_terms(terms)
    held, not_asked = _SELLER_PAYS[terms], _NOT_ASKED.get(terms, ())
    added = tuple(name for name in _WAY if name not in held + not_asked)
    return TermParts(("price", *held), added + _OWN, not_asked)


def missing(terms, given):
    """Return the names of the lines that the buyer must still ask for, in order.

    Parameters
    ----------
    terms : one of TERMS
    given : names of the lines of Landed whose figure is known; 0 is known too. For duty
        and import tax the rate is the figure.

    Raises
    ------
    ScoringError
        If the terms or a name are unknown.

    Examples
    --------
    >>> missing("DAP", ["price", "duty", "import_tax", "training", "accessories"])
    ('broker', 'vehicle_fitting')
    """
    given = set(given)
    if strange := sorted(given - set(Landed._fields)):
        allowed = ", ".join(Landed._fields)
        raise ScoringError(f"line: {strange[0]!r} is not one; one of {allowed}")
    asked = {"price", *parts_of_terms(terms).added}
    return tuple(name for name in Landed._fields if name in asked - given)


def landed_cost(
    price,
    terms,
    *,
    export_clearance=0.0,
    freight=0.0,
    insurance=0.0,
    duty=0.0,
    import_tax=0.0,
    broker=0.0,
    inland_freight=0.0,
    training=0.0,
    accessories=0.0,
    vehicle_fitting=0.0,
    is_recovered=False,
    customs_basis=TO_BORDER,
    is_broker_taxed=True,
):
    """Return the Landed lines of a machine.

    Parameters
    ----------
    price : shape (draw, machine, 1); currency, what the quote asks under its terms
    terms : one of TERMS, or an array of them that broadcasts, as (1, machine, 1)
    export_clearance … vehicle_fitting : broadcast to price; currency, 0 or more
        Of a part that the price holds, the sum shown within it: it is not paid again,
        and only the customs value looks at it (`bases`).
    duty, import_tax : rates as decimals, 0 or more
    is_recovered : bool; True where the buyer gets the import tax back: its line is then
        0, though the money may be lent for months (`cash.Payment`)
    customs_basis, is_broker_taxed : as in `bases`

    Raises
    ------
    ScoringError
        If terms or basis are unknown, or a figure is below 0 or not finite.

    Examples
    --------
    >>> quote = dict(freight=900.0, duty=0.10, import_tax=0.20)
    >>> lines = landed_cost(10_000.0, "FCA", **quote)
    >>> [round(float(line), 2) for line in (lines.duty, lines.import_tax, sum(lines))]
    [1090.0, 2398.0, 14388.0]
    >>> float(sum(landed_cost(10_000.0, "DDP", **quote)))
    10000.0
    """
    on = bases(
        price,
        terms,
        export_clearance=export_clearance,
        freight=freight,
        insurance=insurance,
        duty=duty,
        broker=broker,
        inland_freight=inland_freight,
        customs_basis=customs_basis,
        is_broker_taxed=is_broker_taxed,
    )
    lines = Landed(
        price,
        export_clearance,
        freight,
        insurance,
        on.customs_value * amount("duty", duty),
        on.import_tax_base * amount("import_tax", import_tax),
        broker,
        inland_freight,
        training,
        accessories,
        vehicle_fitting,
    )
    paid = {
        name: np.where(_is_paid(name, terms), amount(name, line), 0.0)
        for name, line in lines._asdict().items()
    }
    paid["import_tax"] = np.where(is_recovered, 0.0, paid["import_tax"])
    return Landed(*np.broadcast_arrays(*paid.values()))


def bases(
    price,
    terms,
    *,
    export_clearance=0.0,
    freight=0.0,
    insurance=0.0,
    duty=0.0,
    broker=0.0,
    inland_freight=0.0,
    customs_basis=TO_BORDER,
    is_broker_taxed=True,
):
    """Return the Bases of duty and import tax, whoever pays them.

    The customs value is the price with what the buyer adds up to the border, less the
    inland freight that the price holds; where a country leaves international freight
    and insurance out, less those as well. The import tax base is the customs value,
    the duty, the inland freight and the broker. Under DDP a price that holds the duty
    and the tax is not reduced by them: the bases are then too high, and nothing of
    what the buyer pays depends on them.

    Parameters
    ----------
    customs_basis : TO_BORDER (EU, UK) or WITHOUT_FREIGHT (US)
    is_broker_taxed : bool; whether the broker's fee enters the import tax base: ask
    others : as in `landed_cost`

    Raises
    ------
    ScoringError
        As `landed_cost`, and if the parts shown within a price are more than it.

    Source
    ------
    EU Directive 2006/112, art. 85–86, for the import tax base; guidance of the UK and
    of Spain for the customs value, that of US carriers' agents for the US: the
    directive's text was seen, all else in secondary pages.
    """
    _check_terms(terms)
    if customs_basis not in CUSTOMS_BASES:
        allowed = " or ".join(CUSTOMS_BASES)
        raise ScoringError(f"customs basis: {customs_basis!r}; {allowed}")
    inland_freight = amount("inland_freight", inland_freight)
    broker = amount("broker", broker)
    value = amount("price", price) - _within("inland_freight", inland_freight, terms)
    value = value + _on_top("export_clearance", export_clearance, terms)
    for name, sum_ in (("freight", freight), ("insurance", insurance)):
        if customs_basis == TO_BORDER:
            value = value + _on_top(name, sum_, terms)
        else:
            value = value - _within(name, sum_, terms)
    if (value < 0).any():
        raise ScoringError(
            f"customs value: {value.min():g}; the parts shown within a price are more "
            "than the price"
        )
    tax_base = value * (1 + amount("duty", duty)) + inland_freight
    return Bases(value, tax_base + np.where(is_broker_taxed, broker, 0.0))


def _on_top(name, figure, terms):
    """Return the sum where the buyer adds it to the price, else 0."""
    return np.where(_is_paid(name, terms), amount(name, figure), 0.0)


def _within(name, figure, terms):
    """Return the sum where the price holds it, or may hold it, else 0."""
    return np.where(_is_paid(name, terms), 0.0, amount(name, figure))


def _is_paid(name, terms):
    """Return True where the buyer pays the line, in the shape of the terms."""
    terms = np.asarray(terms)
    return _paid(tuple(terms.ravel().tolist()), terms.shape)[name]


@lru_cache(maxsize=64)
def _paid(terms, shape):
    """Return {line: bool of this shape}; the terms of the sheets seldom change."""
    added = [parts_of_terms(each).added for each in terms]
    return {
        name: np.array([name == "price" or name in of for of in added]).reshape(shape)
        for name in Landed._fields
    }


def _check_terms(terms):
    strange = np.setdiff1d(np.asarray(terms), TERMS)
    if strange.size:
        allowed = ", ".join(TERMS)
        raise ScoringError(f"terms: {str(strange[0])!r}; one of {allowed}")
