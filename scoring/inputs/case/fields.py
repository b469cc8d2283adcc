"""The fields of a brief or a sheet as a form has them, out of the records."""

import re
import types
import typing
from dataclasses import dataclass

from pydantic import BaseModel

from scoring.inputs.case.edit import REMOVED, at, with_figure
from scoring.inputs.case.typed import BARE, NOT_TOLD, figure_of, unit_of
from scoring.inputs.dimensions import Dimension
from scoring.inputs.kinds import StrictBool, StrictInt
from scoring.inputs.quantity import UNKNOWN, Wrong

FIGURE, TEXT, CHOICE, YES_NO, WHOLE = "figure", "text", "choice", "yes or no", "whole"
NAMES, NUMBERS, NUMBER, CHANGES = "names", "numbers", "number", "changes"
YES, NO = "yes", "no"
CHOICES = (CHOICE, YES_NO)
MINUS = "−"
APART = "  "  # between numbers, where a comma may stand for a point
TO = " – "  # between the ends of a range, as a form shows it


@dataclass(frozen=True)
class FormField:
    """One field of a form: where it stands, and what may be typed."""

    path: str
    kind: str
    dimension: Dimension | None = None
    choices: tuple[str, ...] = ()
    is_required: bool = False

    def unit(self, currency):
        """Return the unit of a bare number, "" where there is none."""
        return unit_of(self.dimension, currency) if self.dimension else ""


def fields_of(model, path=""):
    """Return the FormFields of a record, those of records in it too, in its order.

    Lists and mappings of records have forms of their own and are left out.

    Examples
    --------
    >>> from scoring.inputs.brief import WorkingTime
    >>> [(f.path, f.kind) for f in fields_of(WorkingTime)][:2]
    [('hours_per_day', 'figure'), ('days_per_week', 'figure')]
    """
    found = []
    for name, field in model.model_fields.items():
        here = f"{path}{name}"
        inner, metadata = _bare(field.annotation, field.metadata)
        kind, dimension, choices = _kind(inner, metadata)
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            found += fields_of(inner, f"{here}.")
        elif kind:
            found.append(FormField(here, kind, dimension, choices, field.is_required()))
    return tuple(found)


def _bare(annotation, metadata=()):
    """Return (the type under annotations and `| None`, all metadata)."""
    metadata = list(metadata)
    while True:
        origin = typing.get_origin(annotation)
        if origin is typing.Annotated:
            metadata += annotation.__metadata__
            annotation = typing.get_args(annotation)[0]
        elif origin in (typing.Union, types.UnionType):
            rest = [x for x in typing.get_args(annotation) if x is not type(None)]
            annotation = rest[0]
        else:
            return annotation, metadata


def _kind(inner, metadata):
    """Return (kind of field, its Dimension, its choices); kind "" for none of them."""
    dimension = next((each for each in metadata if isinstance(each, Dimension)), None)
    if dimension is not None:
        return FIGURE, dimension, ()
    if typing.get_origin(inner) is typing.Literal:
        return CHOICE, None, tuple(map(str, typing.get_args(inner)))
    if inner in (bool, _bare(StrictBool)[0]):
        return YES_NO, None, (YES, NO)
    if inner in (int, _bare(StrictInt)[0]):
        return WHOLE, None, ()
    if inner is float:
        return NUMBER, None, ()
    if inner is str:
        return TEXT, None, ()
    if typing.get_origin(inner) is tuple:
        of = _bare(typing.get_args(inner)[0])[0]
        return {str: NAMES, float: NUMBERS}.get(of, ""), None, ()
    return "", None, ()


def shown_in(data, field, path=""):
    """Return what a form shows of a field: the text as it was written; "" for nothing.

    `path` is where the record stands in the data, with a dot at its end.
    """
    held = at(data, f"{path}{field.path}")
    if isinstance(held, dict) and field.kind == FIGURE:
        held = held.get("value", UNKNOWN)
    if held is None:
        return ""
    if isinstance(held, bool):
        return YES if held else NO
    if isinstance(held, float) and field.kind == NUMBER:
        return f"{held:.12g}"
    if isinstance(held, list) and field.kind == CHANGES:
        return APART.join(map(str, held))
    if isinstance(held, list) and field.kind == NUMBERS:
        return APART.join(f"{x:.12g}" if isinstance(x, float) else str(x) for x in held)
    if isinstance(held, list):
        return ", ".join(map(str, held))
    if field.kind == FIGURE and held != UNKNOWN:
        return _figure_shown(held, field.dimension)
    return NOT_TOLD[0] if held == UNKNOWN else str(held)


def _figure_shown(held, dimension):
    """Return a figure as it was written; a share without a sign in per cent."""
    text = f"{held:.12g}" if isinstance(held, float) else str(held).strip()
    if dimension.unit == "share" and BARE.fullmatch(text):
        ends = (f"{100 * float(end):.12g}" for end in text.split(".."))
        text = f"{'..'.join(ends)} %"
    return text.replace("..", TO)


def change_of(data, field, typed, currency, path="", **about):
    """Return {dotted path: value or REMOVED}, the change that a form's entry asks for.

    Empty where nothing changes: what is shown and left alone is not written anew. A
    figure keeps its basis, date and note unless `about` tells others.

    Raises
    ------
    Wrong
        If what was typed is not of the field's kind.
    """
    here = f"{path}{field.path}"
    if isinstance(typed, list | tuple):  # names picked from a list
        return {} if at(data, here, []) == [*typed] else {here: [*typed] or REMOVED}
    entry = str(typed).strip()
    is_same = entry == shown_in(data, field, path)
    if is_same and not any(value is not None for value in about.values()):
        return {}
    if not entry:
        return {here: REMOVED} if at(data, here) is not None else {}
    if field.kind == FIGURE:
        held = at(data, here)
        written = held.get("value") if isinstance(held, dict) else held
        if not is_same:
            written = figure_of(entry, field.dimension, currency)
        return {here: with_figure(written, held, **about)}
    return {here: _value(entry, field)}


def _value(entry, field):
    """Return a text, a choice, a number or a list of names as a file has it."""
    if entry.lower() in NOT_TOLD and field.kind == YES_NO:
        return UNKNOWN
    if field.kind in CHOICES:
        if entry not in field.choices:
            raise Wrong(f"{entry!r} is none of these", ", ".join(field.choices))
        return entry == YES if field.kind == YES_NO else entry
    if field.kind == WHOLE:
        if not entry.isdecimal():
            raise Wrong(f"{entry!r} is no whole number", "digits, such as 2")
        return int(entry)
    if field.kind == NUMBERS:
        return [_number(word) for word in re.split(r"[\s;]+", entry) if word]
    if field.kind == NUMBER:
        return _number(entry)
    if field.kind == CHANGES:
        return _changes(entry)
    if field.kind == NAMES:
        return [name.strip() for name in entry.split(",") if name.strip()]
    return entry


def _changes(entry):
    """Return changes in per cent as a file has them, each with a sign of its own.

    Examples
    --------
    >>> _changes("-5  15 % +60,5 %")
    ['-5 %', '15 %', '+60.5 %']
    """
    entry = entry.replace(MINUS, "-")
    found = re.findall(r"([+-]?\d{1,9}(?:[.,]\d{1,9})?)\s*%?(?=[\s;]|$)", entry)
    rest = re.sub(r"[+-]?\d{1,9}(?:[.,]\d{1,9})?\s*%?(?=[\s;]|$)", "", entry)
    if rest.strip(" ;") or not found:
        raise Wrong(f"{entry!r} are no changes", "three in per cent, such as -5 0 10")
    return [f"{each.replace(',', '.')} %" for each in found]


def _number(word):
    """Return a bare number as typed, with a point or a comma for one."""
    word = word.replace(MINUS, "-")
    if not re.fullmatch(r"-?\d{1,9}(?:[.,]\d{1,9})?", word):
        raise Wrong(
            f"{word!r} is no number", "numbers with a space between, such as 0,8"
        )
    whole = word.replace(",", ".")
    return float(whole) if "." in whole else int(whole)
