"""YAML with line numbers.

YAML 1.2 core rules: only true and false are booleans; no octal, no sexagesimal, no
timestamps; no aliases, merge keys or tags. Keys are text.
"""

import re
from dataclasses import dataclass

import yaml

from scoring.errors import InputFault, InputFaults, is_hidden, shown

# libyaml reads eight times as fast. What it refuses is read again in Python, whose
# words are plainer and which reads \ud800, of which a sentence of ours is told.
QUICK = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
MAX_BYTES = 256_000
MAX_DEPTH = 20
LIKE = "a few hundred, as in the examples"
MAX_ENTRIES = 200  # of one list
MAX_VALUES = 10_000  # in a file; a large brief has about 1,000
# A leading zero makes a text: 012 is nowhere silently 12 or, as octal, 10.
INTEGER = re.compile(r"[-+]?(0|[1-9][0-9]*)")
FLOAT = re.compile(r"[-+]?(\.[0-9]+|(0|[1-9][0-9]*)(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
INFINITE = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")
CONSTANTS = {"true": True, "True": True, "TRUE": True, "false": False}
CONSTANTS |= {"False": False, "FALSE": False, "null": None, "Null": None, "~": None}
CONSTANTS |= {"NULL": None, "": None}
FIGURE_START = re.compile(r"-?\d+(\.\d+)?")
KINDS = {dict: "a mapping", list: "a list", str: "a text", bool: "true or false"}
KINDS |= {int: "a number", float: "a number", type(None): "nothing"}


@dataclass(frozen=True)
class Document:
    """What a YAML file says, and the line on which each key stands."""

    name: str
    text: str
    data: dict
    lines: dict  # path as a tuple of keys and places → line

    def line_of(self, path):
        """Return the line of a path (tuple), or of the nearest part that is there."""
        path = tuple(str(key) for key in path)
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


def read_yaml(data, name):
    """Return (Document, faults): what can be read, and what is wrong with the rest.

    Raises
    ------
    InputFaults
        Where nothing can be read: too large, not UTF-8, tabs, no YAML, no mapping.
    """
    text = _decoded(data, name)
    _check_characters(text, name)
    try:
        root, builder = _built(text, name, QUICK)
    except yaml.YAMLError:
        root, builder = _built_slowly(text, name)
    if not isinstance(root, dict):
        what = f"{KINDS[type(root)]} where a mapping belongs"
        builder.fault(1, (), what, "keys and values as `key: value`")
        raise InputFaults(builder.faults)
    return Document(name, text, root, builder.lines), builder.faults


def _check_characters(text, name):
    """Raise InputFaults for what no YAML holds, and for tabs where spaces belong."""
    if found := yaml.reader.Reader.NON_PRINTABLE.search(text):
        line = text[: found.start()].count("\n") + 1
        what = f"a character that cannot be seen, {found.group()!r}"
        raise InputFaults([InputFault(name, line, "", what, "plain text")])
    tabs = [
        InputFault(name, n, "", "a tab in the indentation", "spaces")
        for n, line in enumerate(text.splitlines(), 1)
        if re.match(r" *\t", line) and line.strip()
    ]
    if tabs:
        raise InputFaults(tabs)


def _built(text, name, loader):
    builder = _Builder(name)
    return builder.document(yaml.parse(text, Loader=loader)), builder


def _built_slowly(text, name):
    builder = _Builder(name)
    try:
        return builder.document(yaml.parse(text, Loader=yaml.SafeLoader)), builder
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else 1
        what = f"is not YAML from here on: {error.problem or error.context}"
        builder.fault(line, (), what, "keys and values as `key: value`")
        raise InputFaults(builder.faults) from None


def _decoded(data, name):
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        what = f"byte {data[error.start]:#04x} is not UTF-8"
        raise InputFaults(
            [InputFault(name, line, "", what, "text saved as UTF-8")]
        ) from None


class _Builder:
    """Data, lines and faults out of YAML events."""

    def __init__(self, name):
        self.name, self.lines, self.faults = name, {}, []
        self.n_values = 0

    def fault(self, line, path, what, allowed):
        self.faults.append(InputFault(self.name, line, dotted(path), what, allowed))

    def end(self, line, path, what, allowed):
        """Read no further: raise what is wrong here, and all that was before."""
        self.fault(line, path, what, allowed)
        raise InputFaults(self.faults)

    def document(self, events):
        """Return the data of the first document."""
        self.events = iter(events)
        data, n_documents = {}, 0
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                n_documents += 1
                if n_documents > 1:
                    line = event.start_mark.line + 1
                    self.fault(line, (), "a second document", "one document a file")
                    return data
                data = self.value(next(self.events), ())
        return {} if data is None else data

    def value(self, event, path):
        """Return what stands at a path."""
        line = event.start_mark.line + 1
        self.lines.setdefault(tuple(path), line)
        self.n_values += 1
        if self.n_values > MAX_VALUES:
            self.end(line, (), f"more than {MAX_VALUES} values", LIKE)
        if isinstance(event, yaml.AliasEvent):
            self.fault(line, path, f"the alias *{event.anchor}", "the value itself")
            return "unknown"
        if event.anchor is not None:
            self.fault(line, path, f"the anchor &{event.anchor}", "no anchors")
        if event.tag is not None:
            self.fault(line, path, f"the tag {shown(event.tag)}", "no tags")
        if isinstance(event, yaml.ScalarEvent):
            self.seen(event, path)
            return _scalar(event)
        if len(path) >= MAX_DEPTH:
            what = f"nested deeper than {MAX_DEPTH} levels"
            self.end(line, (), what, "a few levels, as in the examples")
        if isinstance(event, yaml.SequenceStartEvent):
            return self.sequence(path)
        return self.mapping(path, event.flow_style)

    def seen(self, event, path):
        """Add a fault where a text holds what cannot be seen, or turns it round."""
        hidden = [c for c in event.value if is_hidden(c) and c not in "\n\t"]
        if hidden:
            what = f"a character that cannot be seen, {hidden[0]!r}"
            self.fault(event.start_mark.line + 1, path, what, "plain text")

    def sequence(self, path):
        """Return a list."""
        found = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            if len(found) == MAX_ENTRIES:
                line = event.start_mark.line + 1
                what = f"has more than {MAX_ENTRIES} entries"
                self.end(line, path, what, f"{MAX_ENTRIES} or fewer")
            found.append(self.value(event, (*path, str(len(found)))))
        return found

    def mapping(self, path, is_flow):
        """Return a dict with keys as text."""
        found, last = {}, None
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            line = event.start_mark.line + 1
            if not isinstance(event, yaml.ScalarEvent):
                self.fault(line, path, "a key that is not text", "text")
                self.value(event, (*path, "?"))
                self.value(next(self.events), (*path, "?"))
                continue
            key = event.value
            here = (*path, key)
            self.seen(event, here)
            if key == "<<" and not event.style:
                self.fault(line, here, "a merge key", "the keys themselves")
                self.value(next(self.events), (*path, "?"))
                continue
            is_twice = key in found
            if not is_twice:
                self.lines[here] = line
            value = self.value(
                next(self.events), here if not is_twice else (*path, "?")
            )
            if is_twice:
                what = f"given twice, first on line {self.lines[here]}"
                self.fault(line, here, what, "each key once")
            elif is_flow and value is None and self.is_split(found, last, key):
                written = f"{found[last]},{key}"
                found[last] = mended = _joined(str(found[last]), key)
                what = f"a comma splits values inside {{ }}: {shown(written)}"
                self.fault(line, (*path, last), what, f"write {mended}")
            else:
                found[key] = value
                last = key
        return found

    def is_split(self, found, last, key):
        """Return whether a key is the rest of a figure that a comma cut."""
        before = found.get(last)
        is_figure = FIGURE_START.fullmatch(str(before)) if last else None
        return bool(is_figure and FIGURE_START.match(key))


def _joined(before, after):
    """Return the figure that a comma cut: thousands where three digits follow."""
    is_thousands = re.match(r"\d{3}(?!\d)", after)
    return f"{before}{'' if is_thousands else '.'}{after}"


def _scalar(event):
    """Return a scalar by the YAML 1.2 core schema; quoted ones are text."""
    text = event.value
    if event.style:
        return text
    if text in CONSTANTS:
        return CONSTANTS[text]
    if INTEGER.fullmatch(text) and len(text) < 30:
        return int(text)
    if FLOAT.fullmatch(text) or INFINITE.fullmatch(text):
        return float(text.lower().replace(".inf", "inf").replace(".nan", "nan"))
    return text


def dotted(path):
    return ".".join(str(key) for key in path)
