"""Changes typed into a form → the text of a brief or sheet, comments and all."""

from copy import deepcopy

from scoring.errors import InputFaults
from scoring.inputs.quantity import UNKNOWN
from scoring.inputs.sheet_writer import rewritten
from scoring.inputs.yaml_lines import read_yaml

REMOVED = object()  # the value of a key that shall be there no more


def data_of(text, name="sheet"):
    """Return what a YAML text says; InputFaults if it cannot be read."""
    document, faults = read_yaml(text.encode("utf-8"), name)
    if faults:
        raise InputFaults(faults)
    return document.data


def at(data, path, default=None):
    """Return what stands at a dotted path of data, `default` where nothing does."""
    for key in path.split("."):
        try:
            data = data[int(key)] if isinstance(data, list) else data[key]
        except (KeyError, IndexError, TypeError, ValueError):
            return default
    return data


def edited(text, changes, in_step=None):
    """Return the text with some values changed; what people wrote around them stays.

    Parameters
    ----------
    text : YAML of a brief or a sheet
    changes : {dotted path: value, or REMOVED}
        Lists are counted from 0; the place after the last adds an entry. Mappings that
        are not there yet are made, those left empty are taken away.
    in_step : function (before, after, changes), optional
        Brings what else has to change with it into step, in place.

    Raises
    ------
    InputFaults
        If the text is no YAML.

    Examples
    --------
    >>> print(edited("a: 1  # why\\nb: {c: 2}\\n", {"a": 3, "b.c": REMOVED}), end="")
    a: 3  # why
    """
    before = data_of(text)
    after = deepcopy(before)
    for path, value in changes.items():
        _put(after, path.split("."), value)
    if in_step is not None:
        in_step(before, after, changes)
    return text if after == before else rewritten(text, before, after)


def _put(data, keys, value):
    """Put a value at keys into data; return whether the data is empty then."""
    key = _key(data, keys[0])
    if len(keys) == 1:
        if value is not REMOVED:
            _set(data, key, value)
        elif isinstance(data, list) or key in data:
            del data[key]
        return not data
    held = _get(data, key)
    if isinstance(held, dict | list):
        if _put(held, keys[1:], value) and value is REMOVED:
            del data[key]
    elif value is not REMOVED:
        inner = {}
        _put(inner, keys[1:], value)
        _set(data, key, inner)
    return not data


def _key(data, key):
    """Return a key as the data has it: a list is counted, speeds go by numbers."""
    return int(key) if isinstance(data, list) else key


def _get(data, key):
    if isinstance(data, list):
        return data[key] if key < len(data) else None
    return data.get(key)


def _set(data, key, value):
    if isinstance(data, list) and key >= len(data):
        data.append(value)
    else:
        data[key] = value


def with_figure(written, held, **about):
    """Return a figure with its basis, date and note; short where it has none.

    Parameters
    ----------
    written : the figure as a file has it
    held : what stood there before, whose basis, date and note stay unless told
    about : basis, as_of, note; None keeps what was there, "" takes it away
    """
    before = held if isinstance(held, dict) else {}
    told = {k: before.get(k, "") for k in ("basis", "as_of", "note")}
    told |= {key: value for key, value in about.items() if value is not None}
    if written == UNKNOWN or told["basis"] == UNKNOWN:
        told["basis"] = ""
    rest = {key: value for key, value in told.items() if value}
    return {"value": written, **rest} if rest else written
