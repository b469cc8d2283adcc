"""Figures written into the text of a sheet; what people wrote around them stays."""

from copy import deepcopy
from io import StringIO


def rewritten(text, before, after):
    """Return the text of a sheet with what differs between its data changed in place.

    Comments, quotes and the order of keys stay as they were written.

    Parameters
    ----------
    text : YAML of a sheet, read before without a fault
    before, after : what it says, and what it shall say; keys are texts
    """
    writer = _writer()
    sheet = writer.load(text)
    _change(sheet, before, after)
    return _dumped(writer, sheet)


def written_anew(data):
    """Return the text of a new sheet or brief; each figure stands on one line.

    Examples
    --------
    >>> print(written_anew({"name": "a", "ink": {"price": "9 EUR/l"}}), end="")
    name: a
    ink: {price: 9 EUR/l}
    """
    return _dumped(_writer(), _by_line(data))


def _writer():
    from ruamel.yaml import YAML  # slow to import

    writer = YAML()
    writer.preserve_quotes = True
    writer.width = 1_000  # a line that was long stays one line
    writer.indent(mapping=2, sequence=4, offset=2)
    return writer


def _dumped(writer, sheet):
    out = StringIO()
    writer.dump(sheet, out)
    return out.getvalue()


def _by_line(data):
    """Return data whose innermost mappings, the figures, stand on a line each."""
    if isinstance(data, list):
        return [_by_line(each) for each in data]
    if not isinstance(data, dict):
        return data
    if not any(isinstance(value, dict | list) for value in data.values()):
        return _in_line(data)
    return {key: _by_line(value) for key, value in data.items()}


def _change(node, before, after):
    """Bring a node of the file to what it shall say, branch by branch."""
    keys = _keys(node, before)
    if isinstance(after, dict):
        for key in set(before) - set(after):
            del node[keys[key]]
    elif len(after) < len(before):
        before = _shortened(node, before, after)
        keys = _keys(node, before)
    for key, value in _entries(after):
        place = keys.get(key)
        if place is None:
            _add(node, key, value)
        elif value != before[key]:
            held = node[place]
            if _is_alike(held, before[key], value):
                _change(held, before[key], value)
            else:
                node[place] = _in_line(value)


def _shortened(node, before, after):
    """Take out of a list what is gone from it; return what is left of `before`."""
    n_gone, left = len(before) - len(after), list(before)
    place = 0
    while n_gone and place < len(left):
        if place < len(after) and left[place] == after[place]:
            place += 1
            continue
        del node[place], left[place]
        n_gone -= 1
    for place in range(len(left) - 1, len(after) - 1, -1):
        del node[place], left[place]
    return left


def _entries(data):
    return data.items() if isinstance(data, dict) else list(enumerate(data))


def _keys(node, before):
    """Return {key of the data: key of the file}, where 4 is a number and not a text."""
    if isinstance(before, dict):
        return dict(zip(before, node, strict=True))
    return {n: n for n, _ in enumerate(before)}


def _is_alike(held, before, after):
    kinds = (dict, list)
    return any(
        all(isinstance(x, kind) for x in (held, before, after)) for kind in kinds
    )


def _add(node, key, value):
    if isinstance(node, list):
        node.append(_in_line(value))
    else:
        node[key] = _in_line(value)


def _in_line(value):
    """Return a value as a sheet has it: a figure with its basis stands on one line."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq

    if isinstance(value, dict):
        found = CommentedMap({k: _in_line(v) for k, v in value.items()})
        found.fa.set_flow_style()
        return found
    if isinstance(value, list):
        return CommentedSeq(map(_in_line, value))
    return deepcopy(value)
