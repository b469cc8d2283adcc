"""Frozen records whose attributes are the keys of a file."""

import typing

from pydantic import BaseModel, ConfigDict, PrivateAttr

from scoring.inputs.dimensions import Dimension


class Record(BaseModel):
    """A frozen record whose attributes are the keys of the file."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)


class Sheet(Record):
    """A record that is a whole file, and knows where it came from."""

    _document: object = PrivateAttr(default=None)

    def keep(self, document):
        """Return this record with the document that it was read from."""
        self._document = document
        return self

    @property
    def source(self):
        """The file's name."""
        return self._document.name if self._document else ""

    @property
    def text(self):
        """The YAML as it was read."""
        return self._document.text if self._document else ""

    def line_of(self, path):
        """Return the line on which a dotted path stands, or its nearest parent."""
        return self._document.line_of(path.split(".")) if self._document else 1


def dimension_of(model, path):
    """Return the Dimension of the figure that may stand at a dotted path of a record.

    Examples
    --------
    >>> from scoring.inputs.machine import Machine
    >>> dimension_of(Machine, "pieces.0.mass").unit
    'kg'
    """
    here, found = model, None
    for key in path.split("."):
        if isinstance(here, type) and issubclass(here, BaseModel):
            field = here.model_fields[key]
            here, found = _inside(field.annotation, field.metadata)
        else:  # a list's place or a mapping's key
            here, found = _inside(typing.get_args(here)[-1 if _is_map(here) else 0])
    return found


def with_value(record, path, value):
    """Return a record of records with another value at a dotted path.

    Examples
    --------
    >>> from scoring.inputs.also import Also
    >>> with_value(Also(), "wait.months", 3).wait.months
    3
    """
    key, _, rest = path.partition(".")
    if isinstance(record, BaseModel):
        inner = with_value(getattr(record, key), rest, value) if rest else value
        return record.model_copy(update={key: inner})
    if isinstance(record, dict):
        return record | {key: with_value(record[key], rest, value) if rest else value}
    inner = with_value(record[int(key)], rest, value) if rest else value
    return (*record[: int(key)], inner, *record[int(key) + 1 :])


def _is_map(annotation):
    return typing.get_origin(annotation) is dict


def _inside(annotation, metadata=()):
    """Return (the type under annotations, the Dimension among them or None)."""
    metadata = list(metadata)
    while not _is_list_or_map(annotation) and typing.get_args(annotation):
        metadata += getattr(annotation, "__metadata__", ())
        annotation = typing.get_args(annotation)[0]
    found = (each for each in metadata if isinstance(each, Dimension))
    return annotation, next(found, None)


def _is_list_or_map(annotation):
    return typing.get_origin(annotation) in (dict, tuple)
