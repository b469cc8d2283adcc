"""Prices by size, band by band: one more or one less, in order whatever is typed."""

from scoring.inputs.case.edit import REMOVED, at
from scoring.inputs.dimensions import SQUARE_METRES
from scoring.inputs.quantity import Wrong


def band_added(data, path, up_to, per_m2):
    """Return {path: value} of a price with one more band, {} where nothing is told.

    The first one leaves what was asked for an area to all that is larger.

    Parameters
    ----------
    data : of the brief
    path : where the price stands
    up_to, per_m2 : as a file has them
    """
    held = at(data, f"{path}.bands", [])
    new = {"up_to": up_to, "per_m2": per_m2}
    if not held:
        rest = at(data, f"{path}.per_m2", per_m2)
        return {f"{path}.bands": [new, {"per_m2": rest}]}
    *ended, last = held
    bands = sorted([*ended, new], key=_end)
    return {f"{path}.bands": [*bands, last]}


def band_taken(data, path, n):
    """Return {path: value} of a price without its n-th band.

    The last one has no end then either; where one alone is left it is the price of all.
    """
    bands = [dict(each) for each in at(data, f"{path}.bands", [])]
    del bands[n : n + 1]
    if len(bands) == 1:
        return {f"{path}.per_m2": bands[0]["per_m2"], f"{path}.bands": REMOVED}
    bands[-1].pop("up_to", None)
    return {f"{path}.bands": bands}


def _end(band):
    """Return the size up to which a band goes, 0 where it cannot be read."""
    try:
        return SQUARE_METRES.parse(band["up_to"]).likely or 0.0
    except (Wrong, KeyError):
        return 0.0
